"""The shipped questions at the door, read from intake.toml and checked."""

from functools import lru_cache
from importlib.resources import files

from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.intake import Outcome, Question

FILE = "intake.toml"
NEEDED = ("text", "why", "yes", "unknown", "source", "standing")
ALSO = ("must_ask", "values")
OUTCOME_NEEDED = ("hold", "ask", "route")
OUTCOME_ALSO = ("treated", "freezes", "no_freezer")


def _outcome(row: Row, holes: tuple[str, ...]) -> Outcome:
    row.check(OUTCOME_NEEDED, OUTCOME_ALSO)
    outcome = Outcome(
        hold=row.sentence("hold", holes),
        ask=row.sentence("ask", holes),
        route=row.sentence("route", holes),
        treated=row.mark("treated"),
        freezes=row.mark("freezes"),
        no_freezer=row.mark("no_freezer"),
    )
    if outcome.freezes and outcome.no_freezer:
        raise row.fault("no_freezer", "it cannot both go into the freezer and stay out of it; choose one")
    return outcome


def _question(row: Row) -> Question:
    row.check(NEEDED, ALSO)
    values = row.values()
    holes = tuple(values)
    return Question(
        key=row.path,
        text=row.sentence("text"),
        why=row.sentence("why", holes),
        must_ask=row.mark("must_ask"),
        yes=_outcome(row.row("yes"), holes),
        unknown=_outcome(row.row("unknown"), holes),
        source=row.text("source"),
        standing=row.one_of("standing", STANDINGS),
        values=values,
    )


def read_questions(text: str, file: str = FILE) -> dict[str, Question]:
    """Read a table of questions; the row and the field that cannot be used are named."""
    return {key: _question(row) for key, row in read_rows(text, file).items()}


@lru_cache(maxsize=1)
def load_questions() -> dict[str, Question]:
    """Return the shipped questions by their keys, in the order they are asked; do not change what is returned."""
    return read_questions((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
