"""Search over everything: tag, owner, species, place, part, lot, vial, condition, note. Every word must fit somewhere."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from bonebench.records import finding
from bonebench.records.book import Reading
from bonebench.said import said
from bonebench.services.gather import carried_before, names_of_people, room_of
from bonebench.services.known import known_in
from bonebench.services.search.cards import FoundCard, SearchCard
from bonebench.services.specimens.names import species_name
from bonebench.shop.identity import near_tags
from bonebench.shop.names import plain_letters, plain_words
from bonebench.shop.species import Species

MOST = 50


@lru_cache(maxsize=64)
def _spelled(names: tuple[str, ...]) -> str:
    """All the names of one species as one line of plain words."""
    return " ".join(word for name in names for word in plain_words(name))


def _species_with(word: str, species: Mapping[str, Species]) -> frozenset[str]:
    return frozenset(key for key, one in species.items() if word in _spelled((one.key, *one.names)))


def find(tx: Reading, asked: str) -> SearchCard:
    """Return what answers to the words; a tag that fits nothing is answered with the tags it could be."""
    words = tuple(asked.split())
    if not words:
        ask = said("search.ask", "Ask for a tag, an owner, a species, a place, a part, a lot or a word of a note.")
        return SearchCard(asked, (), (), ask)
    room = room_of(tx)
    known = known_in(room)
    people = names_of_people(tx)
    places = {place.key: place.name for place in room.places}
    before = {tag.replace("-", ""): specimen.id for tag, specimen in carried_before(tx).items()}
    meant = [replace(_meant(word, known.species, people, places), carried=_carried(word, before)) for word in words]
    rows = finding.find(tx, meant, most=MOST)
    could_be = () if rows else near_tags(asked, finding.tags(tx))
    return SearchCard(
        asked=asked,
        rows=tuple(
            FoundCard(row.id, row.tag, species_name(row.species or "", known), people.get(row.owner or ""), row.finished)
            for row in rows
        ),
        could_be=could_be,
        teach=None if rows else said("search.nothing", "Nothing answers to '{asked}'.", asked=asked),
    )


def _carried(word: str, before: Mapping[str, str]) -> frozenset[str]:
    """Return the specimen that once carried this as its tag."""
    former = before.get(word.replace("-", "").upper())
    return frozenset() if former is None else frozenset({former})


def _meant(word: str, species: Mapping[str, Species], people: Mapping[str, str], places: Mapping[str, str]) -> finding.Word:
    plain = " ".join(plain_words(word)) or word.casefold()
    return finding.Word(
        text=word,
        species=_species_with(plain, species),
        owners=frozenset(id for id, name in people.items() if plain in " ".join(plain_words(name))),
        places=frozenset(key for key, name in places.items() if plain in " ".join(plain_words(name))),
        plain=plain_letters(word) if any(letter.isalnum() for letter in word) else "",
    )
