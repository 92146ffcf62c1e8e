"""Baths: what to pour, and strengths in every notation."""
