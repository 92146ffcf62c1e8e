"""Measure bone against a card in one photo, and tell its looks from their noise. It loads the picture library and numpy."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from bonebench.errors import NotAQuantity
from bonebench.figures import Figure, Standing, basis
from bonebench.files.pictures import open_picture
from bonebench.reference.cards import CARDS
from bonebench.said import Said, said
from bonebench.science.colour import ASSUMED_REPEAT, Box, Measured, Progress, Repeats, measure, progress, repeats
from bonebench.science.colour.card import SPECKLED_FROM, UNEVEN_FROM
from bonebench.services.cards import Basis, Caution, Fact, Flag, Worked
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.services.photos.cards import PhotoCard, PhotoFile
from bonebench.services.photos.looks import ColourLook, same_setting
from bonebench.services.photos.taking import LONGEST_PX
from bonebench.shop.cautions import for_photo_of_whitening
from bonebench.shop.photo_entries import ColourMeasured
from bonebench.units import read_share

# Photos of one setting taken within this of each other are one look, and repeats of it.
ONE_LOOK = timedelta(minutes=30)
ENOUGH_STILL = 3
SAME_ONLY = Figure(
    ASSUMED_REPEAT[1], ASSUMED_REPEAT[0], ASSUMED_REPEAT[2], "", Standing.ESTIMATE,
    "phones process pictures: only looks with the same phone in the same light can be compared",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class ColourAsked:
    """What is measured in a photo, as it was typed: two boxes in percent, the card, and with which phone in which light."""

    card: str
    bone: str
    against: str = "grey"
    setting: str = ""


@dataclass(frozen=True, kw_only=True)
class ProgressCard(Worked):
    """How a specimen's measured colour went, by setting; ``still_looks`` looks show no change beyond the noise."""

    tag: str
    setting: str
    looks: int
    last_change: float | None
    whole_change: float | None
    lighter: float | None
    limit: float
    still_looks: int
    still_days: float
    repeats: int
    schema: str = "photo.progress/1"


@dataclass(frozen=True, kw_only=True)
class ColourCard(Worked):
    """The colour of bone in one photo, measured against a card in it; an estimate, to be compared with its like only."""

    tag: str
    photo: str
    sha256: str
    lightness: float
    lightness_low: float
    lightness_high: float
    a: float
    b: float
    spread: float
    uneven: float
    card: tuple[float, float, float, float]
    bone: tuple[float, float, float, float]
    reflectance: float
    setting: str
    progress: ProgressCard | None
    schema: str = "photo.colour/1"

    def entry(self) -> ColourMeasured:
        """What is written down of it."""
        return ColourMeasured(
            sha256=self.sha256, lightness=round(self.lightness, 3), a=round(self.a, 3), b=round(self.b, 3),
            spread=round(self.spread, 3), card=self.card, bone=self.bone, reflectance=self.reflectance, setting=self.setting,
        )  # fmt: skip


@dataclass(frozen=True)
class CourseCard:
    """How the colour of one specimen went, setting by setting, the newest first."""

    tag: str
    courses: tuple[ProgressCard, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "photo.course/1"


def read_box(text: str, name: str) -> Box:
    """Read a box as people write it: left, top, width and height in percent of the picture."""
    parts = text.replace(",", " ").replace("%", " ").split()
    try:
        numbers = [float(part) / 100 for part in parts]
    except ValueError:
        numbers = []
    if len(numbers) != 4:
        raise NotAQuantity(
            "colour.box_text", "'{text}' is no box of the {name}: write left, top, width and height in percent, like 10 20 8 8",
            text=text, name=name,
        )  # fmt: skip
    return Box(*numbers)


def read_card(text: str) -> Figure:
    """Read which card it is, or how much it reflects."""
    wanted = text.strip().casefold()
    if wanted in CARDS:
        return CARDS[wanted][1]
    try:
        share = read_share(text, "reflectance of the card")
    except NotAQuantity:
        raise NotAQuantity(
            "colour.card_text",
            "'{text}' is no card: write {known}, or how much it reflects, like 85 %",
            text=text,
            known=", ".join(CARDS),
        ) from None
    return Figure(share, share, share, "1", Standing.ESTIMATE, "as typed")


def colour_in(
    known: Known, file: PhotoFile, photo: PhotoCard, *, tag: str, asked: ColourAsked, looks: Sequence[ColourLook] = ()
) -> ColourCard:
    """Measure one photo; with the looks kept before, say how it changed."""
    card, bone, thrown_back = read_box(asked.card, "card"), read_box(asked.bone, "bone"), read_card(asked.against)
    pixels = np.asarray(open_picture(file.large.read_bytes(), photo.sha256, longest=LONGEST_PX).image)
    found = measure(pixels, card, bone, thrown_back.value)
    low, high = (_lightness_at(found.lab[0], end / thrown_back.value) for end in (thrown_back.low, thrown_back.high))
    setting = " ".join(asked.setting.split())
    now = ColourLook("", photo.at, setting, photo.sha256, found.lab)
    others = [look for look in looks if look.sha256 != photo.sha256 and same_setting(look.setting, setting)]
    course = progress_of(known, [*others, now], tag, setting) if others else None
    return ColourCard(
        title=_title(found),
        facts=_facts(found, low, high),
        flags=tuple(_flags(found, setting, asked.against)),
        basis=(basis("reflectance of the card", thrown_back), basis("difference of two photos of the same thing", SAME_ONLY)),
        cautions=for_photo_of_whitening(known.caution_rows),
        tag=tag,
        photo=photo.entry,
        sha256=photo.sha256,
        lightness=found.lab[0],
        lightness_low=low,
        lightness_high=high,
        a=found.lab[1],
        b=found.lab[2],
        spread=found.spread[0],
        uneven=found.uneven,
        card=(card.left, card.top, card.width, card.height),
        bone=(bone.left, bone.top, bone.width, bone.height),
        reflectance=thrown_back.value,
        setting=setting,
        progress=course,
    )


def _lightness_at(lightness: float, factor: float) -> float:
    """The lightness at another reflectance of the card: CIELAB's cube root scales with that of the light (above L* 8)."""
    return float((lightness + 16) * factor ** (1 / 3) - 16)


def _title(found: Measured) -> Said:
    return said(
        "colour.title", "L* {lightness}, a* {a}, b* {b}: an estimate, to compare with photos of the same phone in the same light",
        lightness=round(found.lab[0], 1), a=round(found.lab[1], 1), b=round(found.lab[2], 1),
    )  # fmt: skip


def _facts(found: Measured, low: float, high: float) -> tuple[Fact, ...]:
    return (
        fact("colour.lightness", "Lightness L*", "{value}; {low} to {high} by how well the card is known",
             value=round(found.lab[0], 1), low=round(low, 1), high=round(high, 1)),
        fact("colour.a", "Green to red a*", "{value}", value=round(found.lab[1], 1)),
        fact("colour.b", "Blue to yellow b*", "{value}", value=round(found.lab[2], 1)),
        fact("colour.spread", "Spread over the bone's box", "{l} in L*, {a} in a*, {b} in b*",
             l=round(found.spread[0], 1), a=round(found.spread[1], 1), b=round(found.spread[2], 1)),
        fact("colour.uneven", "Light over the card", "differs by {share:percent}", share=found.uneven),
    )  # fmt: skip


def _flags(found: Measured, setting: str, against: str) -> Iterable[Flag]:
    if found.uneven > UNEVEN_FROM:
        yield Flag(
            said("colour.uneven_light", "the light is uneven: it differs by {share:percent} over the card, worth {l} in L*",
                 share=found.uneven, l=round((found.lab[0] + 16) / 3 * found.uneven, 1)),
            said("colour.uneven_light.next", "lay the card beside the bone, both turned to the light alike; keep your shadow off"),
        )  # fmt: skip
    if found.speckle > SPECKLED_FROM:
        yield Flag(
            said("colour.speckled", "what is in the card's box is not all one colour"),
            said("colour.speckled.next", "mark a smaller box that lies wholly on the card"),
        )
    if found.lab[0] > 100:
        yield Flag(
            said("colour.over", "the bone comes out brighter than a perfect white, which it is not"),
            said("colour.over.next", "look for gloss or wet bone, a card in the shade, or the wrong card chosen"),
        )
    if not setting:
        yield Flag(
            said("colour.no_setting", "it is not said with which phone and in which light this was taken"),
            said(
                "colour.no_setting.next",
                "give the setting a name, such as 'bench lamp, room phone'; only its own looks are compared",
            ),
        )
    if against.strip().casefold() == "paper":
        yield Flag(
            said("colour.paper", "paper with brighteners looks bluer in daylight and makes bone come out too yellow"),
            said("colour.paper.next", "a grey card is better; compare with the same paper only"),
        )


def settings_of(looks: Iterable[ColourLook]) -> tuple[str, ...]:
    """Return the settings that were named, the newest first."""
    newest = sorted(looks, key=lambda look: look.at, reverse=True)
    named: dict[str, str] = {}
    for look in newest:
        named.setdefault(" ".join(look.setting.split()).casefold(), look.setting)
    return tuple(named.values())


def _grouped(looks: Sequence[ColourLook]) -> list[list[ColourLook]]:
    """Photos close in time are one look."""
    groups: list[list[ColourLook]] = []
    for look in sorted(looks, key=lambda look: look.at):
        if groups and look.at - groups[-1][0].at <= ONE_LOOK:
            groups[-1].append(look)
        else:
            groups.append([look])
    return groups


def progress_of(known: Known, looks: Sequence[ColourLook], tag: str, setting: str) -> ProgressCard:
    """Say how the looks of one setting went, and since when nothing beyond their noise was seen."""
    groups = _grouped([look for look in looks if same_setting(look.setting, setting)])
    repeat = repeats([[look.lab for look in group] for group in groups])
    means = [np.mean([look.lab for look in group], axis=0) for group in groups]
    days = [_days(groups[0][0].at, group[0].at) for group in groups]
    course = progress(days, means, repeat.likely) if len(groups) > 1 else None
    limit = course.limit if course is not None else repeat.likely
    return ProgressCard(
        title=_how_it_went(course, len(groups)),
        facts=tuple(_course_facts(course, groups, ZoneInfo(known.room.zone))),
        basis=(_noise(repeat),),
        flags=_bound(repeat),
        cautions=for_photo_of_whitening(known.caution_rows),
        tag=tag,
        setting=setting,
        looks=len(groups),
        last_change=course.last if course is not None else None,
        whole_change=course.whole if course is not None else None,
        lighter=course.lighter if course is not None else None,
        limit=limit,
        still_looks=course.still_looks if course is not None else len(groups),
        still_days=course.still_days if course is not None else 0.0,
        repeats=repeat.count,
    )


def _days(first: datetime, at: datetime) -> float:
    return (at - first).total_seconds() / 86400


def _how_it_went(course: Progress | None, looks: int) -> Said:
    if course is None:
        return said("colour.first", "{count} look so far; the next one will show a change", count=looks)
    values: Mapping[str, float] = {"last": round(course.last, 1), "limit": round(course.limit, 1)}
    if course.still_looks >= ENOUGH_STILL:
        return said(
            "colour.still",
            "no change beyond the noise of {limit} is seen in the last {looks} looks, over {days:days}: it has stopped changing as "
            "far as these photos can show; whether it is white enough is for your eyes, and the longest time in the bath holds",
            looks=course.still_looks, days=course.still_days, limit=values["limit"],
        )  # fmt: skip
    if course.still_looks > 1:
        return said(
            "colour.perhaps",
            "changed by {last} since the look before, which is within the noise of {limit}: look once more",
            **values,
        )
    return said("colour.changes", "still changing: {last} since the look before, beyond the noise of {limit}", **values)


def _course_facts(course: Progress | None, groups: Sequence[Sequence[ColourLook]], zone: ZoneInfo) -> Iterable[Fact]:
    if course is not None:
        yield fact("colour.last", "Since the look before", "{value} (CIEDE2000)", value=round(course.last, 1))
        yield fact(
            "colour.whole", "Since the first look", "{value} (CIEDE2000), {l} in L*",
            value=round(course.whole, 1), l=round(course.lighter, 1),
        )  # fmt: skip
        yield fact("colour.limit", "Noise alone passes once in twenty", "{value}", value=round(course.limit, 1))
    for group in groups:
        mean, at = np.mean([look.lab for look in group], axis=0), group[0].at.astimezone(zone)
        yield Fact(
            said("colour.look.label", "{day:day}, {time}", day=at.date(), time=f"{at:%H:%M}"),
            said("colour.look", "L* {l}, a* {a}, b* {b}{more}", l=round(float(mean[0]), 1), a=round(float(mean[1]), 1),
                 b=round(float(mean[2]), 1), more=f", mean of {len(group)} photos" if len(group) > 1 else ""),
        )  # fmt: skip


def _noise(repeat: Repeats) -> Basis:
    if repeat.count:
        source = f"{repeat.count} repeats within half an hour, in this setting"
        return Basis("difference of two photos of the same thing", repeat.low, repeat.high, "", Standing.ROOM, source)
    return basis("difference of two photos of the same thing", SAME_ONLY)


def _bound(repeat: Repeats) -> tuple[Flag, ...]:
    if repeat.count:
        return ()
    return (
        Flag(
            said("colour.assumed", "how much photos of the same bone differ here is assumed, not measured"),
            said("colour.assumed.next", "take two or three photos at each look, moving the phone between them; measure each"),
        ),
    )


def courses_of(known: Known, looks: Sequence[ColourLook], tag: str) -> tuple[ProgressCard, ...]:
    """Return how the colour went in each setting that was named, the newest first; never across two settings."""
    return tuple(progress_of(known, looks, tag, setting) for setting in settings_of(looks))


def whole_course(tag: str, courses: tuple[ProgressCard, ...]) -> CourseCard:
    """Return the courses of one specimen as one card, with the cautions of each once."""
    cautions = {caution.key: caution for course in courses for caution in course.cautions}
    return CourseCard(tag, courses, cautions=tuple(cautions.values()))
