"""The box: what it is (`box`, `defaults`), what it lets through (`conductance`), how it goes through time (`simulate`, on the
compiled loop in `kernel`), whether heater and fan fight (`latch`), and a power cut (`blackout`)."""

from bonebench.science.air.paths import Duct, Holes
from bonebench.science.enclosure.blackout import Blackout, Bottles, blackout
from bonebench.science.enclosure.box import (
    Band,
    Bedding,
    Box,
    Heater,
    Humidistat,
    Layer,
    Store,
    Window,
    check_box,
    simple_box,
    to_sharpen,
)
from bonebench.science.enclosure.latch import Latch, closed_test
from bonebench.science.enclosure.months import Period
from bonebench.science.enclosure.numbers import conductance_w_k, numbers_of
from bonebench.science.enclosure.simulate import Around, Run, Start, around_box, simulate, start_at
from bonebench.science.enclosure.specimens import HeadIn

__all__ = [
    "Around",
    "Band",
    "Bedding",
    "Blackout",
    "Bottles",
    "Box",
    "Duct",
    "HeadIn",
    "Heater",
    "Holes",
    "Humidistat",
    "Latch",
    "Layer",
    "Period",
    "Run",
    "Start",
    "Store",
    "Window",
    "around_box",
    "blackout",
    "check_box",
    "closed_test",
    "conductance_w_k",
    "numbers_of",
    "simple_box",
    "simulate",
    "start_at",
    "to_sharpen",
]
