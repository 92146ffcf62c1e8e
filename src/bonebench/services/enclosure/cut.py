"""A power cut: how long the box stays warm, and what hot water in closed bottles buys."""

import math

import numpy as np

from bonebench.errors import Impossible, NotAQuantity
from bonebench.figures import Figure, Standing, basis
from bonebench.said import Said, said
from bonebench.science.air.moist import FloatArray
from bonebench.science.enclosure import Blackout, Bottles, Box, blackout, to_sharpen
from bonebench.services.cards import Fact, Flag
from bonebench.services.enclosure.cards import BlackoutCard, Cooling
from bonebench.services.enclosure.ends import STATED, at_end
from bonebench.services.known import Known
from bonebench.shop.cautions import for_box
from bonebench.units import read_number, read_temperature, read_volume

BUILDING_H = Figure(6.0, 2.0, 24.0, "h", Standing.ESTIMATE, "how slowly an unheated outbuilding follows the cold outside; a guess")
USUAL_HOURS = 48
COLD_STOP_C, COLD_HARM_C = 15.0, 5.0
TOO_WARM_C = 32.0


def cut_power(
    known: Known, *, box: Box, outdoor: str | None = None, building: str | None = None, start: str | None = None,
    help_water: tuple[str, ...] = (), hours: str | None = None,
) -> BlackoutCard:  # fmt: skip
    """Let the box cool with heater and fan dead; ``help_water`` is written volume@temperature, such as 10 L@60 C."""
    count = _hours(hours)
    rooms = {hours: _building(outdoor, building, count, hours) for hours in (BUILDING_H.value, BUILDING_H.low, BUILDING_H.high)}
    room = rooms[BUILDING_H.value]
    begin = read_temperature(start) if start else None
    bottles = [_bottles(text) for text in help_water]

    def ask(of: Box, filled: list[Bottles], around: FloatArray = room) -> Blackout:
        return blackout(of, building_c=around, start_c=begin, hours=count, bottles=filled)

    ends = [(at_end(box, thirsty=True), rooms[BUILDING_H.low]), (at_end(box, thirsty=False), rooms[BUILDING_H.high])]
    plain, spread = ask(box, []), [ask(end, [], around) for end, around in ends]
    helped, helped_spread = (ask(box, bottles), [ask(end, bottles, around) for end, around in ends]) if bottles else (plain, [])
    cooling, helping = _cooling(plain, spread), _cooling(helped, helped_spread) if bottles else ()
    return BlackoutCard(
        title=_title(cooling, count),
        facts=tuple(_facts(cooling, helping, count)),
        steps=tuple(
            said(f"enclosure.cut.step.{n}", words)
            for n, words in enumerate(
                (
                    "Keep the lid shut; every look costs warmth. Unplug heater and fan, so that nothing starts unwatched.",
                    "Tape all holes but one or two; lay blankets over the box, off every hole that stays open.",
                    "Fill closed bottles with hot water, not boiling; wrap them and stand them upright beside the colony.",
                    "Write down when the power went and what a thermometer in the box reads; look again once an hour at most.",
                    "When power is back: look first for wet cords and moved bedding, then plug in and stay until it holds.",
                ),
                1,
            )
        ),
        cautions=for_box(known.caution_rows, heated=True, bottles=bool(bottles), cut=True),
        basis=(
            *([basis("building.follows", BUILDING_H)] if outdoor and building else []),
            *to_sharpen(box),
            basis("as_stated", STATED),
        ),
        flags=tuple(_flags(plain, helped, bool(bottles))),
        hours_to=cooling,
        with_water=helping,
        hours=_thin(plain.hours),
        t_c=_thin(plain.t_c),
        t_with_water_c=_thin(helped.t_c) if bottles else (),
        building_c=_thin(np.interp(plain.hours, np.arange(len(room)), room)),
        warmest_c=helped.warmest_c,
    )


def _thin(values: FloatArray) -> tuple[float, ...]:
    every = max(1, len(values) // 240)
    return tuple(round(float(v), 3) for v in values[::every])


def _hours(text: str | None) -> int:
    return math.ceil(read_number(text.removesuffix("h"), "number of hours")) if text else USUAL_HOURS


def _building(outdoor: str | None, building: str | None, hours: int, follows_h: float) -> FloatArray:
    """Return the building hour by hour: as it is, or falling from its warmth to that outside once its own heater is dead."""
    if not outdoor and not building:
        raise Impossible("enclosure.cut.where", "how cold is it? Write the temperature outdoors, of the building, or both")
    if not outdoor or not building:
        return np.full(hours + 1, read_temperature(building or outdoor or ""))
    inside, outside = read_temperature(building), read_temperature(outdoor)
    return outside + (inside - outside) * np.exp(-np.arange(hours + 1) / follows_h)


def _bottles(text: str) -> Bottles:
    volume, at, warm = text.partition("@")
    if not at:
        raise NotAQuantity("enclosure.cut.bottles", "'{text}' is no hot water; write volume and warmth like 10 L@60 C", text=text)
    return Bottles(read_volume(volume.strip()), read_temperature(warm.strip()))


def _cooling(plain: Blackout, spread: list[Blackout]) -> tuple[Cooling, ...]:
    found = []
    for mark, value in plain.hours_to.items():
        ends = [run.hours_to[mark] for run in spread]
        low = min((h for h in [*ends, value] if h is not None), default=None)
        high = None if None in ends or value is None else max(h for h in [*ends, value] if h is not None)
        found.append(Cooling(mark, value, low, high))
    return tuple(found)


def _title(cooling: tuple[Cooling, ...], count: int) -> Said:
    first = next((line for line in cooling if line.to_c == COLD_STOP_C), None)
    if first is None or first.hours is None:
        return said("enclosure.cut.holds", "it stays above {t:temperature} for the {h} h looked at", t=COLD_STOP_C, h=str(count))
    return said(
        "enclosure.cut.title",
        "about {h} h until the air in the box falls below {t:temperature}",
        h=f"{first.hours:.1f}",
        t=COLD_STOP_C,
    )


def _facts(cooling: tuple[Cooling, ...], helping: tuple[Cooling, ...], count: int) -> list[Fact]:
    return [
        *(_line("enclosure.cut.to", "Until below {t:temperature}", line, count) for line in cooling),
        *(_line("enclosure.cut.helped", "With the hot water, until below {t:temperature}", line, count) for line in helping),
    ]


def _line(key: str, label: str, line: Cooling, count: int) -> Fact:
    if line.hours is None:
        value = said(f"{key}.not", "not within {h} h", h=str(count))
    elif line.high is None:
        value = said(f"{key}.from", "{low} h or longer, most likely {h} h", low=f"{line.low:.1f}", h=f"{line.hours:.1f}")
    else:
        value = said(
            key, "{low} to {high} h, most likely {h} h", low=f"{line.low:.1f}", high=f"{line.high:.1f}", h=f"{line.hours:.1f}"
        )
    return Fact(said(f"{key}.label", label, t=line.to_c), value)


def _flags(plain: Blackout, helped: Blackout, bottles: bool) -> list[Flag]:
    flags = []
    if bottles and helped.warmest_c > TOO_WARM_C:
        flags.append(
            Flag(
                said(
                    "enclosure.cut.cooks",
                    "so much hot water takes the air to {t:temperature}: it cooks the colony",
                    t=helped.warmest_c,
                ),
                said("enclosure.cut.cooks.next", "less water, or cooler; add more when it has cooled"),
            )
        )
    coldest = float(plain.t_c.min())
    if coldest < COLD_HARM_C:
        flags.append(
            Flag(
                said("enclosure.cut.harm", "without help the air falls to {t:temperature} in the time looked at", t=coldest),
                said(
                    "enclosure.cut.harm.next",
                    "most of a colony lives through hours of cold, not through days: move part of it to a warm room",
                ),
            )
        )
    flags.append(
        Flag(
            said("enclosure.cut.unchecked", "reckoned with all holes as they are; not checked in your room"),
            said(
                "enclosure.cut.unchecked.next",
                "pull the plug once on a mild day and note how fast it cools: that beats any reckoning",
            ),
        )
    )
    return flags
