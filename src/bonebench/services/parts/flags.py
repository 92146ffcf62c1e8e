"""What is odd about the parts, the vials, the condition and the tag of a specimen. Flags never refuse anything."""

import re
from collections.abc import Iterator
from datetime import date, datetime

from bonebench.errors import InputError
from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.parts import load_parts
from bonebench.said import said
from bonebench.shop.checks import DRY_PARTS
from bonebench.shop.flags import Flag
from bonebench.shop.identity import read_tag
from bonebench.shop.part import Part, Sample
from bonebench.shop.parts import LIQUIDS, kind_of
from bonebench.shop.room import Room
from bonebench.shop.routes import Standing, main_part
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind, Step

FINGERPRINT = re.compile(r"[0-9a-f]{64}")
WET_STEPS = frozenset({Step.DEGREASE, Step.WHITEN, Step.RINSE})


def part_flags(specimen: Specimen, standing: Standing, room: Room) -> tuple[Flag, ...]:
    """Return every flag about parts, vials, glue, pictures and tag."""
    return (
        *_tag(specimen),
        *(flag for part in specimen.parts for flag in _baths(part, room)),
        *_samples(specimen, room),
        *_missing(specimen, room),
        *_glue(specimen, standing),
        *_pictures(specimen),
        *_weight(specimen),
    )


def _tag(specimen: Specimen) -> Iterator[Flag]:
    try:
        read_tag(specimen.tag)
    except InputError:
        if specimen.tag:
            yield Flag(
                said("flag.tag_check", "its tag was written down as '{tag}', whose check letter does not fit", tag=specimen.tag),
                said("flag.tag_check.next", "look at the tag itself and retag it with what it says"),
            )


def _baths(part: Part, room: Room) -> Iterator[Flag]:
    """A part that is, or has been, in a bath it stays out of."""
    kind = kind_of(part, load_parts())
    for key, first in part.been.items():
        place = room.place(key)
        way = kind.way(place.kind) if kind is not None and place is not None else None
        if way is None or place is None or way.may != "out":
            continue
        there = part.place == key
        if there and part.name in DRY_PARTS and place.kind in LIQUIDS:
            continue  # said by the checks of the shop already
        values: dict[str, str | date] = {
            "part": part.name,
            "place": place.name,
            "day": room.day(first),
            "why": way.why,
            "do": way.do,
        }
        if there:
            yield Flag(
                said("flag.part_in_bath", "{part} in {place}: {why}", **values),
                said("flag.part_in_bath.next", "take it out; {do}. If it was never in, take the entry back", **values),
            )
        else:
            yield Flag(
                said("flag.part_was_in_bath", "{part} went into {place} on {day:day}: {why}", **values),
                said("flag.part_was_in_bath.next", "look at it and write down how it is; if it was never in, take the entry back",
                     **values),
            )  # fmt: skip


def _samples(specimen: Specimen, room: Room) -> Iterator[Flag]:
    for part in specimen.parts:
        bath = _bath_before(part.sample, specimen, room) if part.sample is not None else None
        if part.sample is None or bath is None:
            continue
        yield Flag(
            said("flag.sample_late", "'{vial}' was filled after {bath}", vial=part.name, bath=bath),
            said(
                "flag.sample_late.next", "tell the laboratory before it is sent: heat, detergent and peroxide take DNA out of bone"
            ),
        )


def _bath_before(sample: Sample, specimen: Specimen, room: Room) -> str | None:
    """Name a bath that the skull had been in before the sample was taken."""
    taken = sample.earliest + (sample.at - sample.earliest) / 2
    main = main_part(specimen)
    for key, first in main.been.items() if main is not None else ():
        place = room.place(key)
        if place is not None and place.kind in LIQUIDS and first < taken:
            return place.name
    marks = [m for m in (*specimen.begun, *specimen.ended) if m.step in WET_STEPS and not m.skipped and m.about < taken]
    return min(marks, key=lambda m: m.about).step.value if marks else None


def _missing(specimen: Specimen, room: Room) -> Iterator[Flag]:
    lost: dict[tuple[str | None, datetime], list[str]] = {}
    for part in specimen.parts:
        if part.missing is not None:
            lost.setdefault((part.place, part.missing), []).append(part.name)
    for (key, at), names in lost.items():
        place = room.place(key)
        name = place.name if place is not None else key
        yield Flag(
            said("flag.missing", "{parts} not found when {place} was counted on {day:day}",
                 parts=", ".join(names), place=name, day=room.day(at)),
            said("flag.missing.next", "look in the places beside it and in its lot's vessel; say where it is when it is found"),
        )  # fmt: skip


def _glue(specimen: Specimen, standing: Standing) -> Iterator[Flag]:
    """Glue that the bath it is in, or comes to, would loosen; and glue nobody knows."""
    ahead = [leg for leg in (standing.leg, *standing.ahead) if leg is not None]
    kinds = {leg.place_kind for leg in ahead}
    for repair in specimen.repairs:
        if repair.adhesive is None:
            continue
        glue = load_adhesives().get(repair.adhesive)
        if glue is None:
            yield Flag(
                said("flag.glue_unknown", "mended with '{glue}', which is none of the glues known here", glue=repair.adhesive),
                said("flag.glue_unknown.next", "keep its name; whether it comes off again or bears a bath is not known"),
            )
            continue
        loosens = PlaceKind.TUB in kinds and not glue.bears_peroxide
        loosens |= bool(kinds & {PlaceKind.POT, PlaceKind.RINSE}) and not glue.bears_water
        if loosens and not specimen.finished:
            yield Flag(
                said("flag.glue_bath", "mended with {glue}; a bath ahead loosens that", glue=glue.name),
                said("flag.glue_bath.next", "bag it in the bath so that no piece is lost, or mend it after the last bath"),
            )


def _pictures(specimen: Specimen) -> Iterator[Flag]:
    pictures = [one.photos for one in specimen.conditions] + [one.photos for one in specimen.repairs]
    odd = [photo for photos in pictures for photo in photos if not FINGERPRINT.fullmatch(photo)]
    if odd:
        yield Flag(
            said("flag.photo", "'{photo}' is no picture's fingerprint, so the picture cannot be shown", photo=odd[0][:80]),
            said("flag.photo.next", "write it again with the 64 letters and digits (SHA-256) of the picture"),
        )


def _weight(specimen: Specimen) -> Iterator[Flag]:
    """A head that was weighed, perhaps with its antlers on: flesh and room in a vessel are counted too high."""
    if specimen.head_mass_kg is None or specimen.finished:
        return
    for part in specimen.parts:
        if part.mass_kg is not None and part.name in DRY_PARTS and part.mass_kg >= specimen.head_mass_kg:
            yield Flag(
                said("flag.part_heavier", "{part} weigh {mass:mass}, and the head with them {head:mass}",
                     part=part.name, mass=part.mass_kg, head=specimen.head_mass_kg),
                said("flag.part_heavier.next", "weigh both again; until then the head counts as it was weighed"),
            )  # fmt: skip
