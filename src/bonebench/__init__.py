"""Bonebench runs a bone room: the beetles, the baths, and every specimen on its way through them."""

__version__ = "0.1.0"
