"""What is odd about a run of the box, and what to do about it."""

from collections.abc import Iterator

from bonebench.figures import Standing
from bonebench.said import said
from bonebench.science.colony.limits import FLIGHT_C
from bonebench.science.enclosure import Box, Latch, Run
from bonebench.services.cards import Flag
from bonebench.services.enclosure.around import Told

OFTEN = 0.05  # a share of the hours from which on something is worth a line
NO_SPARE = 0.9
SWITCHES_A_DAY = 400


def flags_of(box: Box, run: Run, latch: Latch | None, at: Told, standing: Standing) -> tuple[Flag, ...]:
    """Return them, the worst first; the last says how far to trust the whole."""
    return (*_fighting(latch, run), *_warmth(box, run), *_damp(box, run, at), *_trust(at, standing))


def _fighting(latch: Latch | None, run: Run) -> Iterator[Flag]:
    if latch is not None and latch.latched:
        yield Flag(
            said(
                "enclosure.latch",
                "heater and fan fight: with both on the box stands at {t:temperature} and {rh:percent}, and neither turns off",
                t=latch.t_c,
                rh=latch.rh,
            ),
            said(
                "enclosure.latch.next",
                "a stronger heater, a slower fan or fewer holes; or a higher humidity to turn the fan off at",
            ),
        )
    elif run.year.latch_hours >= 1:
        yield Flag(
            said(
                "enclosure.both", "heater and fan ran together for {hours} h without a break", hours=f"{run.year.latch_hours:.0f}"
            ),
            said("enclosure.both.next", "a slower fan, fewer holes, or a higher humidity to turn the fan off at"),
        )


def _warmth(box: Box, run: Run) -> Iterator[Flag]:
    year, band = run.year, box.band
    if box.heater and year.heater_share > NO_SPARE:
        yield Flag(
            said("enclosure.weak", "the heater runs {share:percent} of the time: it has nothing to spare", share=year.heater_share),
            said("enclosure.weak.next", "fewer open holes, thicker walls, or a stronger heater with its guard and second cut-out"),
        )
    if year.t_min_c < band.low_c - 1:
        yield Flag(
            said(
                "enclosure.cold",
                "the air falls to {low:temperature}; you want {want:temperature} or more",
                low=year.t_min_c,
                want=band.low_c,
            ),
            said("enclosure.cold.next", "look at the heater's power and set point, and at open holes"),
        )
    if year.t_max_c > band.high_c + 1:
        yield Flag(
            said(
                "enclosure.hot",
                "the air reaches {high:temperature}; from about {fly:temperature} on beetles may fly, as one keeper saw",
                high=year.t_max_c,
                fly=FLIGHT_C,
            ),
            said("enclosure.hot.next", "lower the set point, open more holes; a second, separate cut-out stops a stuck thermostat"),
        )
    if box.heater and run.year.heater_starts / max(run.year.hours / 24, 1e-9) > SWITCHES_A_DAY:
        yield Flag(
            said("enclosure.chatter", "the heater turns on more than {n} times a day: a relay wears out", n=SWITCHES_A_DAY),
            said("enclosure.chatter.next", "a wider gap between on and off, or pavers round the heater"),
        )


def _damp(box: Box, run: Run, at: Told) -> Iterator[Flag]:
    year, band = run.year, box.band
    if year.hours_cannot_dry > OFTEN * at.hours:
        yield Flag(
            said(
                "enclosure.wet_outside",
                "for {hours} h the building's air holds as much water as the box may: no fan dries it then",
                hours=f"{year.hours_cannot_dry:.0f}",
            ),
            said("enclosure.wet_outside.next", "fewer wet heads at once in those weeks, or a drying agent; more air does not help"),
        )
    elif year.rh_p95 > band.high_rh:
        yield Flag(
            said("enclosure.wet", "one hour in twenty is above {p95:percent}; mites and mould come nearer", p95=year.rh_p95),
            said("enclosure.wet.next", "open a hole, or let the fan turn on earlier; fewer wet heads at once"),
        )
    if year.rh_mean < band.low_rh:
        yield Flag(
            said("enclosure.dry", "the air is at {rh:percent} on the mean; bone cracks and larvae slow down", rh=year.rh_mean),
            said("enclosure.dry.next", "tape holes one at a time, lowest first, and look again after a day"),
        )
    if year.condensed_kg > 0.01:
        yield Flag(
            said("enclosure.window", "{mass:mass} of water settles on the coldest wall or window", mass=year.condensed_kg),
            said(
                "enclosure.window.next",
                "a second pane, or foam over it in the cold months; wipe it and keep cords off the wet side",
            ),
        )


def _trust(at: Told, standing: Standing) -> Iterator[Flag]:
    if at.outdoors:
        yield Flag(
            said("enclosure.outdoors", "the building was taken to be as warm as outdoors, or as warm as it is held"),
            said("enclosure.outdoors.next", "describe [building] in the file, or log its own temperature"),
        )
    if not standing.checked:
        yield Flag(
            said("enclosure.unchecked", "some figures below are estimates; nothing here was checked in your room"),
            said(
                "enclosure.unchecked.next", "put a thermometer with a memory into the box and the building for a week, and compare"
            ),
        )
