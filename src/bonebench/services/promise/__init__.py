"""Dates that hold so often: a quote for a piece that has not come, promises for those that have, and how promises turned out."""
