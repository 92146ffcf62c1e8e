"""One bath as a card, and the list of them, from plain values."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta

from bonebench.errors import BonebenchError
from bonebench.figures import Basis, basis
from bonebench.said import Said, said
from bonebench.science import baths as science
from bonebench.science.baths.decay import FLOOR_W, K20, Q10
from bonebench.services.baths.bathcard import BathCard, BathListCard, BathRow, DegreasingCard, InBathCard, StrengthCard, TopUpCard
from bonebench.services.baths.cautions import cautions_of
from bonebench.services.baths.history import Arrivals, Reckoned, load_at, rests_on, warm
from bonebench.services.baths.teeth import found_answers, sieve_flags
from bonebench.services.cards import Answer, Flag
from bonebench.services.plans.problem import Subject
from bonebench.services.specimens.names import species_name
from bonebench.services.specimens.show import entry_cards
from bonebench.services.surroundings import Surroundings
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import BathDiscarded, Clarity, Recipe, bath_subject
from bonebench.shop.cautions import Caution
from bonebench.shop.entries import Entry

# A change of water by the calendar alone: every 2 to 7 days, sooner when it is cloudy. Common practice, no source.
CHANGE_FROM_DAYS = 2.0
CHANGE_BY_DAYS = 7.0
HOW_DISCARDED = (
    ("stood open until a strip showed none; asked where it may go", "Thrown away, after standing open and a strip"),
    ("poured where local rules allow", "Thrown away, asked where"),
    ("spilled or lost", "Spilled or lost"),
)


@dataclass(frozen=True, slots=True)
class Scene:
    """What a bath's card needs beside the bath."""

    around: Surroundings
    subjects: tuple[Subject, ...]
    reckoned: Mapping[str, Reckoned] = field(default_factory=dict)
    arrivals: Mapping[str, Arrivals] = field(default_factory=dict)
    sitting: Mapping[str, tuple[tuple[Subject, tuple[str, ...]], ...]] = field(default_factory=dict)
    degreasing: Mapping[str, DegreasingCard] = field(default_factory=dict)

    @property
    def now(self) -> datetime:
        """The moment it is shown for."""
        return self.around.now

    def day(self, at: datetime) -> date:
        """Return the local day of an instant."""
        return self.around.known.room.day(at)

    def in_it(self, bath: Bath) -> tuple[tuple[Subject, tuple[str, ...]], ...]:
        """Return what sits in a bath: what sits in its place, while it stands there."""
        return self.sitting.get(bath.place or "", ()) if bath.live else ()

    def subjects_in(self, bath: Bath) -> tuple[Subject, ...]:
        """Return the specimens of which something sits in a bath."""
        return tuple(subject for subject, _ in self.in_it(bath))


def bath_card(bath: Bath, entries: Iterable[Entry], voided: frozenset[str], scene: Scene) -> BathCard:
    """Return one bath, whole."""
    room, reckoned = scene.around.known.room, scene.reckoned[bath.id]
    place = room.place(bath.place)
    contents = scene.in_it(bath)
    due = change_due(bath, scene) if contents else None
    return BathCard(
        id=bath.id,
        name=bath.name,
        place=bath.place,
        place_name=place.name if place is not None else None,
        recipe=bath.recipe.value,
        live=bath.live,
        made=bath.made,
        made_by=scene.around.people.get(bath.made_by or ""),
        age_days=_days(bath.made, bath.discarded or scene.now),
        volume_l=bath.volume_l,
        vessel=bath.vessel,
        vessel_l=bath.vessel_l,
        made_w=bath.strength_w,
        stock_w=bath.stock_w,
        dose=bath.dose,
        temperature_c=bath.temperature_c,
        strength=strength_card(reckoned, scene) if bath.live else None,
        top_up=top_up(bath, reckoned) if bath.live else None,
        changes=len(bath.changes),
        fresh_days=_days(bath.fresh_since, bath.discarded or scene.now),
        next_change=_next_change(bath, due, scene),
        change_due=due,
        advice=tuple(advice(bath, reckoned, scene)),
        contents=tuple(_in_bath(subject, parts, bath, scene) for subject, parts in contents),
        answers=_all_answers(bath, scene) if bath.live else (),
        entries=entry_cards(entries, voided, _naming_specimens(scene)),
        basis=_basis(bath, scene),
        flags=(*bath.flags, *_flags(bath, reckoned, scene), *sieve_flags(bath, scene.subjects_in(bath))),
        cautions=cautions_for_bath(bath, scene),
    )


def cautions_for_bath(bath: Bath, scene: Scene) -> tuple[Caution, ...]:
    """Return what can hurt at this bath: an unknown strength counts as a strong one."""
    reckoned = scene.reckoned.get(bath.id)
    now = reckoned.now if reckoned is not None else None
    high_w = None if now is None else now.strength_w.high
    return cautions_of(bath, [subject for subject, _ in scene.in_it(bath)], high_w, scene.around.known, scene.now)


def _naming_specimens(scene: Scene) -> Surroundings:
    tags = {f"specimen:{subject.specimen.id}": subject.specimen.tag for subject in scene.subjects}
    return replace(scene.around, notes={**scene.around.notes, **tags})


def _days(since: datetime | None, until: datetime) -> float:
    return 0.0 if since is None else round(max(0.0, (until - since).total_seconds() / 86400), 2)


def strength_card(reckoned: Reckoned, scene: Scene) -> StrengthCard | None:
    """Return how strong a bath probably is, as a range with what it rests on."""
    now = reckoned.now
    if now is None:
        return None
    return StrengthCard(
        strength_w=now.strength_w.value,
        low_w=now.strength_w.low,
        high_w=now.strength_w.high,
        half_life_days=now.half_life_days.value,
        to_floor_days=now.days_to_floor.value,
        to_floor_low_days=now.days_to_floor.low,
        to_floor_high_days=now.days_to_floor.high,
        oxygen_l_per_day=now.oxygen_l_per_day.value,
        look_by=scene.day(scene.now + timedelta(days=now.look_by_days)),
        tests=now.tests,
        days_since_test=None if now.days_since_test is None else round(now.days_since_test, 2),
        standing=now.strength_w.standing.value,
        rests_on=rests_on(now),
    )


def top_up(bath: Bath, reckoned: Reckoned) -> TopUpCard | None:
    """Return what brings a bath back to what it was mixed to, by its probable strength; test it before pouring."""
    now = reckoned.now
    if now is None or bath.strength_w is None or bath.stock_w is None or not bath.volume_l:
        return None
    if not now.strength_w.value < bath.strength_w * 0.97 < bath.stock_w:
        return None
    try:
        plan = science.top_up(
            bath_l=bath.volume_l,
            bath_w=now.strength_w.value,
            stock_w=bath.stock_w,
            target_w=bath.strength_w,
            largest_l=bath.vessel_l or bath.volume_l * 1.2,
            temperature_c=warm(bath.temperature_c),
        )
    except BonebenchError:
        # No top-up reaches it in this vessel; mixing anew is said with the advice instead.
        return None
    words = said(
        "bath.top_up", "to bring it back to {target:strength}: add {stock:volume} of stock ({mass:mass})",
        target=bath.strength_w, stock=plan.stock_l, mass=plan.stock_kg,
    )  # fmt: skip
    if plan.take_out_l > 0:
        words = said(
            "bath.top_up_room",
            "to bring it back to {target:strength}: take {out:volume} out first, then add {stock:volume} of stock ({mass:mass})",
            target=bath.strength_w, out=plan.take_out_l, stock=plan.stock_l, mass=plan.stock_kg,
        )  # fmt: skip
    return TopUpCard(bath.strength_w, bath.stock_w, plan.stock_kg, plan.stock_l, plan.take_out_l, words)


def change_due(bath: Bath, scene: Scene) -> date | None:
    """Return by when the water of a pot is to be changed: by what was seen, else by the calendar."""
    since = bath.fresh_since
    if bath.recipe not in (Recipe.DETERGENT, Recipe.RINSE) or since is None:
        return None
    seen = bath.last("looked", "changed", "made")
    clarity = seen.clarity if seen is not None and seen.kind == "looked" else None
    if clarity in (Clarity.CLOUDY, Clarity.FAT_ON_TOP):
        return scene.day(scene.now)
    return scene.day(since + timedelta(days=CHANGE_BY_DAYS if clarity in (None, Clarity.CLEAR) else CHANGE_FROM_DAYS))


def _next_change(bath: Bath, due: date | None, scene: Scene) -> Said | None:
    if due is None:
        return None
    if due <= scene.day(scene.now):
        return said("bath.change.now", "change the water of {name} now: pour through a sieve, count the teeth", name=bath.name)
    return said("bath.change.by", "change the water by {due:day}, sooner when it is cloudy (common practice, no source)", due=due)


def advice(bath: Bath, reckoned: Reckoned, scene: Scene) -> Iterable[Said]:
    """Say what to do with a bath: test first, look by, ask whom. Never that it is harmless or may be poured."""
    if not bath.live:
        return
    now = reckoned.now
    if reckoned.why_not is not None:
        yield reckoned.why_not
    if now is not None:
        day = scene.day(scene.now + timedelta(days=now.look_by_days))
        if now.strength_w.high < FLOOR_W.value:
            yield said(
                "bath.advice.weak", "probably below {floor:strength}: test it, then top it up or mix anew", floor=FLOOR_W.value
            )
        elif now.strength_w.low < FLOOR_W.value:
            yield said("bath.advice.perhaps_weak", "it may be below {floor:strength} already: test first", floor=FLOOR_W.value)
        else:
            yield said("bath.advice.look_by", "test it or look by {day:day}", day=day)
        yield said(
            "bath.advice.away",
            "before it goes anywhere: let it stand open, kept from dirt, until a strip shows none, then ask the local authority",
        )


def answers(bath: Bath) -> tuple[Answer, ...]:
    """Return the large buttons of a bath."""
    subject = (bath_subject(bath.id),)
    found: list[Answer] = list(glance_answers(bath))
    if bath.recipe in (Recipe.DETERGENT, Recipe.RINSE, Recipe.MACERATION):
        found += [
            Answer(f"look-{c.name.lower()}", said("tap.bath.look", "Looked: {how}", how=c.value), "bath-looked", subject,
                   {"clarity": c.value})
            for c in Clarity
        ]  # fmt: skip
        found += [
            Answer("changed-none", said("tap.bath.changed", "Changed and sieved, no teeth"), "water-changed", subject,
                   {"sieved": True, "teeth": 0}),
            Answer("changed-unsieved", said("tap.bath.changed_unsieved", "Changed, not sieved"), "water-changed", subject,
                   {"sieved": False}),
        ]  # fmt: skip
    found += [
        Answer(f"gone-{number}", said(f"tap.bath.gone_{number}", label), "bath-discarded", subject, {"how": how})
        for number, (how, label) in enumerate(HOW_DISCARDED, 1)
    ]
    return tuple(found)


def _all_answers(bath: Bath, scene: Scene) -> tuple[Answer, ...]:
    """Return every button of a bath; those that throw it away stay the last."""
    found = (*answers(bath), *found_answers(bath, scene.subjects_in(bath)))
    return tuple(sorted(found, key=lambda answer: answer.kind == BathDiscarded.KIND))


# What a strip tells at a glance, as shares of what the bath was mixed to: wide on purpose.
AT_A_GLANCE = (
    ("full", "Strip: about as mixed", 0.7, 1.1),
    ("half", "Strip: about half", 0.3, 0.7),
    ("weak", "Strip: little or none", 0.0, 0.3),
)


def glance_answers(bath: Bath, task: str | None = None) -> tuple[Answer, ...]:
    """Return one tap for what a strip shows beside what the bath was mixed to."""
    if bath.recipe is not Recipe.PEROXIDE or not bath.strength_w:
        return ()
    return tuple(
        Answer(
            f"strip-{key}", said(f"tap.bath.strip_{key}", label), "bath-tested", (bath_subject(bath.id),),
            {"how": "strip", "low_w": low * bath.strength_w, "high_w": high * bath.strength_w}, task=task,
        )
        for key, label, low, high in AT_A_GLANCE
    )  # fmt: skip


def _in_bath(subject: Subject, parts: tuple[str, ...], bath: Bath, scene: Scene) -> InBathCard:
    specimen = subject.specimen
    since = max((p.since for p in specimen.parts if p.name in parts and p.since is not None), default=None)
    begun = since if since is None or bath.fresh_since is None else max(since, bath.made or since)
    return InBathCard(
        specimen.id, specimen.tag, species_name(specimen.species, scene.around.known), parts, since, _days(begun, scene.now),
        scene.degreasing.get(f"specimen:{specimen.id}"),
    )  # fmt: skip


def _basis(bath: Bath, scene: Scene) -> tuple[Basis, ...]:
    if bath.recipe is not Recipe.PEROXIDE:
        return ()
    load = load_at(scene.arrivals.get(bath.id, Arrivals()), scene.now)
    return (basis(f"peroxide.decay_{load}", K20[load]), basis("peroxide.decay_warmth", Q10), basis("peroxide.floor", FLOOR_W))


def _flags(bath: Bath, reckoned: Reckoned, scene: Scene) -> Iterable[Flag]:
    if reckoned.now is not None:
        for words in reckoned.now.flags:
            yield Flag(words, said("flag.bath.odd.next", "test once more, and look at what was written about it"))


def bath_row(bath: Bath, scene: Scene) -> BathRow:
    """Return one line of the list."""
    place = scene.around.known.room.place(bath.place)
    card = strength_card(scene.reckoned[bath.id], scene) if bath.live else None
    return BathRow(
        id=bath.id,
        name=bath.name,
        place=bath.place,
        place_name=place.name if place is not None else None,
        recipe=bath.recipe.value,
        live=bath.live,
        made=bath.made,
        age_days=_days(bath.made, bath.discarded or scene.now),
        summary=_summary(bath, card),
        holds=len(scene.in_it(bath)),
        look_by=card.look_by if card is not None else change_due(bath, scene),
        flags=len(bath.flags),
    )


def _summary(bath: Bath, card: StrengthCard | None) -> Said:
    if not bath.live:
        return said("bath.row.gone", "thrown away")
    if card is not None:
        tests = "" if card.tests else ", test first"
        return said(
            "bath.row.strength", "{recipe}, probably {low:strength} to {high:strength}{tests}", recipe=bath.recipe.value,
            low=card.low_w, high=card.high_w, tests=tests,
        )  # fmt: skip
    if bath.recipe is Recipe.PEROXIDE:
        return said("bath.row.unknown", "peroxide of unknown strength, test first")
    return said("bath.row.changes", "{recipe}, water changed {count} times", recipe=bath.recipe.value, count=len(bath.changes))


def list_card(baths: Iterable[Bath], scene: Scene, *, gone: int) -> BathListCard:
    """Return the baths that stand in the room; the cautions of every one of them go with it."""
    baths = tuple(baths)
    cautions: dict[str, Caution] = {}
    for bath in baths:
        cautions |= {c.key: c for c in cautions_for_bath(bath, scene)}
    cautions.pop(scene.around.known.defer.key, None)
    return BathListCard(
        rows=tuple(bath_row(bath, scene) for bath in baths),
        discarded_left_out=gone,
        teach=None if baths else _teach(),
        cautions=(*cautions.values(), scene.around.known.defer),
    )


def _teach() -> Said:
    return said(
        "teach.baths",
        "No bath is written down. Mix one and say that it was made; or go on without: it makes strengths sharper, never more.",
    )
