"""The card at the door: at most six taps when the room is left, and the alarms a room should not be without."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from bonebench.said import Said, said
from bonebench.shop.flags import Flag


@dataclass(frozen=True, slots=True)
class Tick:
    """One tap of the card: its words, why, and what to do if it is not so."""

    key: str
    tap: Said
    why: Said
    if_not: Said


@dataclass(frozen=True, slots=True)
class _Row:
    key: str
    needs: tuple[str, ...]  # any of these features; none is always
    tap: str
    why: str
    if_not: str


MOST_TICKS = 6
# Common practice, no source, where nothing else is said. Gas: a national civil protection office's page on gas in cabins (stay in
# the room with a lit gas heater; maker's room size; off at the cylinder when leaving for long), read. CO: makers' alarm manuals.
_ROWS = (
    _Row(
        "lid", (), "Lid shut, clip on",
        "A lid left open lets beetles out and spiders in.",
        "Shut it. Beetles outside: pick them up, look along the wall and the door strip.",
    ),
    _Row(
        "heater", (), "Heaters: guarded and clear; pots full, lid on",
        "Dry bedding on a lamp, or a pot boiled dry, burns when nobody is here.",
        "Clear it, fill the pot above its mark. In doubt pull the plug: cold beetles recover sooner than a burnt shed.",
    ),
    _Row(
        "fence", ("electric fence",), "Fence on, gate shut, sign seen",
        "Racks and scraps smell to a bear; people must see that the wire bites.",
        "Switch it on and listen for its tick. Dead: take scraps and racks inside tonight.",
    ),
    _Row(
        "gas", ("gas heater",), "Gas: no smell; off, or made to burn alone",
        "A flame left alone can die or lack air: gas or carbon monoxide fills the room.",
        "Not listed by its maker to burn unattended in a room of this size: shut it off at the cylinder. "
        "Smell of gas: touch no switch, everybody out, call from outside.",
    ),
    _Row(
        "alarm", ("smoke alarm", "co alarm"), "Alarms: light on, no chirp",
        "An alarm without a battery is a box on the wall.",
        "Change the battery now and press test. Silent or past its date: a new one before a heater is left on.",
    ),
    _Row(
        "door", (), "Door shut and locked",
        "Children, dogs and pests come in; peroxide, heat and beetles are in there.",
        "Go back and lock it; look whether anybody went in.",
    ),
)  # fmt: skip


def leaving_card(features: Collection[str]) -> tuple[Tick, ...]:
    """Return the ticks for a room that has these features; it asks only for what is there."""
    rows = [row for row in _ROWS if not row.needs or set(row.needs) & set(features)]
    return tuple(
        Tick(row.key, *(said(f"leaving.{row.key}.{part}", getattr(row, part)) for part in ("tap", "why", "if_not"))) for row in rows
    )


def left_ok(ticks: Collection[str], card: Collection[Tick]) -> tuple[Flag, ...]:
    """Return a flag for everything on the card that was not ticked; nothing ticked is not taken as all well."""
    return tuple(
        Flag(said(f"flag.left.{tick.key}", "left without a tick at: {tap}", tap=tick.tap.text), tick.if_not)
        for tick in card
        if tick.key not in ticks
    )


def missing_alarms(features: Collection[str]) -> Iterator[Flag]:
    """Flag the alarms a heated room should have and has not said it has."""
    if "gas heater" in features and "co alarm" not in features:
        yield Flag(
            said("flag.no_co_alarm", "this room burns gas, and no CO alarm is written down"),
            said(
                "flag.no_co_alarm.next",
                "hang a listed CO alarm in this room before the flame is lit again, then say so in the room's settings; "
                "ask the local code and a gas fitter",
            ),
        )
    if "smoke alarm" not in features:
        yield Flag(
            said("flag.no_smoke_alarm", "no smoke alarm is written down, and the box is heated day and night"),
            said(
                "flag.no_smoke_alarm.next",
                "hang one that can be heard where somebody sleeps or works, then say so in the room's settings",
            ),
        )
