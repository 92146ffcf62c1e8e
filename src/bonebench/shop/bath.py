"""A bath as the log tells it: where it stands, what went into it, what was found, and whether it is still there."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any, Literal

from bonebench.said import Plain, said
from bonebench.shop import bath_entries as log
from bonebench.shop.bath_entries import Clarity, Recipe
from bonebench.shop.entries import Entry
from bonebench.shop.flags import Flag
from bonebench.shop.fold import Story
from bonebench.shop.what import What

EventKind = Literal["made", "added", "taken", "tested", "looked", "changed", "discarded"]


@dataclass(frozen=True, slots=True)
class BathEvent:
    """One thing that happened to a bath; only what belongs to its kind is filled."""

    at: datetime
    kind: EventKind
    entry: str
    what: str = ""
    volume_l: float | None = None
    mass_kg: float | None = None
    strength_w: float | None = None
    low_w: float | None = None
    high_w: float | None = None
    temperature_c: float | None = None
    clarity: Clarity | None = None
    level: str | None = None
    sieved: bool | None = None
    teeth: int | None = None
    whose: str | None = None


@dataclass(frozen=True, slots=True)
class Bath:
    """One bath at one moment of its log; ``made`` is None while nobody said when it was mixed."""

    id: str
    name: str = ""
    place: str | None = None
    recipe: Recipe = Recipe.OTHER
    made: datetime | None = None
    made_by: str | None = None
    volume_l: float | None = None
    strength_w: float | None = None
    stock_w: float | None = None
    stock_kg: float | None = None
    stock_opened: date | None = None
    dose: float | None = None
    temperature_c: float | None = None
    vessel: str | None = None
    vessel_l: float | None = None
    events: tuple[BathEvent, ...] = ()
    discarded: datetime | None = None
    discarded_how: str = ""
    flags: tuple[Flag, ...] = ()

    @property
    def live(self) -> bool:
        """Whether it still stands there."""
        return self.made is not None and self.discarded is None

    def last(self, *kinds: EventKind) -> BathEvent | None:
        """Return the last event of these kinds."""
        return next((event for event in reversed(self.events) if event.kind in kinds), None)

    @property
    def changes(self) -> tuple[BathEvent, ...]:
        """The water changes, oldest first."""
        return tuple(event for event in self.events if event.kind == "changed")

    @property
    def fresh_since(self) -> datetime | None:
        """Since when this filling stands: the last change of water, or its making."""
        event = self.last("made", "changed")
        return None if event is None else event.at


def about(entry: Entry) -> datetime:
    """The middle of when it can have happened: what a bath's age is counted from."""
    return entry.when.earliest + (entry.when.latest - entry.when.earliest) / 2


def _flag(key: str, what: str, after: str, **values: Plain | date) -> Flag:
    return Flag(said(f"flag.bath.{key}", what, **values), said(f"flag.bath.{key}.next", after, **values))


def _made(bath: Bath, entry: Entry, what: log.BathMade) -> Bath:
    at = about(entry)
    flags = list(bath.flags)
    if bath.made is not None:
        flags.append(_flag("made_twice", "{name} was made twice in the record", "take the wrong entry back", name=what.name))
    if what.strength_w is not None and what.stock_w is not None and what.strength_w > what.stock_w + 1e-9:
        flags.append(
            _flag(
                "above_stock", "{name} is written down at {strength:strength}, stronger than its stock of {stock:strength}",
                "read the bottle again, and test the bath before anything goes in",
                name=what.name, strength=what.strength_w, stock=what.stock_w,
            )
        )  # fmt: skip
    if what.stock_opened is not None and what.stock_opened > at.date():
        flags.append(
            _flag(
                "before_stock", "{name} was mixed on {made:day}, before its stock was opened on {opened:day}",
                "check both days: one of them is wrong", name=what.name, made=at.date(), opened=what.stock_opened,
            )
        )  # fmt: skip
    event = BathEvent(
        at, "made", entry.id, what.recipe.value, what.volume_l, what.stock_kg, what.strength_w, temperature_c=what.temperature_c
    )
    return replace(
        bath, name=what.name, place=what.place, recipe=what.recipe, made=at, made_by=entry.who, volume_l=what.volume_l,
        strength_w=what.strength_w, stock_w=what.stock_w, stock_kg=what.stock_kg, stock_opened=what.stock_opened, dose=what.dose,
        temperature_c=what.temperature_c, vessel=what.vessel, vessel_l=what.vessel_l, events=(*bath.events, event),
        flags=tuple(flags),
    )  # fmt: skip


def _added(bath: Bath, entry: Entry, what: log.BathAdded) -> Bath:
    event = BathEvent(
        about(entry), "added", entry.id, what.what, volume_l=what.volume_l, mass_kg=what.mass_kg, strength_w=what.strength_w
    )
    volume_l = bath.volume_l
    if volume_l is not None and what.volume_l is not None:
        volume_l += what.volume_l
    flags = bath.flags
    if volume_l is not None and bath.vessel_l is not None and volume_l > bath.vessel_l:
        over = _flag(
            "over_full", "{name} holds {volume:volume} by the record, more than its vessel of {vessel:volume}",
            "look at the level, and take out what is too much", name=bath.name, volume=volume_l, vessel=bath.vessel_l,
        )  # fmt: skip
        flags = (*flags, over)
    return replace(bath, volume_l=volume_l, events=(*bath.events, event), flags=flags)


def _taken(bath: Bath, entry: Entry, what: log.BathTaken) -> Bath:
    volume_l = bath.volume_l
    if volume_l is not None and what.volume_l is not None:
        volume_l = max(volume_l - what.volume_l, 0.0)
    event = BathEvent(about(entry), "taken", entry.id, what.why, volume_l=what.volume_l)
    return replace(bath, volume_l=volume_l, events=(*bath.events, event))


def _tested(bath: Bath, entry: Entry, what: log.BathTested) -> Bath:
    event = BathEvent(about(entry), "tested", entry.id, what.how, strength_w=what.strength_w, low_w=what.low_w, high_w=what.high_w)
    flags = bath.flags
    found = what.strength_w if what.strength_w is not None else what.high_w
    if found is None:
        flags = (*flags, _flag("empty_test", "a test of {name} says no strength", "take it back and write what was read",
                               name=bath.name))  # fmt: skip
    elif bath.stock_w is not None and found > bath.stock_w + 1e-9:
        flags = (
            *flags,
            _flag(
                "stronger_than_stock", "a test found {strength:strength} in {name}; its stock has only {stock:strength}",
                "check the sample's volume, the normality and the blank, then test once more",
                name=bath.name, strength=found, stock=bath.stock_w,
            ),
        )  # fmt: skip
    return replace(bath, events=(*bath.events, event), flags=flags)


def _looked(bath: Bath, entry: Entry, what: log.BathLooked) -> Bath:
    event = BathEvent(about(entry), "looked", entry.id, temperature_c=what.temperature_c, clarity=what.clarity, level=what.level)
    warm = bath.temperature_c if what.temperature_c is None else what.temperature_c
    return replace(bath, temperature_c=warm, events=(*bath.events, event))


def _poured(bath: Bath, event: BathEvent) -> Iterable[Flag]:
    """What a hurried hand forgets when water goes: the sieve, and whose the teeth are that it kept."""
    if event.sieved is False:
        yield _flag("not_sieved", "the water of {name} was poured off on {day:day} without a sieve",
                    "count the teeth against the chart; look in the drain trap and the pail", name=bath.name,
                    day=event.at.date())  # fmt: skip
    if event.teeth and not event.whose:
        yield _flag("whose_teeth", "teeth were found in {name} ({count}) and nobody said whose",
                    "lay them beside the skulls that were in it", count=event.teeth, name=bath.name)  # fmt: skip


def _changed(bath: Bath, entry: Entry, what: log.WaterChanged) -> Bath:
    event = BathEvent(
        about(entry), "changed", entry.id, volume_l=what.volume_l, clarity=what.clarity, sieved=what.sieved, teeth=what.teeth,
        whose=what.whose,
    )  # fmt: skip
    flags = (*bath.flags, *_poured(bath, event))
    return replace(
        bath, events=(*bath.events, event), flags=flags, volume_l=bath.volume_l if what.volume_l is None else what.volume_l,
        dose=bath.dose if what.dose is None else what.dose,
    )  # fmt: skip


def _discarded(bath: Bath, entry: Entry, what: log.BathDiscarded) -> Bath:
    event = BathEvent(about(entry), "discarded", entry.id, what.how, sieved=what.sieved, teeth=what.teeth, whose=what.whose)
    flags = (*bath.flags, *_poured(bath, event))
    return replace(bath, discarded=about(entry), discarded_how=what.how, events=(*bath.events, event), flags=flags)


_APPLY: dict[type[What], Callable[[Bath, Entry, Any], Bath]] = {
    log.BathMade: _made,
    log.BathAdded: _added,
    log.BathTaken: _taken,
    log.BathTested: _tested,
    log.BathLooked: _looked,
    log.WaterChanged: _changed,
    log.BathDiscarded: _discarded,
}


def fold_bath(id: str, story: Story) -> Bath:
    """Tell one bath from its entries; nothing a book may hold makes this raise."""
    bath = Bath(id, flags=story.flags)
    for entry in story.entries:
        apply = _APPLY.get(type(entry.what))
        if apply is not None:
            bath = apply(bath, entry, entry.what)
    return replace(bath, flags=(*bath.flags, *_odd(bath)))


def _odd(bath: Bath) -> Iterable[Flag]:
    if bath.events and bath.made is None:
        yield _flag("never_made", "something was written about a bath that nobody said was made",
                    "say what is in it and since when, or take the entries back")  # fmt: skip
    if bath.discarded is not None and bath.events[-1].at > bath.discarded:
        yield _flag("after_discard", "{name} was thrown away on {day:day}, and something was written about it afterwards",
                    "look whether it is still there", name=bath.name, day=bath.discarded.date())  # fmt: skip
    for event in bath.events:
        amounts = (event.volume_l, event.mass_kg, event.strength_w, event.low_w, event.high_w)
        if any(amount is not None and amount < 0 for amount in amounts):
            yield _flag("negative", "an amount below 0 was written about {name} on {day:day}", "take it back and write it again",
                        name=bath.name, day=event.at.date())  # fmt: skip
        if event.strength_w is not None and event.strength_w > 1:
            yield _flag("above_one", "a strength above 100 % was written about {name} on {day:day}",
                        "take it back; a strength in the book is a share of the weight, 0.03 for 3 %", name=bath.name,
                        day=event.at.date())  # fmt: skip
