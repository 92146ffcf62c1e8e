"""Turn what a phone sent into what is kept: upright, small enough, nothing beside the pixels. No book, no folder.

It loads the picture library; a face imports it where photos come in, so that no other command waits for it.
"""

from collections.abc import Iterable

from bonebench.errors import FileFault
from bonebench.files.pictures import Picture, jpeg_of, open_picture, shown_name
from bonebench.records import attached
from bonebench.services.photos.cards import PhotoFile, RefusedPhoto, Taken

LONGEST_PX = 2048
SMALL_PX = 320


def take(data: bytes, name: str | None = None) -> Taken:
    """Open one photo and make what is kept of it; refuses in words what is none."""
    picture = open_picture(data, name, longest=LONGEST_PX)
    large = jpeg_of(picture.image)
    return Taken(
        name=shown_name(name),
        large=large,
        small=_small(picture),
        width_px=picture.image.width,
        height_px=picture.image.height,
        sha256=attached.hash_of(large),
        sent_sha256=attached.hash_of(data),
        taken=picture.taken,
    )


def _small(picture: Picture) -> bytes:
    return jpeg_of(picture.image, longest=SMALL_PX, quality=80)


def take_all(sent: Iterable[tuple[str | None, bytes]]) -> tuple[list[Taken], list[RefusedPhoto]]:
    """Take several in, each for itself: one that is refused keeps the others out of nothing."""
    taken: list[Taken] = []
    refused: list[RefusedPhoto] = []
    for name, data in sent:
        try:
            taken.append(take(data, name))
        except FileFault as fault:
            refused.append(RefusedPhoto(shown_name(name), fault.said))
    return taken, refused


def small_of(photo: PhotoFile) -> bytes:
    """Return the small picture of a photo that lies there, made again where it is missing."""
    if photo.small.is_file():
        return photo.small.read_bytes()
    return _small(open_picture(photo.large.read_bytes(), photo.sha256, longest=LONGEST_PX))
