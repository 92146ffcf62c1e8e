"""Worked examples of peroxide arithmetic from tests/data/peroxide_examples.csv; a row added there is a new test."""

import csv
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

TABLE = Path(__file__).parents[2] / "data" / "peroxide_examples.csv"


@dataclass(frozen=True)
class Example:
    case: str
    kind: str
    inputs: dict[str, Any]
    output: str
    expected: float
    abs_tol: float
    wrong: bool

    def __str__(self) -> str:
        return f"{self.case} {'not ' if self.wrong else ''}{self.output}"


def examples(kind: str) -> list[Example]:
    """The rows of one kind; blank inputs are those of the line above, and a "not" row is a wrong answer to the same."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    found, kind_above, inputs_above = [], "", ""
    for row in csv.DictReader(lines):
        assert None not in row.values(), f"a cell is missing in {row}"
        assert None not in row, f"a cell too many in {row}"
        wrong = row["kind"] == "not"
        kind_above = kind_above if wrong else row["kind"] or kind_above
        inputs_above = row["inputs_json"] or inputs_above
        if kind_above == kind:
            found.append(
                Example(
                    row["case"],
                    kind,
                    json.loads(inputs_above),
                    row["output"],
                    float(row["expected"]),
                    float(row["abs_tol"]),
                    wrong,
                )
            )
    assert found, f"no example of {kind}"
    return found


def agrees(example: Example, value: float) -> bool:
    """Whether a value is what the example says it is, or for a wrong answer is well away from it."""
    return (abs(value - example.expected) <= example.abs_tol) != example.wrong
