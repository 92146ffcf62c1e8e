"""A species as plain values with their standing, and what a room may say of one itself.

A value that is not known is None, never zero. A room's own values come as they lie in its settings: names and flat values.
"""

import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from bonebench.errors import Impossible, InputError, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.shop import names

TOOTH_CLASSES = ("I", "C", "P", "M")
MODERATE = 2
ROOM_SOURCE = "this room's own value"


@dataclass(frozen=True, slots=True)
class Note:
    """A few words with how well they are known and where they were read."""

    text: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Teeth:
    """The teeth of a whole skull.

    ``formula`` gives, for each of I, C, P and M, the teeth on one side above and below; None where no formula says it. ``count``
    is the whole number of teeth with the range that sound skulls show.
    """

    formula: Mapping[str, tuple[int, int]] | None
    count: Figure
    written: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Species:
    """One species. Shares are fractions of the live body: the head with skin on, and the tissue left after trimming.

    ``legal_flag`` of None means that nothing is noted here, not that anything is allowed. ``own`` is set where the room added the
    species or put in values of its own.
    """

    key: str
    common_name: str
    scientific_name: str
    class_name: str
    order: str
    other_names: tuple[str, ...]
    body_mass_kg: Figure
    skull_length_m: Figure | None
    skull_length_kind: str
    zygomatic_width_m: Figure | None
    teeth: Teeth
    loose_prone: Note
    grease_class: int
    grease_standing: Standing
    grease_source: str
    head_share: Figure
    tissue_share: Figure
    brain_mass_kg: Figure | None
    fragile: Note
    zoonosis_note: Note
    legal_flag: Note | None
    own: bool = False

    @property
    def total_teeth(self) -> int | None:
        """How many teeth a whole skull has, None where only a range is known."""
        known = self.teeth.formula is not None or self.teeth.count.low == self.teeth.count.high
        return round(self.teeth.count.value) if known else None

    @property
    def names(self) -> tuple[str, ...]:
        """Every name it goes by, the common one first."""
        return tuple(name for name in (self.common_name, self.scientific_name, *self.other_names) if name)

    @property
    def is_bird(self) -> bool:
        """Whether it is a bird: beak sheath and, for native ones, bird law."""
        return self.class_name == "Aves"

    @property
    def is_cervid(self) -> bool:
        """Whether its notes name chronic wasting disease, which is a disease of the deer family alone."""
        notes = (self.zoonosis_note.text, self.legal_flag.text if self.legal_flag else "")
        return any("CWD" in text for text in notes)

    @property
    def rabies_named(self) -> bool:
        """Whether its notes name rabies; False says nothing about the one head on the bench."""
        notes = (self.zoonosis_note.text, self.legal_flag.text if self.legal_flag else "")
        return any(re.search(r"\brabies\b", text, re.IGNORECASE) for text in notes)


def head_mass(species: Species) -> Figure:
    """Return the mass of the head as it comes in, skin on, antlers and horns not counted."""
    return species.body_mass_kg.times(species.head_share, "kg")


def tissue_mass(species: Species) -> Figure:
    """Return the fresh mass left for the beetles after skin, eyes, tongue and brain are out."""
    return species.body_mass_kg.times(species.tissue_share, "kg")


def slug(name: str) -> str:
    """Return the key of a name: plain small letters joined by hyphens."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")


def formula_total(formula: Mapping[str, tuple[int, int]]) -> int:
    """Return the teeth of both sides, above and below."""
    return 2 * sum(upper + lower for upper, lower in formula.values())


def written_formula(formula: Mapping[str, tuple[int, int]]) -> str:
    """Write a dental formula the usual way: I3/3 C1/1 P4/4 M2/3 x2 = 42."""
    classes = " ".join(f"{name}{upper}/{lower}" for name, (upper, lower) in formula.items())
    return f"{classes} x2 = {formula_total(formula)}"


# What a room may say in numbers: the words people know it by, the unit, and the most that can be right.
# No land animal is heavier than 7000 kg (African elephant bull, from memory); a skull over 1.5 m is a whale's.
ROOM_FIGURES: Mapping[str, tuple[str, str, float]] = {
    "body_mass_kg": ("body mass", "mass", 7000.0),
    "skull_length_m": ("skull length", "length", 1.5),
    "zygomatic_width_m": ("width across the cheeks", "length", 1.5),
    "head_share": ("head share of the body", "percent", 0.5),
    "tissue_share": ("tissue share of the body", "percent", 0.5),
    "brain_mass_kg": ("brain mass", "mass", 7.0),
}
UNITS: Mapping[str, str] = {"mass": "kg", "length": "m", "percent": "share of the body"}
ROOM_TEXTS = ("common_name", "scientific_name", "class_name", "order")
ROOM_NOTES = ("loose_prone", "fragile", "zoonosis_note", "legal_flag")
MOST_TEETH = 260  # the toothiest dolphins, from memory


def with_overrides(species: Species, values: Mapping[str, object]) -> Species:
    """Return the species with the room's own values in it; a value of None leaves what was there.

    A bare number keeps the relative width of the range it replaces, because animals vary as they did before.
    """
    result = species
    # The formula comes last, so that a bare count beside it does not take it away.
    for name, value in sorted(values.items(), key=lambda item: item[0] == "teeth"):
        if value is not None:
            result = replace(result, **_change(result, name, value), own=True)
    _agree(result, values)
    return result


def species_from_values(key: str, values: Mapping[str, object], known: Mapping[str, Species]) -> Species:
    """Return a species of the room's own: its name, its body mass, and the rest from the one it is said to be like."""
    own = {name: value for name, value in values.items() if value is not None}
    for name, words in (("common_name", "a common name"), ("body_mass_kg", "a body mass"), ("like", "a species it is like")):
        if own.get(name) in (None, ""):
            raise InputError(
                "species.needs",
                "a new species needs {what}; give {field}, and I can work with it",
                what=words,
                field=name,
                path=name,
            )
    like = names.find(_text("like", own.pop("like")), known)
    mass = _number("body_mass_kg", own["body_mass_kg"])
    return with_overrides(_guess(key, like, (mass / like.body_mass_kg.value) ** (1 / 3)), own)


def _guess(key: str, like: Species, scale: float) -> Species:
    """Everything of a known species as an estimate for another: lengths scaled as for the same shape, no brain, no names."""
    source = f"taken from {like.common_name}"

    def figure(old: Figure, factor: float = 1.0) -> Figure:
        return replace(old.scaled(factor, old.unit), standing=Standing.ESTIMATE, source=source)

    def note(old: Note | None, otherwise: str) -> Note:
        return Note(old.text if old else otherwise, Standing.ESTIMATE, source)

    return replace(
        like,
        key=key, common_name="", scientific_name="", other_names=(), own=True,
        body_mass_kg=figure(like.body_mass_kg),
        skull_length_m=figure(like.skull_length_m, scale) if like.skull_length_m else None,
        zygomatic_width_m=figure(like.zygomatic_width_m, scale) if like.zygomatic_width_m else None,
        teeth=replace(like.teeth, count=figure(like.teeth.count), standing=Standing.ESTIMATE, source=source),
        loose_prone=note(like.loose_prone, ""), fragile=note(like.fragile, ""), zoonosis_note=note(like.zoonosis_note, ""),
        grease_class=MODERATE, grease_standing=Standing.ESTIMATE, grease_source="not said; moderate is taken for now",
        head_share=figure(like.head_share), tissue_share=figure(like.tissue_share), brain_mass_kg=None,
        legal_flag=note(like.legal_flag, "not looked up; ask the wildlife agency before it comes in"),
    )  # fmt: skip


def _change(species: Species, name: str, value: object) -> dict[str, Any]:
    if name in ROOM_FIGURES:
        return {name: _room_figure(name, value, getattr(species, name))}
    if name in ROOM_TEXTS:
        return {name: _text(name, value)}
    if name in ROOM_NOTES:
        return {name: Note(_text(name, value), Standing.ROOM, ROOM_SOURCE)}
    if name not in _SPECIAL:
        raise names.unknown_field(name, (*ROOM_FIGURES, *ROOM_TEXTS, *ROOM_NOTES, *_SPECIAL))
    return _SPECIAL[name](value)


def _text(name: str, value: object) -> str:
    if not isinstance(value, str) or (name == "common_name" and not value.strip()):
        raise InputError("species.text", "{field} is '{value}'; write it in words", field=name, value=str(value), path=name)
    return value.strip()


def _number(name: str, value: object) -> float:
    words, kind, most = ROOM_FIGURES[name]
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise InputError("species.number", "{what} is '{value}'; write a number", what=words, value=str(value), path=name)
    if not 0 < value <= most:
        raise OutsideRange(
            "species.range", f"{{what}} is {{value:{kind}}}; it has to be above zero and no more than {{most:{kind}}}",
            what=words, value=float(value), most=most, path=name,
        )  # fmt: skip
    return float(value)


def _room_figure(name: str, value: object, old: Figure | None) -> Figure:
    number = _number(name, value)
    if old is None:
        return Figure(number, number, number, UNITS[ROOM_FIGURES[name][1]], Standing.ROOM, ROOM_SOURCE)
    return replace(old.scaled(number / old.value, old.unit), value=number, standing=Standing.ROOM, source=ROOM_SOURCE)


def _whole(words: str, field: str, value: object, least: int, most: int) -> int:
    if isinstance(value, bool) or not isinstance(value, int | float) or not least <= value <= most or value != int(value):
        raise OutsideRange(
            "species.whole", "{what} is {value}; it has to be a whole number from {least} to {most}",
            what=words, value=str(value), least=least, most=most, path=field,
        )  # fmt: skip
    return int(value)


def _grease(value: object) -> dict[str, Any]:
    grease = _whole("grease class", "grease_class", value, 1, 5)
    return {"grease_class": grease, "grease_standing": Standing.ROOM, "grease_source": ROOM_SOURCE}


def _other_names(value: object) -> dict[str, Any]:
    pieces = _text("other_names", value).split(";")
    return {"other_names": tuple(piece.strip() for piece in pieces if piece.strip())}


def _room_teeth(formula: Mapping[str, tuple[int, int]] | None, total: int, written: str) -> dict[str, Any]:
    count = Figure(total, total, total, "teeth", Standing.ROOM, ROOM_SOURCE)
    return {"teeth": Teeth(formula, count, written, Standing.ROOM, ROOM_SOURCE)}


def _total_teeth(value: object) -> dict[str, Any]:
    total = _whole("number of teeth", "total_teeth", value, 0, MOST_TEETH)
    return _room_teeth(None, total, f"{total} teeth" if total else "none")


def _teeth(value: object) -> dict[str, Any]:
    formula = read_formula(_text("teeth", value))
    return _room_teeth(formula, formula_total(formula), written_formula(formula))


def read_formula(text: str) -> dict[str, tuple[int, int]]:
    """Read a dental formula such as I3/3 C1/1 P4/4 M2/3, one side above and below."""
    found = re.findall(r"([ICPM])\s*(\d{1,2})\s*/\s*(\d{1,2})", text.upper())
    if [name for name, _, _ in found] != list(TOOTH_CLASSES):
        raise InputError(
            "species.formula", "'{text}' is not a dental formula; write one side like I3/3 C1/1 P4/4 M2/3", text=text, path="teeth"
        )
    return {name: (int(upper), int(lower)) for name, upper, lower in found}


_SPECIAL: Mapping[str, Callable[[object], dict[str, Any]]] = {
    "grease_class": _grease,
    "other_names": _other_names,
    "total_teeth": _total_teeth,
    "teeth": _teeth,
}


def _agree(species: Species, values: Mapping[str, object]) -> None:
    """Refuse values that contradict each other."""
    if species.tissue_share.value >= species.head_share.value:
        raise Impossible(
            "species.shares",
            "the tissue left after trimming, {tissue:percent} of the body, has to be less than the head, {head:percent}",
            tissue=species.tissue_share.value, head=species.head_share.value, path="tissue_share",
        )  # fmt: skip
    length, width = species.skull_length_m, species.zygomatic_width_m
    if length is not None and width is not None and width.value >= length.value:
        raise Impossible(
            "species.width", "the width across the cheeks, {width:length}, is not less than the skull length, {length:length}",
            width=width.value, length=length.value, path="zygomatic_width_m",
        )  # fmt: skip
    if values.get("teeth") is not None and values.get("total_teeth") is not None:
        total, formula = values["total_teeth"], read_formula(_text("teeth", values["teeth"]))
        if total != formula_total(formula):
            raise Impossible(
                "species.teeth", "the formula {formula} does not make {total} teeth; give one of the two",
                formula=written_formula(formula), total=str(total), path="total_teeth",
            )  # fmt: skip
