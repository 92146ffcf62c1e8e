"""From a change as it was written down to a change of the planner's room, and to words."""

from collections.abc import Iterable, Mapping

from bonebench.errors import UnknownName
from bonebench.files.whatif_toml import WITHOUT, Otherwise
from bonebench.planning import what_if
from bonebench.planning.problem import Problem
from bonebench.planning.what_if import Change
from bonebench.said import Said, number, said
from bonebench.shop.room import WEEKDAYS

# The key of the helper there might be.
HELPER = "one more helper"
DAY_NAMES = dict(zip(WEEKDAYS, ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"), strict=True))


def change_of(one: Otherwise, people: Mapping[str, str]) -> Change:
    """Return what a change does to the room; ``people`` are their names by key."""
    changes = tuple(_changes(one, people))

    def change(problem: Problem) -> Problem:
        for each in changes:
            problem = each(problem)
        return problem

    return change


def _changes(one: Otherwise, people: Mapping[str, str]) -> Iterable[Change]:
    if one.no_new_before is not None:
        yield what_if.refuse_until(one.no_new_before)
    for left_out in one.without:
        yield what_if.without(*WITHOUT[left_out])
    for kind, more in one.more.items():
        yield what_if.more_of(kind, more)
    if one.helper is not None:
        yield what_if.helper(HELPER, one.helper.days, one.helper.begins, one.helper.ends, one.helper.trained)
    for name, minutes in one.longer.items():
        yield what_if.longer_hours(_key_of(name, people), minutes)
    if one.appetite is not None:
        yield what_if.hungrier(one.appetite)


def _key_of(name: str, people: Mapping[str, str]) -> str:
    """Return the key of a person by name; the hours of only these can be longer."""
    keys = [key for key, known in people.items() if known.casefold() == name.strip().casefold()]
    if not keys:
        names = tuple(sorted(people.values()))
        raise UnknownName(
            "what_if.person", "nobody who works here is called '{name}'; {known}", could_be=names, name=name,
            known="known are " + ", ".join(names) if names else "say who works when on the page The room first",
        )  # fmt: skip
    return keys[0]


def words_of(one: Otherwise) -> tuple[Said, ...]:
    """Say what a change does."""
    return tuple(_words(one))


def _words(one: Otherwise) -> Iterable[Said]:
    for kind, more in one.more.items():
        yield said("what_if.more", "{more} more {kind}, like the one there is", more=more, kind=kind)
    if one.helper is not None:
        days = ", ".join(DAY_NAMES[WEEKDAYS[day]] for day in one.helper.days)
        yield said(
            "what_if.helper", "one more helper, {days} {begins} to {ends}, for {work}",
            days=days, begins=f"{one.helper.begins:%H:%M}", ends=f"{one.helper.ends:%H:%M}", work=", ".join(one.helper.trained),
        )  # fmt: skip
    for name, minutes in one.longer.items():
        yield said("what_if.longer", "{name} stays {minutes:minutes} longer each day", name=name, minutes=minutes)
    if one.appetite is not None:
        yield said("what_if.appetite", "the beetles eat {times} times what they eat now", times=number(one.appetite))
    for left_out in one.without:
        yield said("what_if.without", "no {what} where it has not begun", what=left_out)
    if one.no_new_before is not None:
        yield said("what_if.no_new", "nothing new before {day:day}", day=one.no_new_before)
