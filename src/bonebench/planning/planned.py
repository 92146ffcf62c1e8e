"""An order made a plan the quicker way: by `dispatch` itself in a usual room, by the compiled one in a large one.

Both give the same plan. The compiled one takes a hundredth of the time, but numba, which it needs, takes a third of a second to
import: too much for the little rooms whose plan is made in less.
"""

from collections.abc import Sequence

from bonebench.errors import Impossible
from bonebench.planning.dispatch import dispatch_prepared
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan

# Six plans (three rules, three paces) of so many pieces of eight steps take `dispatch` 0.4 s where they come in over months and
# 1.0 s where all are there at once; numba and the first compiled plan take 0.5 s.
LARGE = 150
# Where nothing is kept the first call compiles for most of a minute: as long as six plans of about so many pieces take `dispatch`.
WORTH_COMPILING = 1000


def planned(prepared: Prepared, order: Sequence[str], rule: str = "") -> Plan:
    """Turn an order into a plan; the same problem and order give the same plan, however large the room."""
    if len(prepared.pieces) < LARGE:
        return dispatch_prepared(prepared, order, rule)
    from bonebench.planning.quick import QuickRoom  # noqa: PLC0415  numba, only where it is worth it
    from bonebench.planning.told import told_plan  # noqa: PLC0415  numba, only where it is worth it
    from bonebench.science.scheduling import is_at_hand  # noqa: PLC0415  numba, only where it is worth it

    if len(prepared.pieces) < WORTH_COMPILING and not is_at_hand():
        return dispatch_prepared(prepared, order, rule)
    try:
        return told_plan(QuickRoom(prepared), order, rule)
    except (NotImplementedError, Impossible):
        # More kinds of place, or more going on, than the tables have room for: the same plan, only slower.
        return dispatch_prepared(prepared, order, rule)
