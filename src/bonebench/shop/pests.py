"""Pests of a colony, and finding one by whatever somebody wrote. A word that is on no list is kept as it was written."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bonebench.figures import Standing
from bonebench.said import said
from bonebench.shop.flags import Flag
from bonebench.shop.names import plain_words

ROUND = "pests"  # the round that looks for them
NEAR = 0.7  # how alike two spellings are: 1 is the same
SHOWN = 3


@dataclass(frozen=True, slots=True)
class Pest:
    """A pest as data; ``answer`` is the answer of the round that says the same, ``act``: it comes before the day's work."""

    key: str
    name: str
    names: tuple[str, ...]
    does: str
    do: str
    act: bool
    answer: str | None
    source: str
    standing: Standing


Pests = Mapping[str, Pest]


@dataclass(frozen=True, slots=True)
class PestFound:
    """What somebody wrote, the pest it is by the list, or those it could be."""

    written: str
    pest: Pest | None
    could_be: tuple[Pest, ...] = ()


def find_pest(written: str, pests: Pests) -> PestFound:
    """Look a pest up: by a name of its own, by a name within what was written ("some white mites"), else by spelling."""
    asked = _singular(written)
    within: tuple[int, Pest] | None = None
    for pest in pests.values():
        for name in map(_singular, (pest.key, pest.name, *pest.names)):
            if name == asked:
                return PestFound(written, pest)
            if name and set(name) <= set(asked) and (within is None or len(name) > within[0]):
                within = (len(name), pest)
    if within is not None:
        return PestFound(written, within[1])
    return PestFound(written, None, _near(written, pests))


def _singular(text: str) -> tuple[str, ...]:
    """The words of a name, each without the s of many: flies and fly are one."""
    return tuple(_one(word) for word in plain_words(text))


def _one(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3 else word


def _near(written: str, pests: Pests) -> tuple[Pest, ...]:
    """The pests whose names are spelled most like it, nearest first; names are short, so both one and many are tried."""
    asked = " ".join(plain_words(written))
    spelled: dict[str, Pest] = {}
    for pest in pests.values():
        for name in (pest.name, *pest.names):
            for form in (plain_words(name), _singular(name)):
                spelled.setdefault(" ".join(form), pest)
    close = difflib.get_close_matches(asked, list(spelled), n=3 * SHOWN, cutoff=NEAR)
    return tuple({spelled[name].key: spelled[name] for name in close}.values())[:SHOWN]


def pest_flag(found: PestFound, place: str | None = None, day: date | None = None, **values: str) -> Flag:
    """Say that it was seen, where and when if known, and what to do: by the list, or what else it could be, or whom to ask."""
    words: dict[str, str | date | None] = {**values, "place": place, "day": day}
    seen = "seen" if day is None else "seen in {place} on {day:day}"
    if found.pest is not None:
        words |= {"pest": found.pest.name, "does": found.pest.does}
        return Flag(
            said("flag.colony.pest", f"{{pest}} {seen}: {{does}}", **words),
            said(f"pest.{found.pest.key}.next", found.pest.do, **words),
        )
    words |= {"pest": found.written, "which": " or ".join(pest.name for pest in found.could_be)}
    if found.could_be:
        return Flag(
            said("flag.colony.pest_near", f"'{{pest}}' {seen}: no pest of the list is called so; it could be {{which}}", **words),
            said(
                "flag.colony.pest_near.next",
                "if it was, write it again as {which}; until somebody knows, nothing leaves this box",
                **words,
            ),
        )
    return Flag(
        said("flag.colony.pest_unknown", f"'{{pest}}' {seen}: it stands on no list here, so nothing is known of it", **words),
        said(
            "flag.colony.pest_unknown.next",
            "freeze one in a vial and ask a museum's keeper; until somebody knows, nothing leaves this box",
            **words,
        ),
    )


def pests_written(text: str | None) -> tuple[str, ...]:
    """Take apart what was written, by commas; "none" and "no mites" name no pest."""
    pieces = (" ".join(piece.split()) for piece in (text or "").replace(";", ",").split(","))
    return tuple(piece for piece in pieces if piece and plain_words(piece)[:1] not in (("no",), ("none",), ("nothing",)))
