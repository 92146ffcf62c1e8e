"""The card of the weeks ahead, from the plan that is kept."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from bonebench.figures import Standing
from bonebench.planning.problem import Late, Slot, Unplaced
from bonebench.said import Said, said
from bonebench.services.calendar.cards import DayCard, LatePieceCard, Objective, PlanCard, RowCard, SlotCard, UnplacedCard
from bonebench.services.cards import Basis, Flag
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.stored import StoredMove, StoredPlan
from bonebench.services.specimens.names import species_name
from bonebench.services.surroundings import Surroundings
from bonebench.shop.room import Place
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import STEP_KINDS, Step

WEEKS = 4
MOST_WEEKS = 60
MEND = said("plan.note.next", "mend it where it was written, then look again")
NEXT = {"plan.note.fed": said("plan.note.fed.next", "feed them between, scraps will do, or promise the later days; see their page")}


def plan_card(subjects: Iterable[Subject], around: Surroundings, plan: StoredPlan, *, days: int = 7 * WEEKS) -> PlanCard:
    """Return the plan for so many days from today."""
    shown = _Shown({s.specimen.id: s.specimen for s in subjects}, around, plan, days)
    return PlanCard(
        status=plan.status,
        made_at=plan.made_at,
        first=shown.first,
        last=shown.last,
        objective=Objective(*plan.score) if len(plan.score) == len(Objective.__dataclass_fields__) else None,
        bound=plan.bound,
        tasks=shown.tasks,
        days=tuple(shown.day(shown.first + timedelta(days=n)) for n in range(days)),
        places=tuple(shown.row(place) for place in around.known.room.places),
        late=tuple(shown.late(one) for one in plan.late if one.piece in shown.specimens),
        unplaced=tuple(shown.unplaced(one) for one in plan.unplaced if one.piece in shown.specimens),
        moved=tuple(words for one in plan.moved if (words := shown.moved(one)) is not None),
        basis=tuple(_appetites(around)),
        flags=(*_flags(around), *shown.notes()),
        cautions=(around.known.defer,),
    )


def _flags(around: Surroundings) -> Iterable[Flag]:
    if not around.known.room.people:
        yield Flag(
            said("plan.anybody", "nobody said who works when, so the plan counts on one pair of hands from 9 to 17 every day"),
            said("plan.anybody.next", "set the hours of each person on the page The room"),
        )


def _appetites(around: Surroundings) -> Iterable[Basis]:
    """What the plan takes the beetles to eat: by their count, else as the room set it."""
    known = around.known
    counted = known.appetites.boxes if known.appetites is not None else {}
    for place in known.room.places:
        if place.key in counted:
            days = counted[place.key]
            source = "the model held against what was counted; the plan takes what seven colonies in ten exceed, day by day"
            yield Basis(f"appetite of {place.name}", days.low_kg, days.high_kg, "kg/day", Standing.ESTIMATE, source)
        elif place.appetite_kg_per_day is not None:
            set_ = place.appetite_kg_per_day
            yield Basis(f"appetite of {place.name}", set_, set_, "kg/day", Standing.ESTIMATE, "as the room set it, not counted")


class _Shown:
    """The plan between two days, told with names instead of keys."""

    def __init__(self, specimens: Mapping[str, Specimen], around: Surroundings, plan: StoredPlan, days: int) -> None:
        self.specimens, self._around, self._plan = specimens, around, plan
        self._zone = ZoneInfo(around.known.room.zone)
        self.first = around.known.room.day(around.now)
        self.last = self.first + timedelta(days=days - 1)
        slots = [slot for slot in plan.slots if slot.piece in specimens and self._shows(slot)]
        self.tasks = tuple(self._slot(slot) for slot in sorted(slots, key=lambda s: (s.start, s.piece, s.visit)))

    def _day(self, at: datetime) -> date:
        return at.astimezone(self._zone).date()

    def _shows(self, slot: Slot) -> bool:
        return self._day(slot.end) >= self.first and self._day(slot.start) <= self.last

    def _slot(self, slot: Slot) -> SlotCard:
        specimen, step = self.specimens[slot.piece], Step(slot.step)
        place = self._around.known.room.place(slot.place)
        return SlotCard(
            id=specimen.id,
            specimen=specimen.tag,
            species=species_name(specimen.species, self._around.known).common,
            step=slot.step,
            visit=slot.visit,
            stay=STEP_KINDS[step].stay,
            place=slot.place,
            place_name=place.name if place is not None else slot.place,
            start=slot.start,
            end=slot.end,
            person=self._around.people.get(slot.person) if slot.person else None,
            running=slot.start < self._plan.made_at,
            limited=_limited(slot, self._around),
        )

    def day(self, day: date) -> DayCard:
        """Return what hands begin on one day, and what is through on it."""
        begins = tuple(task for task in self.tasks if not task.running and self._day(task.start) == day and _by_hand(task))
        ready = tuple(self.specimens[key].tag for key, f in self._plan.finish.items() if f.working == day and key in self.specimens)
        return DayCard(day, day in self._around.known.room.closed, begins, ready)

    def row(self, place: Place) -> RowCard:
        """Return what stands in a place."""
        stays = tuple(task for task in self.tasks if task.stay and task.place == place.key)
        return RowCard(place.key, place.name, place.kind.value, stays)

    def late(self, late: Late) -> LatePieceCard:
        """Return a late piece in words."""
        specimen = self.specimens[late.piece]
        common = species_name(specimen.species, self._around.known).common
        words = said(
            "plan.late", "{tag}, {species}, was promised for {due:day} and is through on {ends:day}: {days:days} late",
            tag=specimen.tag, species=common, due=late.due, ends=late.ends, days=late.days,
        )  # fmt: skip
        return LatePieceCard(specimen.id, specimen.tag, common, late.due, late.ends, late.days, words)

    def unplaced(self, rest: Unplaced) -> UnplacedCard:
        """Return a piece that found no time, with why."""
        specimen = self.specimens[rest.piece]
        common = species_name(specimen.species, self._around.known).common
        return UnplacedCard(specimen.id, specimen.tag, common, rest.step, rest.why)

    def moved(self, move: StoredMove) -> Said | None:
        """Say whose last day is another than the day before, and why; None for a piece that is no longer in work."""
        specimen = self.specimens.get(move.piece)
        if specimen is None:
            return None
        why = with_names(move.why, self._names())
        more = {"tag": specimen.tag, "species": species_name(specimen.species, self._around.known).common, "why": why.text}
        if move.now is None:
            return said("plan.moved.none", "{tag}, {species}, finds no time any more: {why}", **more)
        if move.was is None:
            return said("plan.moved.found", "{tag}, {species}, is through on {now:day} now: {why}", now=move.now, **more)
        days = (move.now - move.was).days
        template = "later" if days > 0 else "earlier"
        return said(
            f"plan.moved.{template}", "{tag}, {species}, is through on {now:day}, {days:days} " + template + ": {why}",
            now=move.now, days=abs(days), **more,
        )  # fmt: skip

    def notes(self) -> Iterator[Flag]:
        """Return what is odd about the room or a piece, as flags; a hold is listed with what found no time."""
        for note in self._plan.notes:
            if note.key != "plan.note.hold":
                yield Flag(with_names(note, self._names()), NEXT.get(note.key, MEND))

    def _names(self) -> dict[str, str]:
        places = {place.key: place.name for place in self._around.known.room.places}
        return places | {key: specimen.tag for key, specimen in self.specimens.items()}


def with_names(words: Said, names: Mapping[str, str]) -> Said:
    """Return a sentence with what people call pieces and places in place of their keys."""
    values = {name: names.get(value, value) if isinstance(value, str) else value for name, value in words.values.items()}
    return said(words.key, words.template, **values)


def _by_hand(task: SlotCard) -> bool:
    return not STEP_KINDS[Step(task.step)].begins_itself


def _limited(slot: Slot, around: Surroundings) -> Said | None:
    """Say what keeps a step from being earlier."""
    if slot.limited_by == "ready" or slot.start < around.now:
        return None
    name = slot.limited_name or ""
    place = around.known.room.place(name)
    return {
        "hands": said("plan.limit.hands", "waits for hands ({work})", work=name or "any work"),
        "place": said("plan.limit.place", "waits for room ({place})", place=place.name if place is not None else name),
        "appetite": said("plan.limit.appetite", "waits for appetite ({place})", place=place.name if place is not None else name),
        "wait": said("plan.limit.wait", "held back so that it need not wait too long afterwards"),
        "closed": said("plan.limit.closed", "waits for an open day"),
    }[slot.limited_by]
