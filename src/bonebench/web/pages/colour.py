"""How white the bone is in a photo: two taps mark the card and the bone, without a script; numbers do the same."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import Response

from bonebench.errors import BonebenchError
from bonebench.reference.cards import CARDS
from bonebench.services.photos.cards import PhotoCard
from bonebench.services.photos.colour import ColourAsked, ColourCard, colour_in, courses_of
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

# How wide the picture is shown for tapping: the browser says where it was touched in these pixels.
WIDE = 320
WIDEST = 1600
BOX_PERCENT = 8.0
FIELDS = ("photo", "card", "bone", "against", "setting", "size")


def _number(text: str, default: float, low: float, high: float) -> float:
    try:
        value = float(text)
    except ValueError:
        return default
    return min(max(value, low), high) if value == value else default  # noqa: PLR0124  not a number is not itself


def box_at(x: float, y: float, size: float, ratio: float) -> str:
    """Return a square box round a touched place as percent text; ``ratio`` is width by height, places are shares."""
    width, height = size, size * ratio
    left = min(max(100 * x - width / 2, 0.0), 100 - width)
    top = min(max(100 * y - height / 2, 0.0), max(100 - height, 0.0))
    return f"{left:.1f} {top:.1f} {width:.1f} {min(height, 100.0):.1f}"


def marked(asked: Mapping[str, str], photo: PhotoCard) -> dict[str, str]:
    """Return what was asked with the place that was just touched put in as the next box: first the card, then the bone."""
    form = {name: asked.get(name, "").strip() for name in FIELDS}
    wide = _number(asked.get("wide", ""), WIDE, 100, WIDEST)
    ratio = (photo.width_px or 4) / (photo.height_px or 3)
    size = _number(form["size"], BOX_PERCENT, 2, 40)
    if "at.x" in asked and "at.y" in asked and not (form["card"] and form["bone"]):
        x, y = (_number(asked[name], 0, 0, WIDEST * 4) for name in ("at.x", "at.y"))
        form["bone" if form["card"] else "card"] = box_at(x / wide, y / (wide / ratio), size, ratio)
    return {**form, "size": f"{size:g}", "wide": f"{wide:.0f}", "high": f"{wide / ratio:.0f}"}


def boxes_of(form: Mapping[str, str], photo: PhotoCard) -> list[tuple[str, tuple[float, ...]]]:
    """Return the boxes that can be drawn, in the pixels of the photo; what cannot be read is drawn nowhere."""
    drawn = []
    scale = ((photo.width_px or 4) / 100, (photo.height_px or 3) / 100) * 2
    for name in ("card", "bone"):
        try:
            numbers = [float(part) for part in form[name].replace(",", " ").split()]
        except ValueError:
            continue
        if len(numbers) == 4 and all(-100 <= number <= 200 for number in numbers) and min(numbers[2:]) > 0:
            drawn.append((name, tuple(round(n * s, 1) for n, s in zip(numbers, scale, strict=True))))
    return drawn


def measured(request: Request, tag: str, photo: PhotoCard, form: Mapping[str, str]) -> ColourCard:
    """Measure one photo as it was marked."""
    door = door_of(request)
    file, looks = door.photo_file(photo.sha256), door.colour_looks(tag)
    asked = ColourAsked(form["card"], form["bone"], form["against"] or "grey", form["setting"][:80])
    return door.work(lambda known: colour_in(known, file, photo, tag=tag, asked=asked, looks=looks))


@router.get("/specimens/{tag}/colour")
def colour_page(request: Request, tag: str, photo: str = "") -> Response:
    """Show one photo to be marked, what was measured in it, and how the colour went so far."""
    door = door_of(request)
    photos, looks = door.photos(tag), door.colour_looks(tag)
    courses = door.work(lambda known: courses_of(known, looks, photos.tag))
    one = photos.named(photo) if photo else None
    card = error = None
    form = marked(request.query_params, one) if one is not None else {}
    if not form.get("setting") and looks:
        form["setting"] = looks[-1].setting
    if one is not None and form["card"] and form["bone"]:
        try:
            card = measured(request, photos.tag, one, form)
        except BonebenchError as fault:
            error = fault.said
    return show(
        request, "specimen", "colour.html", status=200 if error is None else 422, tag=photos.tag, species=photos.species, photo=one,
        form=form, card=card, error=error, courses=courses, boxes=boxes_of(form, one) if one is not None else [],
        cards=[(key, name) for key, (name, _) in CARDS.items()],
    )  # fmt: skip


@router.post("/specimens/{tag}/colour")
def keep(
    request: Request, tag: str, photo: Annotated[str, Form()] = "", card: Annotated[str, Form()] = "",
    bone: Annotated[str, Form()] = "", against: Annotated[str, Form()] = "", setting: Annotated[str, Form()] = "",
) -> Response:  # fmt: skip
    """Write a measured colour down, measured once more from the photo itself."""
    door = door_of(request)
    photos = door.photos(tag)
    one = photos.named(photo)
    found = measured(request, photos.tag, one, {"card": card, "bone": bone, "against": against, "setting": setting})
    entry = door.keep_colour(photos.tag, one.entry, found.entry(), who=who_of(request))
    return go_back(f"/specimens/{photos.tag}/colour", entry)
