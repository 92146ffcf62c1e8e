"""Finding a species by whatever a person calls it, with suggestions where nothing fits.

Case, accents, hyphens and spaces do not matter. An exact name wins; then a name that ends with what was asked ("fox"), then one
that has every asked word in it, then one whose words begin that way ("whitet"). Two that fit equally well are never guessed at.
"""

import difflib
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from bonebench.errors import UnknownName

if TYPE_CHECKING:
    from bonebench.shop.species import Species

SHOWN = 6
LEAST_LETTERS = 3  # fewer letters begin too many names to mean one
SPELLINGS = {"grey": "gray", "harbour": "harbor"}


def plain_letters(text: str) -> str:
    """Return a text without case and accents; its signs and spaces stay."""
    return "".join(c for c in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(c))


@lru_cache(maxsize=4096)
def plain_words(name: str) -> tuple[str, ...]:
    """Return the words of a name without case, accents, hyphens and signs."""
    plain = plain_letters(name).replace("'", "").replace("’", "")
    letters = "".join(c if c.isalnum() else " " for c in plain)
    return tuple(SPELLINGS.get(word, word) for word in letters.split())


Fits = Callable[[tuple[str, ...], tuple[str, ...]], bool]


def _exact(asked: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return "".join(asked) == "".join(name)


def _ends(asked: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return name[-len(asked) :] == asked


def _has_words(asked: tuple[str, ...], name: tuple[str, ...]) -> bool:
    return set(asked) <= set(name)


def _begins(asked: tuple[str, ...], name: tuple[str, ...]) -> bool:
    if sum(map(len, asked)) < LEAST_LETTERS:
        return False
    joined = "".join(name).startswith("".join(asked))
    return joined or all(any(word.startswith(a) for word in name) for a in asked)


WAYS: tuple[Fits, ...] = (_exact, _ends, _has_words, _begins)


def _named(species: "Species") -> tuple[tuple[str, ...], ...]:
    return tuple(plain_words(name) for name in (species.key, *species.names))


def _fitting(asked: tuple[str, ...], species: Mapping[str, "Species"]) -> list["Species"]:
    """All species that fit the best way any does."""
    named = [(one, _named(one)) for one in species.values()]
    for fits in WAYS:
        found = [one for one, all_names in named if any(fits(asked, name) for name in all_names)]
        if found:
            return found
    return []


def find(query: str, species: Mapping[str, "Species"]) -> "Species":
    """Return the one species that goes by this name, or say which it could be."""
    asked = plain_words(query)
    if not asked:
        raise UnknownName("species.empty", "say which species, by its common or its scientific name")
    found = _fitting(asked, species)
    if len(found) == 1:
        return found[0]
    if found:
        could_be = tuple(one.common_name for one in found)
        raise UnknownName(
            "species.several", "'{query}' could be {which}; say which", could_be=could_be, query=query.strip(), which=_or(could_be)
        )
    near = _near(asked, species)
    if near:
        raise UnknownName(
            "species.near",
            "no species '{query}' is known; did you mean {which}?",
            could_be=near,
            query=query.strip(),
            which=_or(near),
        )
    raise UnknownName(
        "species.none",
        "no species '{query}' is known, nor one like it; look through the list of species, or add it as the room's own",
        query=query.strip(),
    )


def search(query: str, species: Mapping[str, "Species"]) -> tuple["Species", ...]:
    """Return every species that fits, the best first; all of them where nothing was asked, the nearest where nothing fits."""
    asked = plain_words(query)
    if not asked:
        return tuple(species.values())
    found: dict[str, Species] = {}
    for fits in WAYS:
        found |= {
            one.key: one for one in species.values() if any(fits(asked, name) for name in _named(one)) and one.key not in found
        }
    near = set() if found else set(_near(asked, species))
    return tuple(found.values()) or tuple(one for one in species.values() if one.common_name in near)


def _near(asked: tuple[str, ...], species: Mapping[str, "Species"]) -> tuple[str, ...]:
    """The common names nearest in spelling, nearest first."""
    spelled = {" ".join(plain_words(name)): one.common_name for one in species.values() for name in (*one.names, one.key)}
    for one in species.values():
        for word in {word for name in one.names for word in plain_words(name) if len(word) > LEAST_LETTERS}:
            spelled.setdefault(word, one.common_name)
    close = difflib.get_close_matches(" ".join(asked), list(spelled), n=SHOWN, cutoff=0.75)
    return tuple(dict.fromkeys(spelled[name] for name in close))[:3]


def unknown_field(name: str, fields: Iterable[str]) -> UnknownName:
    """Return the error for a value that no species has."""
    known = tuple(fields)
    near = tuple(difflib.get_close_matches(name, known, n=1))
    end = "; did you mean {near}?" if near else "; it has {known}"
    return UnknownName(
        "species.field", "a species has no '{field}'" + end,
        could_be=near, field=name, near=near[0] if near else None, known=", ".join(known), path=name,
    )  # fmt: skip


def _or(names: tuple[str, ...]) -> str:
    shown = names[:SHOWN]
    if len(names) > SHOWN:
        return f"{', '.join(shown)} or {len(names) - SHOWN} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"
