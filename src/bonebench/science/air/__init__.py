"""Air: moist air (`moist`, and `scalar` for compiled loops), the ways through a box (`paths`) and the flows they come to
(`network`)."""
