"""Photos of a specimen: its page, taking them in, taking one out, and the pictures themselves."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.responses import FileResponse, Response

from bonebench.door import About
from bonebench.errors import FileFault
from bonebench.files.pictures import LARGEST_BYTES
from bonebench.said import Said
from bonebench.services.photos.cards import PhotoCard, PhotosAddedCard, PhotosCard
from bonebench.services.photos.taking import small_of, take_all
from bonebench.web.pages.taps import who_of
from bonebench.web.shell import door_of, go_back, show

router = APIRouter(include_in_schema=False)

MOST_AT_ONCE = 20
# More than that is still read, so that it can be refused in our own words.
MOST_PARTS = 400
# A photo's address holds the hash of what it shows, so what is there never changes; only this room's browsers keep it.
KEPT = {"Cache-Control": "private, max-age=31536000, immutable", "Cross-Origin-Resource-Policy": "same-origin"}


@router.get("/photos/{sha256}.jpg")
def large(request: Request, sha256: str) -> Response:
    """Send one photo."""
    file = door_of(request).photo_file(sha256)
    return FileResponse(file.large, media_type="image/jpeg", headers={**KEPT, "ETag": f'"{file.sha256}"'})


@router.get("/photos/{sha256}/small.jpg")
def small(request: Request, sha256: str) -> Response:
    """Send the small picture of one photo; it is made again where it got lost."""
    file = door_of(request).photo_file(sha256)
    return Response(small_of(file), media_type="image/jpeg", headers={**KEPT, "ETag": f'"{file.sha256}-small"'})


def chosen_pair(card: PhotosCard, a: str, b: str) -> tuple[PhotoCard, PhotoCard] | None:
    """Return the two photos to lay side by side: the ones chosen, else the first and the last."""
    pair = card.pair
    if pair is None:
        return None
    before, after = card.photo(a), card.photo(b)
    return (before if before and before.here else pair[0]), (after if after and after.here else pair[1])


def photos_page(request: Request, tag: str, refused: tuple[Said, ...] = (), a: str = "", b: str = "") -> Response:
    """Show the photos of one specimen."""
    card = door_of(request).photos(tag)
    status = 422 if refused else 200
    return show(request, "specimen", "photos.html", status=status, card=card, pair=chosen_pair(card, a, b), refused=refused)


@router.get("/specimens/{tag}/photos")
def photos(request: Request, tag: str, a: str = "", b: str = "") -> Response:
    """Show the photos of one specimen, and two of them side by side."""
    return photos_page(request, tag, a=a, b=b)


@router.post("/specimens/{tag}/photos")
async def add(request: Request, tag: str) -> Response:
    """Take photos in; what is none is said, and the others are kept."""
    async with request.form(max_files=MOST_PARTS, max_fields=MOST_PARTS) as form:
        # A browser sends an empty part for a field in which nothing was chosen.
        parts = [part for part in form.getlist("photo") if isinstance(part, UploadFile) and (part.filename or part.size)]
        if len(parts) > MOST_AT_ONCE:
            raise FileFault(
                "photo.many", "{count} photos at once are too many: send {most} at a time; none of these was kept",
                count=len(parts), most=MOST_AT_ONCE,
            )  # fmt: skip
        sent = [(part.filename, await part.read(LARGEST_BYTES + 1)) for part in parts]
        said = {name: str(form.get(name, "")) for name in ("step", "part", "note")}
    return await run_in_threadpool(_take_in, request, tag, sent, said)


def _take_in(request: Request, tag: str, sent: list[tuple[str | None, bytes]], said: Mapping[str, str]) -> Response:
    if not sent:
        return photos_page(request, tag, (FileFault("photo.nothing", "no photo was chosen; take or choose one first").said,))
    card = keep_sent(request, About(tag, said["step"] or None, said["part"] or None, said["note"][:2000] or None), sent)
    if card.refused:
        return photos_page(request, tag, tuple(one.why for one in card.refused))
    shown = (*card.kept, *card.already)
    return go_back(f"/specimens/{card.tag}/photos", shown[-1].entry)


def keep_sent(request: Request, about: About, sent: list[tuple[str | None, bytes]]) -> PhotosAddedCard:
    """Open, clean and keep what was sent; where nothing of it is a photo, nothing is written."""
    door = door_of(request)
    taken, refused = take_all(sent)
    return door.keep_photos(about, taken, refused, who=who_of(request))


@router.post("/specimens/{tag}/photos/out")
def out(request: Request, tag: str, photo: Annotated[str, Form()] = "", erase: Annotated[str, Form()] = "") -> Response:
    """Take one photo out."""
    card = door_of(request).take_photo_out(tag, photo, erase=bool(erase), who=who_of(request))
    return go_back(f"/specimens/{card.tag}/photos")
