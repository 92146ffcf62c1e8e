"""The invented room's photos: drawn shapes with a drawn card, each marked as drawn. No real bone, no real room.

Whiter at each look, so that the page of a specimen in the tub has a change to show. The files are the same for every day the demo
is made for, so that a fresh one adds none.
"""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from bonebench.demo.stories import PLACE_OF
from bonebench.files.pictures import jpeg_of
from bonebench.records import attached, files
from bonebench.records.book import Book, Writing
from bonebench.records.files import FileRow
from bonebench.science.colour import Box, measure
from bonebench.shop.entries import Entry, specimen_subject
from bonebench.shop.photo_entries import ColourMeasured, Photographed
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import Step
from bonebench.shop.what import What

Write = Callable[[What, tuple[str, ...], datetime], Entry]
SIZE = (800, 600)
CARD, BONE = Box(0.08, 0.10, 0.16, 0.2), Box(0.42, 0.38, 0.16, 0.16)
GREY_CARD = 0.18
SETTING = "bench lamp, room phone"
# Hours after it went into the tub, and the light its bone throws back by then: red, green, blue. Invented.
LOOKS = ((0.5, (0.48, 0.43, 0.33)), (8.0, (0.56, 0.52, 0.43)), (16.0, (0.585, 0.55, 0.465)))
BEFORE = (0.42, 0.36, 0.26)


def drawn(bone: tuple[float, float, float], seed: int) -> Image.Image:
    """Draw a skull as a child would, beside a grey card, in a lamp's light and with a camera's noise."""
    light = np.full((SIZE[1], SIZE[0], 3), 0.10)
    light[60:180, 64:192] = GREY_CARD
    shape = Image.new("L", SIZE)
    pen = ImageDraw.Draw(shape)
    pen.ellipse((260, 150, 560, 430), fill=255)
    pen.ellipse((470, 270, 730, 410), fill=255)
    for hole in ((500, 225, 560, 285), (690, 320, 720, 350)):
        pen.ellipse(hole, fill=0)
    light = np.where(np.asarray(shape)[..., None] > 0, np.array(bone), light) * np.array((0.95, 0.88, 0.78)) * 1.25
    coded = 255 * np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    noisy = np.clip(coded + np.random.default_rng(seed).normal(0, 1.5, coded.shape), 0, 255)
    image = Image.fromarray(noisy.round().astype(np.uint8))
    ImageDraw.Draw(image).text((40, 540), "DEMO: drawn, no real bone", fill="white", font=ImageFont.load_default(32))
    return image


def photo_entries(tx: Writing, book: Book, pieces: list[Specimen], now: datetime, write: Write) -> Iterator[Entry]:
    """Photograph the pieces in the tub: before, and at each look so far, with what was measured."""
    in_tub = [piece for piece in pieces if any(part.place == PLACE_OF[Step.WHITEN] for part in piece.parts)]
    for number, piece in enumerate(sorted(in_tub, key=lambda piece: piece.tag)):
        trimmed, tub = piece.ending(Step.TRIM), piece.beginning(Step.WHITEN)
        shots = [(trimmed.at - timedelta(minutes=20), Step.TRIM, BEFORE)] if trimmed is not None else []
        shots += [(tub.at + timedelta(hours=hours), Step.WHITEN, bone) for hours, bone in LOOKS] if tub is not None else []
        for at, step, bone in shots:
            if at < now:
                yield from _shot(tx, book, piece, (at, step, bone, 10 * number + shots.index((at, step, bone))), write)


def _shot(
    tx: Writing, book: Book, piece: Specimen, shot: tuple[datetime, Step, tuple[float, float, float], int], write: Write
) -> Iterator[Entry]:
    at, step, bone, seed = shot
    image = drawn(bone, seed)
    large = jpeg_of(image)
    named = attached.Named(attached.hash_of(large), "image/jpeg", len(large))
    attached.put(book.files, named, large, jpeg_of(image, longest=320, quality=80))
    files.add(tx, FileRow(named.sha256, named.media_type, named.size_bytes, *SIZE, None, at))
    subject = (specimen_subject(piece.id),)
    yield write(Photographed(named.sha256, step, piece.visit(step)), subject, at)
    if step is Step.WHITEN:
        yield write(_colour(named.sha256, image), subject, at)


def _colour(sha256: str, image: Image.Image) -> ColourMeasured:
    found = measure(np.asarray(image), CARD, BONE, GREY_CARD)
    lightness, a, b = (round(value, 3) for value in found.lab)
    card, bone = ((box.left, box.top, box.width, box.height) for box in (CARD, BONE))
    spread = round(found.spread[0], 3)
    return ColourMeasured(sha256, lightness, a, b, spread, card, bone, reflectance=GREY_CARD, setting=SETTING)
