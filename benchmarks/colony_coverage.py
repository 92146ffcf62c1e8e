"""How often the calibration's 90 % intervals hold the truth: ``python benchmarks/colony_coverage.py`` makes 200 colonies and says.

Colonies are made by the model itself, with what a person would have seen of them (`tests/science/colony/made.py`), and fitted as a
room's own are. So this covers the errors of the model's own kind only: counts, weighings, strain, size and ages. That real beetles
follow these equations at all is not in it, and no such run can put it in. The tests run 60 of them (`test_calibrate.py`).
"""

import argparse
import math
import sys
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.science.colony.made import held

WANTED, GOAL = 0.90, (0.80, 0.97)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--colonies", type=int, default=200, help="how many are made; 200 unless said")
    asked.add_argument("--members", type=int, default=200, help="colonies in each fit; 200 unless said")
    asked.add_argument("--first-seed", type=int, default=0, help="the first seed; the others follow it")
    said = asked.parse_args()
    begin = perf_counter()
    shares = held(range(said.first_seed, said.first_seed + said.colonies), said.members)
    error = math.sqrt(WANTED * (1 - WANTED) / said.colonies)
    print(f"{said.colonies} made colonies, {said.members} in each fit, {perf_counter() - begin:.0f} s")
    print(f"90 % intervals; chance alone moves a share by {100 * error:.1f} points; goal {GOAL[0]:.0%} to {GOAL[1]:.0%}")
    for what, share in shares.items():
        inside = "" if GOAL[0] <= share <= GOAL[1] else "  OUTSIDE"
        print(f"  {what:14} {share:6.1%}{inside}")
    print("errors of the model's own kind only; that real beetles follow it is not in this")
    sys.exit(not all(GOAL[0] <= share <= GOAL[1] for share in shares.values()))


if __name__ == "__main__":
    main()
