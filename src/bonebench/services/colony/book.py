"""The colonies of the room by its own log: what was seen of each, and what the model makes of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bonebench.records.book import Reading
from bonebench.reference.beetles import beetle_named
from bonebench.said import Said, said
from bonebench.services.cards import Flag
from bonebench.services.colony.appetite import beetles_of, day_begun, of_colony
from bonebench.services.colony.asked import Asked, Told
from bonebench.services.colony.cards import NumbersCard
from bonebench.services.colony.kinds import kind_flags
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.news import box_news, boxes_of
from bonebench.services.colony.night import BoxTonight, box_tonight, fed_to
from bonebench.services.colony.numbers import misfits, numbers_of
from bonebench.services.colony.record import held
from bonebench.services.colony.warned import INSURANCE, SPARE
from bonebench.services.colony.weighed import Eaten, eaten_of
from bonebench.services.gather import everything_in_work, known_of
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.cautions import Cautioned, for_colony
from bonebench.shop.colony import ColonyLog, SeenAt, counts_none, fold_colony, tells_size
from bonebench.shop.colony_telling import tell_look
from bonebench.shop.fold import Story
from bonebench.shop.room import Place
from bonebench.shop.rounds import fold_place, place_subject

SHOWN = 12
WITHHELD_WORDS = "their numbers are not worked out: the figures here are those of another beetle"


@dataclass(frozen=True)
class LookCard:
    """One look as it was written."""

    at: datetime
    entry: str
    what: Said


@dataclass(frozen=True)
class BoxColonyCard:
    """The colony of one box: its last looks, and its numbers today where a look says how many there are."""

    place: str
    name: str
    looks: tuple[LookCard, ...]
    numbers: NumbersCard | None
    why_not: Said | None
    tonight: BoxTonight | None
    flags: tuple[Flag, ...]


@dataclass(frozen=True, kw_only=True)
class ColoniesCard(Cautioned):
    """The colonies of the room."""

    boxes: tuple[BoxColonyCard, ...]
    flags: tuple[Flag, ...] = ()
    schema: str = "colony/1"


def colonies(tx: Reading, now: datetime) -> ColoniesCard:
    """Return what the log says of every beetle box, with the numbers of today worked out from it."""
    known = known_of(tx)
    boxes = boxes_of(known)
    subjects = everything_in_work(tx, known)
    return ColoniesCard(
        boxes=tuple(_box(known, place, story_of(tx, place_subject(place.key))[0], subjects, now) for place in boxes),
        cautions=for_colony(known.caution_rows),
        flags=(INSURANCE,) if boxes and SPARE not in known.room.features else (),
    )


def _box(known: Known, place: Place, story: Story, subjects: Sequence[Subject], now: datetime) -> BoxColonyCard:
    log = fold_colony(story)
    warned = tuple(one.flag for one in box_news(known, place, fold_place(place.key, story), subjects, now))
    looks, odd = in_use(log, now), (*warned, *log.flags)
    counted = _tells(place, looks)
    eaten = eaten_of(fed_to(known, place, subjects), now, looks[0].at) if counted else ()
    numbers = _numbers(known, looks, place, eaten, now) if counted else None
    if numbers is None:
        odd = (*odd, *kind_flags(beetles_of(place.box, looks)))
    tonight = box_tonight(place, subjects, of_colony(place, log, now, eaten), now)
    shown = tuple(LookCard(one.at, one.entry, tell_look(one.what)) for one in reversed(log.seen[-SHOWN:]))
    why_not = None if numbers else why_not_told(place, log, now)
    return BoxColonyCard(place.key, place.name, shown, numbers, why_not, tonight, odd)


def _tells(place: Place, looks: Sequence[SeenAt]) -> bool:
    """Whether these looks say how many there are, of a beetle whose numbers can be worked out."""
    return any(tells_size(one.what) for one in looks) and beetle_named(beetles_of(place.box, looks)).trust != "none"


def told_today(
    known: Known, place: Place, log: ColonyLog, subjects: Sequence[Subject], now: datetime
) -> tuple[Told, Asked, float | None] | None:  # fmt: skip
    """Return the colony of a box as it is today, its box as it was read last, and what it gets a day [kg] if that is known."""
    looks = in_use(log, now)
    if not _tells(place, looks):
        return None
    eaten = eaten_of(fed_to(known, place, subjects), now, looks[0].at)
    record, colony = held(looks, place.box, eaten, day_begun(looks, now))
    return colony, record.asked(), record.fed_kg_per_day()


def why_not_told(place: Place, log: ColonyLog, now: datetime) -> Said:
    """Say why a log does not tell how many there are."""
    if beetle_named(beetles_of(place.box, in_use(log, now))).trust == "none":
        return said("colony.kind.no_numbers", WITHHELD_WORDS)
    if log.last_count is None:
        return said("colony.uncounted", "nobody has counted here yet: a scoop and its share of the bedding is enough")
    day = log.last_count.at.date()
    return said("colony.old_count", "the last count is of {day:day}; count a scoop, it holds for two weeks", day=day)


def _numbers(known: Known, looks: tuple[SeenAt, ...], place: Place, eaten: tuple[Eaten, ...], now: datetime) -> NumbersCard:
    """Hold the looks and the weighed heads against the model."""
    record, colony = held(looks, place.box, eaten, day_begun(looks, now))
    dead = counts_none(next(one.what for one in reversed(looks) if tells_size(one.what)))
    odd = (*(misfits(colony) if not dead else ()), *_weighed_flag(eaten), record.fed_flag())
    card = numbers_of(known, record.asked(), colony, dead=dead, odd=odd)
    # What the looks say of warmth and damp is among the news of the box, with the day it was read.
    return replace(card, flags=tuple(flag for flag in card.flags if not flag.what.key.startswith("colony.warn.")))


def _weighed_flag(eaten: tuple[Eaten, ...]) -> tuple[Flag, ...]:
    if not eaten:
        return ()
    return (
        Flag(
            said(
                "colony.weighed_heads", "weighed heads counted in as what they ate: {tags}",
                tags=", ".join(dict.fromkeys(one.tag for one in eaten)),
            ),
            said(
                "colony.weighed_heads.next",
                "what lay beside them is added by its kind, drying is guessed; if they could not get at more, they can eat more",
            ),
        ),
    )  # fmt: skip
