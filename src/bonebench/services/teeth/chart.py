"""From a species, an age and the log to the chart of one specimen, as plain values."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from bonebench.reference.teeth import ToothRecord, teeth_of_species
from bonebench.science.anatomy import JAWS, KINDS, SIDES, Tooth, teeth_of
from bonebench.services.known import Known, species_of
from bonebench.services.teeth.cards import OnChart
from bonebench.shop.species import Species
from bonebench.shop.specimen import Specimen
from bonebench.shop.teeth_age import dentition_at

ChartKind = Literal["permanent", "milk", "changing", "none", "unknown"]


@dataclass(frozen=True, slots=True)
class Chart:
    """The teeth a specimen may have: those to expect, those that may be there too, and any other its two dentitions know."""

    species: Species
    kind: ChartKind
    record: ToothRecord | None
    teeth: tuple[Tooth, ...] = ()
    extra: tuple[Tooth, ...] = ()
    known_total: int | None = None

    @property
    def shown(self) -> tuple[Tooth, ...]:
        """Every tooth the chart draws, quarter by quarter from the middle of the mouth to the back."""
        return tuple(sorted((*self.teeth, *self.extra), key=_along_the_jaw))

    @property
    def expected(self) -> int | None:
        """How many teeth to expect; None while teeth change, or where no formula fixes the number."""
        if self.kind in ("none", "unknown"):
            return self.known_total
        return None if self.kind == "changing" else len(self.teeth)

    def whence(self, tooth: Tooth) -> OnChart:
        """Say whether this animal should have a tooth."""
        if tooth in self.teeth:
            return "expected" if self.kind != "changing" else "may be there"
        return "may be there" if tooth in self.extra or tooth in self.growing else "not of this species"

    @property
    def growing(self) -> frozenset[Tooth]:
        """In a young animal: every tooth of both sets, for the first permanent ones come through beside milk teeth."""
        if self.record is None or self.kind not in ("milk", "changing"):
            return frozenset()
        both = (self.record.adult, self.record.milk) if self.record.milk is not None else (self.record.adult,)
        return frozenset(tooth for dentition in both for tooth in teeth_of(dentition))


def _along_the_jaw(tooth: Tooth) -> tuple[int, int, bool, int, int]:
    return JAWS.index(tooth.jaw), SIDES.index(tooth.side), not tooth.milk, KINDS.index(tooth.kind), tooth.number


def chart_of(specimen: Specimen, known: Known) -> Chart:
    """Return the chart of a specimen by its species and the age that was written down."""
    species = species_of(specimen.species, known)
    if specimen.species not in known.species:
        # A species nobody knows has no formula of its own, whatever it is taken for elsewhere.
        return Chart(species, "unknown", None)
    if species.total_teeth == 0:
        return Chart(species, "none", None, known_total=0)
    record = teeth_of_species(species)
    if record is None:
        return Chart(species, "unknown", None, known_total=species.total_teeth)
    age = "permanent" if record.born_with_adult else dentition_at(specimen.age, record.full_mouth_years)
    if age == "permanent":
        return Chart(species, "permanent", record, teeth_of(record.adult), _new(record.may_also_have, record))
    if age == "milk" and record.milk is not None:
        return Chart(species, "milk", record, teeth_of(record.milk))
    milk = teeth_of(record.milk) if record.milk is not None else ()
    return Chart(species, "changing", record, (*milk, *teeth_of(record.adult)), _new(record.may_also_have, record))


def _new(extra: Iterable[Tooth], record: ToothRecord) -> tuple[Tooth, ...]:
    known = set(teeth_of(record.adult))
    return tuple(tooth for tooth in extra if tooth not in known)


def expected_teeth(specimen: Specimen, known: Known) -> int | None:
    """Return how many teeth the jar and the jaws of a specimen hold together when nothing is lost: what a jar's label says."""
    return chart_of(specimen, known).expected
