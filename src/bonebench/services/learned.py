"""Durations that learn: the room's own pieces shift the days of a method, a little for three pieces, a lot for thirty."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from bonebench.records.states import StayRow
from bonebench.science.learning import Learned, Prior, shrunk, shrunk_twice
from bonebench.services.known import Known, method_of_stay, species_of
from bonebench.shop.methods import Method, Span, size_of
from bonebench.shop.steps import Step

# The days of these are never learned. In the freezer a piece waits for room; and how long the cold must last to kill, how long
# glue sets, bone rinses or dries before it is measured is a rule: a room that breaks it teaches nothing but to break it.
NOT_LEARNED = frozenset({Step.FROZEN_HOLD, Step.FREEZE_AGAIN, Step.ONE_MORE_DAY, Step.KILL, Step.CURE, Step.RINSE, Step.MEASURE})


@dataclass(frozen=True, slots=True)
class _Seen:
    method: str
    name: str
    species: str
    days: float


def _seen(stays: Iterable[StayRow], known: Known) -> Iterable[_Seen]:
    """Put each stay under the method and class it belongs to."""
    for stay in stays:
        step = Step(stay.step)
        method = method_of_stay(step, stay.method, known)
        if method is None or step in NOT_LEARNED or stay.days <= 0:
            continue
        species = species_of(stay.species, known)
        head = stay.head_kg if stay.head_kg is not None else species.body_mass_kg.value * species.head_share.value
        name = method.class_of(grease=species.grease_class, size=size_of(head))
        yield _Seen(method.key, name, stay.species, stay.days)


def with_learned(known: Known, stays: Iterable[StayRow]) -> Known:
    """Return what is known with every method's days shifted by the room's own pieces."""
    by_class: dict[tuple[str, str], list[_Seen]] = {}
    for seen in _seen(stays, known):
        by_class.setdefault((seen.method, seen.name), []).append(seen)
    methods = {key: _taught(method, by_class) for key, method in known.methods.items()}
    return replace(known, methods=methods)


def _taught(method: Method, by_class: Mapping[tuple[str, str], list[_Seen]]) -> Method:
    days, pieces, own = dict(method.days), dict(method.pieces), dict(method.own_days)
    for name, span in method.days.items():
        seen = by_class.get((method.key, name), [])
        if not seen or span.p10 == 0:
            continue
        prior = _prior(span)
        everything = [one.days for one in seen]
        days[name], pieces[name] = _span(shrunk(prior, everything)), len(seen)
        for species in {one.species for one in seen}:
            of_it = [one.days for one in seen if one.species == species]
            rest = [one.days for one in seen if one.species != species]
            usual = method.own_days.get(species)
            own[species] = _span(shrunk_twice(prior, rest, of_it) if usual is None else shrunk(_prior(usual), of_it))
            pieces[species] = len(of_it)
    if pieces == dict(method.pieces):
        return method
    return replace(method, days=days, pieces=pieces, own_days=own)


def _prior(span: Span) -> Prior:
    return Prior(span.p10, span.p50, span.p90)


def _span(learned: Learned) -> Span:
    return Span(learned.p10, learned.p50, learned.p90)
