"""Cautions: which dangers of a mix, a bath, a move or a step a person is told of, where the hand is.

Rows are data (`reference/cautions.toml`); the rules here are pure functions on plain values that pick rows and fill them. Every
answer ends with the row that sends the reader to local codes and licensed practice.
"""

from bonebench.shop.cautions.animals import Animal
from bonebench.shop.cautions.baths import BathFacts, Holds, for_bath, for_mix, for_standing_bath
from bonebench.shop.cautions.boxes import for_box
from bonebench.shop.cautions.colonies import for_colony
from bonebench.shop.cautions.keys import GIVEN, KEYS
from bonebench.shop.cautions.moves import Carried, for_move
from bonebench.shop.cautions.photos import for_photo_of_whitening
from bonebench.shop.cautions.pots import PotCare, for_pot
from bonebench.shop.cautions.rows import DEFER, Caution, Cautioned, CautionRow, Level, Rows, asks_for_a_yes, merged
from bonebench.shop.cautions.steps import RULES, for_step

__all__ = [
    "DEFER",
    "GIVEN",
    "KEYS",
    "RULES",
    "Animal",
    "BathFacts",
    "Carried",
    "Caution",
    "CautionRow",
    "Cautioned",
    "Holds",
    "Level",
    "PotCare",
    "Rows",
    "asks_for_a_yes",
    "for_bath",
    "for_box",
    "for_colony",
    "for_mix",
    "for_move",
    "for_photo_of_whitening",
    "for_pot",
    "for_standing_bath",
    "for_step",
    "merged",
]
