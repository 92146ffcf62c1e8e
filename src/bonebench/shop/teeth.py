"""The teeth of one specimen as the log tells them: the state of each tooth that was marked, and how many its jar should hold."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from bonebench.said import Plain, Said, said
from bonebench.shop.bath_entries import BathDiscarded, WaterChanged
from bonebench.shop.entries import Entry, root_of
from bonebench.shop.flags import Flag
from bonebench.shop.teeth_entries import JarChanged, JarCounted, TeethMarked, ToothState
from bonebench.shop.teeth_telling import listed
from bonebench.shop.what import What


@dataclass(frozen=True, slots=True)
class ToothMark:
    """What was last said of one tooth."""

    state: ToothState
    at: datetime
    entry: str


@dataclass(frozen=True, slots=True)
class TeethLog:
    """What is known of a specimen's teeth.

    ``rest`` is what every tooth without a mark of its own is; None while nobody has gone over the whole jaw. ``jar`` is how many
    the jar holds by the count and by what went in and out since; None while nobody said anything of a jar.
    """

    marks: dict[str, ToothMark] = field(default_factory=dict)
    rest: ToothState | None = None
    jar: int | None = None
    jar_at: datetime | None = None

    def of(self, code: str) -> ToothState | None:
        """Return how a tooth is; None while nobody said."""
        mark = self.marks.get(code)
        return self.rest if mark is None else mark.state

    def marked(self, *states: ToothState) -> list[str]:
        """Return the teeth that were marked with one of these states, by code."""
        return sorted(code for code, mark in self.marks.items() if mark.state in states)

    @property
    def jarred(self) -> list[str]:
        """The teeth that the chart puts into the jar."""
        return self.marked(ToothState.IN_JAR)

    @property
    def missing(self) -> list[str]:
        """The teeth that were there when it came in and are not found now."""
        return self.marked(ToothState.MISSING_NOW)

    @property
    def unplaced(self) -> int:
        """How many more teeth the jar holds than the chart says; below zero where the jar lacks some."""
        return 0 if self.jar is None and not self.jarred else (self.jar or 0) - len(self.jarred)


def fold_teeth(subject: str, entries: Iterable[Entry]) -> TeethLog:
    """Tell the teeth of one specimen from the entries about it that count, in their order; never raises."""
    told = TeethLog()
    for entry in entries:
        apply = _APPLY.get(type(entry.what))
        if apply is not None:
            told = apply(told, entry, entry.what, subject)
    return told


def _marked(told: TeethLog, entry: Entry, what: TeethMarked, subject: str) -> TeethLog:
    del subject
    fresh = {code: ToothMark(state, entry.when.latest, entry.id) for code, state in what.marks.items()}
    rest = told.rest if what.rest is None else what.rest
    return TeethLog({**told.marks, **fresh}, rest, told.jar, told.jar_at)


def _jar(told: TeethLog, entry: Entry, count: int) -> TeethLog:
    return TeethLog(told.marks, told.rest, count, entry.when.latest)


def _counted(told: TeethLog, entry: Entry, what: JarCounted, subject: str) -> TeethLog:
    del subject
    return _jar(told, entry, what.count)


def _changed(told: TeethLog, entry: Entry, what: JarChanged, subject: str) -> TeethLog:
    del subject
    return _jar(told, entry, (told.jar or 0) + what.by)


def _found_in_bath(told: TeethLog, entry: Entry, what: WaterChanged | BathDiscarded, subject: str) -> TeethLog:
    """Teeth of this specimen that the sieve kept go into its jar."""
    if not what.teeth or what.whose is None or root_of(what.whose) != subject:
        return told
    return _jar(told, entry, (told.jar or 0) + what.teeth)


_APPLY: dict[type[What], Callable[[TeethLog, Entry, Any, str], TeethLog]] = {
    TeethMarked: _marked,
    JarCounted: _counted,
    JarChanged: _changed,
    WaterChanged: _found_in_bath,
    BathDiscarded: _found_in_bath,
}


# What is worth a word on the page of a specimen: everything but a tooth where it belongs.
WORTH_TELLING = (ToothState.LOOSE, ToothState.IN_JAR, ToothState.GLUED, ToothState.CHIPPED, ToothState.MISSING_BEFORE,
                 ToothState.MISSING_NOW)  # fmt: skip


def tell_marked(teeth: TeethLog) -> Said | None:
    """Tell in one line which teeth are not simply in place, and what the jar holds; None while nobody said anything."""
    words = [f"{listed(codes)} {state.value}" for state in WORTH_TELLING if (codes := teeth.marked(state))]
    if teeth.jar is not None:
        words.append(f"{teeth.jar} counted in the jar")
    if not words and teeth.rest is None and not teeth.marks:
        return None
    return said("teeth.marked", "{found}", found="; ".join(words) or "nothing loose, missing or in a jar")


def _flag(key: str, what: str, after: str, **values: Plain) -> Flag:
    return Flag(said(f"flag.teeth.{key}", what, **values), said(f"flag.teeth.{key}.next", after, **values))


def teeth_flags(tag: str, teeth: TeethLog, *, gluing: bool, leaving: bool = False) -> Iterable[Flag]:
    """Say what does not add up: a jar that disagrees with the chart, teeth nobody can find, glue before they are found.

    ``gluing`` is set while teeth are to be put in next, or stand in fresh glue; ``leaving`` when it is about to go out.
    """
    missing = listed(teeth.missing)
    if teeth.missing and not gluing:
        yield _flag(
            "missing", "teeth nobody can find, and nobody said were missing before: {teeth}",
            "look in the sieve, the bag, the box's frass and bedding, the drain trap; or mark it as missing before it came in",
            tag=tag, teeth=missing,
        )  # fmt: skip
    if teeth.missing and gluing:
        yield _flag(
            "glue", "it is at the glue while teeth are unaccounted for: {teeth}",
            "look for them first, in the sieve, the bag, the frass and the drain trap: while the others are out, the empty sockets"
            " show which is whose", tag=tag, teeth=missing,
        )  # fmt: skip
    held = max(teeth.jar or 0, len(teeth.jarred))
    if leaving and held:
        yield _flag("leaving", "it is about to go out, and its jar holds {count}", "glue them in, or send the jar with it",
                    count="1 tooth" if held == 1 else f"{held} teeth")  # fmt: skip
    yield from _jar_flags(tag, teeth)


def _jar_flags(tag: str, teeth: TeethLog) -> Iterable[Flag]:
    values: dict[str, Plain] = {"tag": tag, "jar": teeth.jar or 0, "chart": len(teeth.jarred), "teeth": listed(teeth.missing)}
    if teeth.jar is not None and teeth.jar < 0:
        yield _flag("below", "more teeth were taken out of the jar of {tag} than were in it, by the record",
                    "count the jar and write the count down", **values)  # fmt: skip
    elif teeth.unplaced > 0 and teeth.missing:
        yield _flag(
            "found", "the jar of {tag} holds {jar} by the count, {chart} by the chart: what is missing may be in it ({teeth})",
            "hold each tooth of the jar against the empty sockets, then mark it as in the jar", **values,
        )  # fmt: skip
    elif teeth.unplaced > 0:
        yield _flag(
            "jar_more", "the jar of {tag} holds {jar} by the count, {chart} by the chart",
            "hold each tooth of the jar against the empty sockets, and mark on the chart which it is", **values,
        )  # fmt: skip
    elif teeth.unplaced < 0:
        yield _flag(
            "jar_less", "by the chart the jar of {tag} holds {chart}, by the count {jar}",
            "count the jar again, look on the bench and in the sieve; mark as missing now what is not there", **values,
        )  # fmt: skip
