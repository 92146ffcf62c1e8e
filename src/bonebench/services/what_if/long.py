"""A what-if that takes long: asked for, worked out in a process of its own with what is done so far at hand, kept, shown again."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from time import monotonic
from typing import Any

import msgspec

from bonebench.errors import Impossible
from bonebench.files.whatif_toml import Otherwise
from bonebench.records import plans
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said
from bonebench.services import jobs
from bonebench.services.at_length import age_words, keep_answer, kept_answer, read_back
from bonebench.services.cards import Flag
from bonebench.services.what_if.cards import WhatIfCard, WhatIfKeptCard
from bonebench.services.what_if.do import MOVES, Asked, Told, check_moves, for_what_if, worked_one_by_one

KIND = "what-if"
CLOSER_MOVES = 3000  # a closer look: ten times the orders of a usual one
EVERY_S = 0.5  # how often it is told how far it is
Report = Callable[[float, Said, WhatIfCard | None], None]


@dataclass(frozen=True, slots=True)
class Long:
    """What was asked, the room it is asked of, and the revision of the book that room is of."""

    asked: Asked
    told: Told
    work_revision: int


def as_asked(changes: Sequence[Otherwise], moves: int = MOVES) -> dict[str, Any]:
    """Return a question as it is written down with the work; `asked_of` reads it back."""
    return {"changes": msgspec.to_builtins(tuple(changes)), "moves": moves}


def asked_of(plain: Mapping[str, Any]) -> Asked:
    """Read a question back."""
    return msgspec.convert(dict(plain), Asked)


def for_long(tx: Reading, now: datetime, asked: Mapping[str, Any]) -> Long:
    """Return what the work needs; what cannot be is refused before it begins."""
    wanted = asked_of(asked)
    check_moves(wanted)
    if not wanted.changes:
        raise Impossible("what_if.nothing_asked", "nothing is changed: tick or name at least one change")
    return Long(wanted, for_what_if(tx, now), plans.work_revision(tx))


def work_out(long: Long, report: Report) -> WhatIfCard:
    """Plan side by side, and tell how far it is; what is planned so far is told after each change."""
    asked, changes = long.asked, long.asked.changes
    progress = _Progress(asked, report)
    report(0.0, said("what_if.begun", "planning the room as it is"), None)
    card: WhatIfCard | None = None
    for card in worked_one_by_one(asked, long.told, progress.out_of_time):
        done = len(card.sides) - 1
        words = said("what_if.planned", "{done} of {all} changes planned", done=done, all=len(changes))
        progress.side_done(done)
        report(progress.share, words, _cut_short(card, done, len(changes)) if done < len(changes) else card)
    if card is None:
        raise AssertionError("a what-if has at least the room as it is")
    return card


class _Progress:
    """How far it is, by orders tried: of the first search, of the room as it is, then of each change."""

    def __init__(self, asked: Asked, report: Report) -> None:
        self._most = max(asked.moves, 1)
        self._names = ("as it is", "as it is", *(one.name for one in asked.changes))
        self._report = report
        self._done = self._tried = 0
        self._told = monotonic()
        self.share = 0.0

    def side_done(self, changes: int) -> None:
        """Go on from the end of a change."""
        self._done, self._tried = changes + 2, 0
        self.share = self._done / len(self._names)

    def out_of_time(self) -> bool:
        """Count one try; time is never out, for effort is counted and not clocked."""
        self._tried += 1
        now = monotonic()
        if now - self._told > EVERY_S:
            self._told = now
            # A search may end before it has tried so many; the sides before the first change are told apart by that alone.
            done = min(self._done + self._tried / self._most, len(self._names) - 0.1)
            self.share = max(self.share, done / len(self._names))
            words = said("what_if.tried", "{name}: {tried} orders tried", name=self._names[int(done)], tried=self._tried)
            self._report(self.share, words, None)
        return False


def _cut_short(card: WhatIfCard, done: int, asked: int) -> WhatIfCard:
    flag = Flag(
        said("what_if.stopped", "it was stopped after {done} of {asked} changes", done=done, asked=asked),
        said("what_if.stopped.next", "ask again for the others"),
    )
    return replace(card, flags=(flag, *card.flags))


def keep(tx: Writing, now: datetime, long: Long, card: WhatIfCard) -> Mapping[str, Any]:
    """Keep the card in place of the one before, with the revision it was made for."""
    del now
    asked = as_asked(long.asked.changes, long.asked.moves)
    keep_answer(tx, KIND, asked, card, work_revision=long.work_revision, made_at=card.made_at)
    return {"sides": len(card.sides), "moves": card.moves}


def kept(tx: Reading, now: datetime) -> WhatIfKeptCard:
    """Return the newest work of this kind and the answer that is kept."""
    newest = next(iter(jobs.newest(tx, now, KIND).jobs), None)
    answered = kept_answer(tx, KIND)
    card = read_back(answered.card, WhatIfCard) if answered is not None else None
    if answered is None or card is None:
        return WhatIfKeptCard(newest, None, None, None)
    return WhatIfKeptCard(newest, card, answered.current, age_words(answered, now))


def kept_question(tx: Reading, now: datetime) -> Asked | None:
    """Return the question whose answer is kept, so that its ticks can be set again."""
    del now
    answered = kept_answer(tx, KIND)
    return read_back(answered.asked, Asked) if answered is not None else None
