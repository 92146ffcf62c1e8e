"""Durations that learn from a room's own pieces: a little from three, a lot from thirty."""

from bonebench.science.learning.shrinkage import PRIOR_PIECES, Learned, Prior, shrunk, shrunk_twice

__all__ = ["PRIOR_PIECES", "Learned", "Prior", "shrunk", "shrunk_twice"]
