"""How a species is named on a card, known or not."""

from bonebench.services.cards import SpeciesName
from bonebench.services.known import Known


def species_name(key: str, known: Known) -> SpeciesName:
    """Return the names of a species; a key nobody knows is shown as it was written."""
    species = known.species.get(key)
    return SpeciesName(key, key, "") if species is None else SpeciesName(key, species.common_name, species.scientific_name)
