"""The kinds of long work there are."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from bonebench.door.work import Kind, Report
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said
from bonebench.services.colony import ready
from bonebench.services.plans.better import Found, look, warm_up
from bonebench.services.promise.do import for_search, keep_found
from bonebench.services.season.counted import SearchingFed
from bonebench.services.what_if import long as what_if
from bonebench.services.year import long as holiday


def better_plan(searching: SearchingFed, report: Report) -> Found:
    """Look for a better plan, and work out what can be promised by it."""

    def tell(share: float, words: Said) -> None:
        report(share, words, None)

    found = look(searching, tell)
    if not searching.counted:
        return found
    from bonebench.services.season.fed import with_the_colony  # noqa: PLC0415  the model, only where a colony was counted

    return with_the_colony(found, searching)


def _nothing(tx: Reading, now: datetime, asked: Mapping[str, Any]) -> datetime:
    del tx, asked
    return now


def compile_ahead(now: datetime, report: Report) -> int:
    """Compile what plans and counted colonies are reckoned with, so that the first to ask for a promise need not wait for it.

    Code that is kept already is just loaded.
    """
    del now
    report(0.0, said("warm.begun", "getting ready to plan; the first time on a machine it takes a minute"), None)
    warm_up()
    report(0.7, said("warm.colony", "getting ready to reckon with the colony"), None)
    ready.warm_up()
    return 2


def _kept(tx: Writing, now: datetime, gathered: datetime, result: int) -> Mapping[str, Any]:
    del tx, now, gathered
    return {"kinds": result}


KINDS: Mapping[str, Kind] = {
    "plan": Kind("plan", for_search, better_plan, keep_found),
    what_if.KIND: Kind(what_if.KIND, what_if.for_long, what_if.work_out, what_if.keep),
    holiday.KIND: Kind(holiday.KIND, holiday.for_long, holiday.work_out, holiday.keep),
    "warm": Kind("warm", _nothing, compile_ahead, _kept),
}
