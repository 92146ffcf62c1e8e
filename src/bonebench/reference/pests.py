"""The shipped pests of a colony, read from pests.toml and checked."""

from functools import lru_cache
from importlib.resources import files

from bonebench.reference.rounds import load_rounds
from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.pests import ROUND, Pest

FILE = "pests.toml"
NEEDED = ("name", "names", "does", "do", "act", "source", "standing")


def _names(row: Row) -> tuple[str, ...]:
    value = row.fields["names"]
    if not isinstance(value, list) or not all(isinstance(name, str) and name.strip() for name in value):
        raise row.fault("names", "must be a list of words, like {example}", example='["one", "two"]')
    return tuple(value)


def _pest(row: Row) -> Pest:
    row.check(NEEDED, ("round",))
    answers = {wrong.key: wrong.key for wrong in load_rounds()[ROUND].wrongs}
    return Pest(
        key=row.path,
        name=row.text("name"),
        names=_names(row),
        does=row.sentence("does"),
        do=row.sentence("do"),
        act=row.mark("act"),
        answer=row.one_of("round", answers) if "round" in row.fields else None,
        source=row.text("source"),
        standing=row.one_of("standing", STANDINGS),
    )


def read_pests(text: str, file: str = FILE) -> dict[str, Pest]:
    """Read a table of pests; the row and the field that cannot be used are named."""
    return {key: _pest(row) for key, row in read_rows(text, file).items()}


@lru_cache(maxsize=1)
def load_pests() -> dict[str, Pest]:
    """Return the shipped pests by their keys; do not change what is returned."""
    return read_pests((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
