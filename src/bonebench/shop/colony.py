"""A colony told from its log: what was seen of it, in order, and what is odd in how it was written. Nothing is refused here.

What a look says of the colony itself, and what to do about it today, is in `colony_news`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bonebench.said import Plain, number, said
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.flags import Flag
from bonebench.shop.fold import Story

# How they look by eye, from full to dying of hunger; words of ours.
HUNGERS = ("food left", "hungry", "starved")
STARVED = HUNGERS[-1]
TELLS_DAYS, PESTS_DAYS = 60, 365  # how long looks are kept at hand for the day's warnings


@dataclass(frozen=True, slots=True)
class SeenAt:
    """One look, with when it was and which entry says so."""

    at: datetime
    entry: str
    what: ColonySeen


@dataclass(frozen=True, slots=True)
class ColonyLog:
    """What the entries about a box say of its colony."""

    seen: tuple[SeenAt, ...]
    flags: tuple[Flag, ...]

    @property
    def last_count(self) -> SeenAt | None:
        """The last look that says how many there are."""
        return next((one for one in reversed(self.seen) if tells_size(one.what)), None)

    @property
    def sites(self) -> float | None:
        """Pupation sites, as last said."""
        return next((one.what.sites for one in reversed(self.seen) if one.what.sites is not None), None)


def fold_colony(story: Story) -> ColonyLog:
    """Tell a colony from the story of its box; never raises, odd entries become flags."""
    seen = tuple(SeenAt(e.when.latest, e.id, e.what) for e in story.entries if isinstance(e.what, ColonySeen))
    told = ColonyLog(seen, ())
    return ColonyLog(seen, tuple(_odd(told)))


def at_hand(seen: tuple[SeenAt, ...]) -> tuple[SeenAt, ...]:
    """Return the looks that may still be news: those of the last weeks before the newest, the last count, pests of a year."""
    if not seen:
        return ()
    newest, count = max(one.at for one in seen), ColonyLog(seen, ()).last_count
    weeks, year = newest - timedelta(days=TELLS_DAYS), newest - timedelta(days=PESTS_DAYS)
    return tuple(one for one in seen if one is count or one.at >= (year if one.what.pests else weeks))


def tells_size(what: ColonySeen) -> bool:
    """Whether a look says how many there are: a grade, or a scoop of a known share. None alive needs no share."""
    return what.grade is not None or what.counted == 0 or (what.counted is not None and what.counted > 0 and _share(what.part))


def counts_none(what: ColonySeen) -> bool:
    """Whether nothing alive was seen."""
    return what.counted == 0 or what.grade == "none"


def _share(part: float | None) -> bool:
    return part is not None and 0 < part <= 1


def _odd(told: ColonyLog) -> Iterator[Flag]:
    for one in told.seen:
        yield from _odd_look(one, told.sites)


def _odd_look(one: SeenAt, sites: float | None) -> Iterator[Flag]:
    what = one.what
    words: dict[str, Plain | date] = {"day": one.at.date(), "entry": one.entry}
    if what.counted is not None and what.counted != 0 and not _share(what.part):
        yield Flag(
            said("flag.colony.part", "a count of {day:day} does not say of which share of the bedding it was", **words),
            said(
                "flag.colony.part.next",
                "write it again with its share, such as 2 %; until then it tells nothing of the colony",
                **words,
            ),
        )
    if any(value is not None and value < 0 for value in (what.counted, what.pupae, what.sites, what.fed_kg)):
        yield Flag(
            said("flag.colony.negative", "a look of {day:day} holds a number below 0", **words),
            said("flag.colony.negative.next", "write it again; until then it is left out", **words),
        )
    share = what.pupae_part if what.pupae_part is not None else 1.0
    if what.pupae is not None and sites is not None and _share(share) and what.pupae / share > sites:
        yield Flag(
            said(
                "flag.colony.sites", "about {pupae} pupae on {day:day}, in blocks said to hold {sites}",
                pupae=number(what.pupae / share, 6), sites=number(sites, 6), **words,
            ),
            said("flag.colony.sites.next", "count both again; if it is so, add blocks: what finds no hole is eaten", **words),
        )  # fmt: skip
