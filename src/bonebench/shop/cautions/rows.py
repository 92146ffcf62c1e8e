"""Cautions as rows of data, how they are filled, and in which order they are said."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from bonebench.figures import Standing
from bonebench.said import Plain, Said, said


class Level(StrEnum):
    """How loud a caution is: read it, read it first, or say yes to it before going on."""

    READ = "read"
    STRONG = "strong"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution as a card shows it."""

    key: str
    hazard: Said
    when: Said
    do: Said
    source: str
    standing: Standing
    level: Level


@dataclass(frozen=True, slots=True)
class CautionRow:
    """One caution as data: sentences with holes, and the values the row itself brings."""

    key: str
    hazard: str
    when: str
    do: str
    source: str
    standing: Standing
    level: Level
    values: Mapping[str, Plain] = field(default_factory=dict)

    def filled(self, **values: Plain) -> Caution:
        """Return the caution with its holes filled."""
        hazard, when, do = (
            said(f"caution.{self.key}.{part}", text, **{**self.values, **values})
            for part, text in (("hazard", self.hazard), ("when", self.when), ("do", self.do))
        )
        return Caution(self.key, hazard, when, do, self.source, self.standing, self.level)


Rows = Mapping[str, CautionRow]
Picked = Iterator[tuple[str, dict[str, Plain]]]

DEFER = "defer"
CRUMB = 1e-9  # 35 % typed as 35 * 0.01 is 0.35000000000000003

_LOUDNESS = (Level.STOP, Level.STRONG, Level.READ)


def ordered(rows: Rows, picked: Picked) -> tuple[Caution, ...]:
    """Fill the rows picked, each once; the loudest come first and otherwise the order of the rules is kept."""
    once = dict(picked)
    cautions = sorted((rows[key].filled(**values) for key, values in once.items()), key=lambda c: _LOUDNESS.index(c.level))
    return (*cautions, rows[DEFER].filled())


# What makes somebody say yes once, beside what stops the hand: it scalds at a touch and cooks bone.
ASKED = frozenset({"pot.hot_for_bone"})


def asks_for_a_yes(cautions: tuple[Caution, ...]) -> bool:
    """Whether these dangers are said yes to by each person before the first time."""
    return any(caution.level is Level.STOP or caution.key in ASKED for caution in cautions)


def merged(rows: Rows, *lists: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Return several lists as one: each caution once, the loudest first, the one that defers last."""
    once = {caution.key: caution for cautions in lists for caution in cautions if caution.key != DEFER}
    return (*sorted(once.values(), key=lambda c: _LOUDNESS.index(c.level)), rows[DEFER].filled())


@dataclass(frozen=True, slots=True, kw_only=True)
class Cautioned:
    """What a card of a mix, a bath, a move or a step is built on: it cannot be made without its cautions."""

    cautions: tuple[Caution, ...]

    def __post_init__(self) -> None:
        if not self.cautions or self.cautions[-1].key != DEFER:
            raise ValueError("a card of a mix, a bath or a step must carry its cautions, and the last must defer to local codes")
