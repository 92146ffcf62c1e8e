"""Promises in an open transaction: gather what a quote or a search needs, keep what a search found, look at what was promised."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

import msgspec

from bonebench.errors import OutsideRange
from bonebench.planning.prepared import Prepared
from bonebench.planning.search import completed
from bonebench.records import plans, states
from bonebench.records.book import Reading, Writing
from bonebench.services import keeping
from bonebench.services.appetites import appetites_to_json
from bonebench.services.gather import APPETITE, everything_in_work, finished, kept_plan, known_of, surroundings
from bonebench.services.known import Known
from bonebench.services.plans.better import Found, Searching
from bonebench.services.plans.make import Earlier, Paces, make_plan
from bonebench.services.plans.problem import problem_of
from bonebench.services.plans.stored import plan_to_json, promises_to_json
from bonebench.services.promise.appetite import appetites_of
from bonebench.services.promise.cards import KeptCard
from bonebench.services.promise.meanwhile import uncertain_of
from bonebench.services.promise.quote import Gathered
from bonebench.services.promise.turned_out import kept_card
from bonebench.services.season.counted import SearchingFed, counted_in
from bonebench.shop.specimen import Specimen

MOST_SECONDS = 3600.0
MOST_MOVES = 1_000_000


def _everyone(tx: Reading) -> list[Specimen]:
    return [msgspec.convert(state, Specimen) for state in states.specimens(tx)]


def for_quote(tx: Reading, now: datetime) -> Gathered:
    """Return what a quote is made from: the room, the order that is kept, and what is not known."""
    known, plan = known_of(tx, now), kept_plan(tx)
    subjects = everything_in_work(tx, known)
    appetites, paths = appetites_of(tx, known, subjects, now)
    known = replace(known, appetites=appetites)
    problem = problem_of(subjects, known, now)
    order = plan.order if plan is not None else ()
    return Gathered(known, problem, completed(order, Prepared(problem)), uncertain_of(_everyone(tx), known, now, paths=paths), now)


def for_search(tx: Reading, now: datetime, asked: Mapping[str, Any]) -> SearchingFed:
    """Return what a search needs; ``asked`` may hold seconds, moves and seed."""
    known = known_of(tx, now)
    subjects = everything_in_work(tx, known)
    appetites, paths = appetites_of(tx, known, subjects, now)
    known = replace(known, appetites=appetites)
    revision = plans.work_revision(tx)
    before = kept_plan(tx) or make_plan(subjects, known, now=now, work_revision=revision)
    since = Earlier(before, keeping.plan_of_day_before(tx)).since(known.room.day(now))
    uncertain = uncertain_of(_everyone(tx), known, now, paths=paths)
    searching = SearchingFed(
        Paces.of(subjects, known, now), before, uncertain, revision, since, appetites, counted=counted_in(tx, known, subjects, now)
    )
    told = {name: asked[name] for name in ("seconds", "moves", "seed") if asked.get(name) is not None}
    for name, most in (("seconds", MOST_SECONDS), ("moves", MOST_MOVES)):
        if name in told and not 0 <= told[name] <= most:
            raise OutsideRange("plan.effort", "{name} is {value}; it is 0 to {most}", name=name, value=told[name], most=most)
    return replace(searching, **told)


def keep_found(tx: Writing, now: datetime, gathered: Searching, found: Found) -> Mapping[str, Any]:
    """Keep what a search found; where the book has moved on, its order is still the one to begin from."""
    del now
    last = kept_plan(tx)
    if last is not None and last.day < found.plan.day:
        plans.put(tx, keeping.DAY_BEFORE, plan_to_json(last), work_revision=last.work_revision, made_at=last.made_at)
    current = plans.work_revision(tx) == gathered.work_revision
    plan = found.plan if current else replace(found.plan, work_revision=-1)
    plans.put(tx, keeping.KIND, plan_to_json(plan), work_revision=plan.work_revision, made_at=plan.made_at)
    if gathered.appetites is not None:
        kept = appetites_to_json(gathered.appetites)
        plans.put(tx, APPETITE, kept, work_revision=gathered.work_revision, made_at=gathered.appetites.made_at)
    plans.put(
        tx, "promises", promises_to_json(found.promises), work_revision=gathered.work_revision, made_at=found.promises.made_at
    )
    return {
        "status": found.plan.status, "tried": found.tried, "cut_short": found.cut_short, "current": current,
        "late_days": found.plan.score[0] if found.plan.score else 0.0, "gain_late_days": found.gain_days,
    }  # fmt: skip


def turned_out(tx: Reading, now: datetime) -> KeptCard:
    """Return how promises turned out."""
    known: Known = known_of(tx)
    return kept_card(finished(tx, known), everything_in_work(tx, known), surroundings(tx, known, now))
