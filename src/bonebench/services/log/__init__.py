"""Entries go in here: stored, folded, and their state kept."""
