"""The kinds of long work there are."""

from collections.abc import Mapping

from bonebench.door.work import Kind, Report
from bonebench.said import Said
from bonebench.services.plans.better import Found, Searching, look
from bonebench.services.promise.do import for_search, keep_found


def better_plan(searching: Searching, report: Report) -> Found:
    """Look for a better plan, and work out what can be promised by it."""

    def tell(share: float, words: Said) -> None:
        report(share, words, None)

    return look(searching, tell)


KINDS: Mapping[str, Kind] = {"plan": Kind("plan", for_search, better_plan, keep_found)}
