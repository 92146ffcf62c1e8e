"""The settings of a beetle box: read as people write them, refused where they cannot be, and shown with what is taken instead."""

from collections.abc import Callable
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.records.book import Reading, Writing
from bonebench.reference.beetles import OWN, beetle_named
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.keep import box_of, read_sites
from bonebench.services.colony.kinds import kind_flags
from bonebench.services.colony.typed import MOST_BEETLES, within
from bonebench.services.colony.usual import FLOOR, SITES
from bonebench.services.facts import fact
from bonebench.services.gather import known_of
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.cautions import Cautioned, for_colony
from bonebench.shop.entries import ROOM, exactly
from bonebench.shop.room import Place
from bonebench.shop.steps import PlaceKind
from bonebench.units import read_area, read_power

FLOORS_M2 = (0.005, 200.0)  # a jar to a hall
MOST_W = 5000.0
NONE = ("none", "unset", "-")  # takes back what was set


@dataclass(frozen=True, kw_only=True)
class BoxTyped:
    """A box as it was typed; what is not said stays as it was, and none takes it back."""

    place: str = ""
    floor: str | None = None
    sites: str | None = None
    beetles: str | None = None
    heater: str | None = None
    holding: str | None = None
    spare: str | None = None


@dataclass(frozen=True)
class BoxSettingsCard:
    """One box: what the room set, None where it did not, and the lines that say what is taken instead."""

    place: str
    name: str
    floor_m2: float | None
    sites: float | None
    beetles: str | None
    heater_w: float | None
    holding_w: float | None
    spare_w: float | None
    heat_to_spare_w: float | None
    facts: tuple[Fact, ...]
    flags: tuple[Flag, ...]


@dataclass(frozen=True, kw_only=True)
class BoxesCard(Cautioned):
    """The settings of every beetle box of the room."""

    boxes: tuple[BoxSettingsCard, ...]
    schema: str = "colony.box/1"


def boxes(tx: Reading) -> BoxesCard:
    """Return the settings of the room's beetle boxes."""
    known = known_of(tx)
    found = [place for place in known.room.places if place.kind is PlaceKind.ENCLOSURE]
    return BoxesCard(boxes=tuple(_card(place) for place in found), cautions=for_colony(known.caution_rows))


def _card(place: Place) -> BoxSettingsCard:
    box = place.box or BoxSet(place.key)
    return BoxSettingsCard(
        place.key, place.name, box.floor_m2, box.sites, box.beetles, box.heater_w, box.holding_w, box.spare_w, box.heat_to_spare_w,
        tuple(_facts(box)), tuple(kind_flags(box.beetles)),
    )  # fmt: skip


def _facts(box: BoxSet) -> list[Fact]:
    facts = [
        fact("colony.box.floor", "Floor", "{area:area}", area=box.floor_m2)
        if box.floor_m2 is not None
        else fact("colony.box.no_floor", "Floor", "not set; {area:area} is taken, a guess", area=FLOOR.value),
        fact("colony.box.sites", "Pupation sites", "{sites}", sites=f"{box.sites:.0f}")
        if box.sites is not None
        else fact("colony.box.no_sites", "Pupation sites", "not set; {sites} are taken, a guess", sites=f"{SITES.value:.0f}"),
        fact("colony.box.beetles", "Beetles", "{name}", name=beetle_named(box.beetles).name)
        if box.beetles is not None
        else fact("colony.box.no_beetles", "Beetles", "not set; taken for {name}", name=OWN),
    ]
    facts += [
        fact(f"colony.box.{key}", label, "{watts:power}", watts=watts)
        for key, label, watts in (
            ("heater", "Heater", box.heater_w), ("holding", "It takes in the coldest hour", box.holding_w),
        )
        if watts is not None
    ]  # fmt: skip
    spare = box.heat_to_spare_w
    how = "as stated" if box.spare_w is not None else "the heater's power less what the coldest hour takes"
    facts.append(
        fact("colony.box.spare", "To spare for frozen heads", "{watts:power}, {how}", watts=spare, how=how)
        if spare is not None
        else fact("colony.box.no_spare", "To spare for frozen heads", "not set; the heater is not counted in for tonight")
    )
    return facts


def set_box(tx: Writing, pen: Pen, typed: BoxTyped) -> Kept:
    """Set a box; a setting is a plan, so what cannot be is refused."""
    place = box_of(tx, typed.place)
    what = _read(typed, place.box or BoxSet(place.key))
    return record(tx, [write_entry(tx, pen, what, (ROOM,), exactly(pen.now))], pen.now)


def _read(typed: BoxTyped, was: BoxSet) -> BoxSet:
    what = BoxSet(
        key=was.key,
        floor_m2=_kept(typed.floor, was.floor_m2, lambda text: within("floor", read_area(text), FLOORS_M2, "area", text)),
        sites=_kept(
            typed.sites, was.sites, lambda text: within("number of pupation sites", read_sites(text), (0.0, MOST_BEETLES), "", text)
        ),
        beetles=_beetles(typed.beetles, was.beetles),
        heater_w=_kept(typed.heater, was.heater_w, lambda text: _watts("heater's power", text)),
        holding_w=_kept(typed.holding, was.holding_w, lambda text: _watts("power in the coldest hour", text)),
        spare_w=_kept(typed.spare, was.spare_w, lambda text: _watts("power to spare", text)),
    )
    if what == was and not any((typed.floor, typed.sites, typed.beetles, typed.heater, typed.holding, typed.spare)):
        raise Impossible("colony.box.nothing", "nothing was set; say floor, blocks, beetles, heater, or power to spare")
    _check_heater(what)
    return what


def _kept(text: str | None, was: float | None, read: Callable[[str], float]) -> float | None:
    if text is None or not text.strip():
        return was
    return None if text.strip().casefold() in NONE else read(text)


def _beetles(text: str | None, was: str | None) -> str | None:
    if text is None or not text.strip():
        return was
    return None if text.strip().casefold() in NONE else beetle_named(text).name


def _watts(what: str, text: str) -> float:
    return within(what, read_power(text), (0.0, MOST_W), "power", text)


def _check_heater(box: BoxSet) -> None:
    """A heater does not hold a box with more than it has, and has no more to spare than its power."""
    for what, watts in (("what holds the box in the coldest hour", box.holding_w), ("power to spare", box.spare_w)):
        if watts is not None and box.heater_w is not None and watts > box.heater_w:
            raise OutsideRange(
                "colony.box.heater", "{what} is {watts:power}, more than the heater's {heater:power}: check both numbers",
                what=what, watts=watts, heater=box.heater_w,
            )  # fmt: skip
    if box.holding_w is not None and box.heater_w is None and box.spare_w is None:
        raise Impossible("colony.box.no_heater", "what the coldest hour takes says nothing without the heater's power: set both")
