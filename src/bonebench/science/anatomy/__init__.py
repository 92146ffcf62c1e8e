"""Anatomy: which teeth an animal has, what each is called, and how a name that was typed is read."""

from bonebench.science.anatomy.dentition import Dentition, Row, counts, numbered, quadrants, teeth_of
from bonebench.science.anatomy.reading import read_tooth
from bonebench.science.anatomy.teeth import JAWS, KINDS, SIDES, Jaw, Kind, Side, Tooth
from bonebench.science.anatomy.triadan import from_triadan, triadan

__all__ = [
    "JAWS", "KINDS", "SIDES", "Dentition", "Jaw", "Kind", "Row", "Side", "Tooth", "counts", "from_triadan", "numbered", "quadrants",
    "read_tooth", "teeth_of", "triadan",
]  # fmt: skip
