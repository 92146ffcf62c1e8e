"""The cards of species."""

from dataclasses import dataclass

from bonebench.services.cards import Basis, Caution, Flag


@dataclass(frozen=True)
class ValueCard:
    """One value of a species with its range, unit, standing and source."""

    name: str
    text: str
    value: float | None
    low: float | None
    high: float | None
    unit: str
    standing: str
    source: str


@dataclass(frozen=True)
class SpeciesCard:
    """One species; ``own`` says that the room added it or changed figures of it."""

    key: str
    common: str
    scientific: str
    other_names: tuple[str, ...]
    order: str
    own: bool
    values: tuple[ValueCard, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "species.show/1"


@dataclass(frozen=True)
class SpeciesRow:
    """One line of the list."""

    key: str
    common: str
    scientific: str
    order: str
    grease_class: int
    teeth: int | None
    own: bool


@dataclass(frozen=True)
class SpeciesListCard:
    """The species that answer to what was asked."""

    rows: tuple[SpeciesRow, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "species.list/1"
