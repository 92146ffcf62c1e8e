"""Species in an open transaction."""

from bonebench.records.book import Reading
from bonebench.services.gather import known_of
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard
from bonebench.services.species.show import species_card, species_list
from bonebench.units import Reader


def show(tx: Reading, query: str, reader: Reader) -> SpeciesCard:
    """Return one species with the standing of every value."""
    return species_card(query, known_of(tx), reader)


def listed(tx: Reading, query: str) -> SpeciesListCard:
    """Return the species that answer to a word."""
    return species_list(query, known_of(tx))
