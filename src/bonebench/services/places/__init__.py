"""Places: what should be in one, and what a count finds."""
