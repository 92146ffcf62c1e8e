"""A picture that came from outside, opened without harm: one door for photos, scanned sheets and codes.

`open_picture` takes the bytes and gives back an 8-bit sRGB image that stands upright, no longer than asked for, without anything
the camera wrote beside the pixels. Size and kind are read from the header first; nothing is decoded that is too large, and one
picture is decoded at a time, so that a room's small computer keeps its memory. A file's name is only ever shown.
"""

import re
import struct
import threading
import warnings
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from pathlib import PurePosixPath, PureWindowsPath
from typing import Any

import numpy as np
from PIL import Image, ImageCms, JpegImagePlugin, PngImagePlugin, WebPImagePlugin
from PIL.Image import Transpose

from bonebench.errors import FileFault

# A phone's largest pictures are 50 megapixels and 25 MB; both limits stand above them.
LARGEST_BYTES = 40_000_000
LARGEST_PIXELS = 70_000_000
SMALLEST_SIDE = 16
# The readers of these three kinds alone, and not the library's own choice among forty: fewer ways in for a hostile file.
_READERS: dict[str, Callable[[BytesIO], Any]] = {
    "JPEG": JpegImagePlugin.jpeg_factory,
    "PNG": PngImagePlugin.PngImageFile,
    "WebP": WebPImagePlugin.WebPImageFile,
}
# What a damaged or hostile file makes the decoders raise; anything else is a bug of ours and keeps its trace.
_BROKEN = (
    OSError, SyntaxError, ValueError, EOFError, LookupError, TypeError, AttributeError, ArithmeticError, struct.error, zlib.error,
)  # fmt: skip
_ONE_AT_A_TIME = threading.Lock()

_HEIC = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
_TAKEN, _TAKEN_ZONE, _CHANGED, _ORIENTATION, _EXIF = 0x9003, 0x9011, 0x0132, 0x0112, 0x8769
# EXIF 2.32, table 6: what has to be done to the stored pixels so that they stand upright.
_UPRIGHT = {
    2: Transpose.FLIP_LEFT_RIGHT, 3: Transpose.ROTATE_180, 4: Transpose.FLIP_TOP_BOTTOM, 5: Transpose.TRANSPOSE,
    6: Transpose.ROTATE_270, 7: Transpose.TRANSVERSE, 8: Transpose.ROTATE_90,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture that was opened: upright RGB in sRGB, what it was sent as, and when the camera says it was taken.

    ``taken`` is the camera's wall time; it carries a zone only where the camera wrote one. ``sent_px`` is upright, too.
    """

    image: Image.Image
    kind: str
    sent_px: tuple[int, int]
    taken: datetime | None


def shown_name(name: str | None) -> str:
    """Return the last part of a file's name as it may be shown: no folders, no control signs, not endless; never a path."""
    last = PureWindowsPath(PurePosixPath(name or "").name).name
    plain = "".join(sign for sign in last if sign.isprintable()).strip()
    return f"{plain[:57]}..." if len(plain) > 60 else plain or "the picture"


def kind_of(data: bytes) -> str:
    """Return what a file is by its first bytes, whatever its name says; "" where nothing is known."""
    head = data[:256].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if data[:3] == b"\xff\xd8\xff":
        return "JPEG"
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        return "PNG"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WebP"
    if data[4:8] == b"ftyp":
        return "HEIC" if data[8:12] in _HEIC else "AVIF" if data[8:12] in (b"avif", b"avis") else "film"
    for start, kind in ((b"gif8", "GIF"), (b"%pdf", "PDF"), (b"bm", "BMP"), (b"ii*\0", "TIFF"), (b"mm\0*", "TIFF")):
        if head.startswith(start):
            return kind
    return "SVG" if head.startswith((b"<svg", b"<?xml", b"<!doctype svg")) and b"svg" in data[:4096].lower() else ""


def open_picture(data: bytes, name: str | None = None, *, longest: int = 2048) -> Picture:
    """Open a picture that came from outside, scaled so that its longer side is at most ``longest``; refuses in words what is none.

    Takes JPEG, PNG and WebP of 8 or 16 bits, grey, colour, CMYK or with an alpha channel (laid on white). A colour profile is
    turned into sRGB, since it does not stay with the pixels.
    """
    named = shown_name(name)
    if len(data) > LARGEST_BYTES:
        raise too_heavy(named)
    kind = kind_of(data)
    if kind not in _READERS:
        raise _not_taken(kind, named, empty=not data)
    # The library warns of odd notes beside good pixels, which is no news for anybody here.
    with _ONE_AT_A_TIME, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            if kind == "WebP":
                _check_size(_webp_size(data), named)
            opened = _READERS[kind](BytesIO(data))
            _check_size(opened.size, named)
            if getattr(opened, "is_animated", False) and opened.format != "MPO":
                raise FileFault("picture.moves", "{name} is a moving picture: take a still one and send that", name=named)
            return _decoded(opened, kind, longest)
        except FileFault:
            raise
        except _BROKEN as fault:
            raise _broken(named, str(fault)) from fault


def too_heavy(named: str) -> FileFault:
    """Return the refusal of a file that has too many bytes; faces that count while they read use it, too."""
    return FileFault(
        "picture.heavy", "{name} is larger than {limit} MB: send it smaller, or set the camera to 12 megapixels",
        name=named, limit=LARGEST_BYTES // 1_000_000,
    )  # fmt: skip


def _not_taken(kind: str, named: str, *, empty: bool) -> FileFault:
    if empty:
        return FileFault("picture.empty", "{name} is empty: the phone did not send it whole; send it once more", name=named)
    if kind == "HEIC":
        return FileFault(
            "picture.heic",
            "{name} is a HEIC picture, which this program cannot open: set the phone's camera to 'most compatible' (JPEG), or "
            "share the picture as JPEG, and send that",
            name=named,
        )
    if kind == "film":
        return FileFault("picture.film", "{name} is a film: take a still picture and send that", name=named)
    if kind:
        return FileFault(
            "picture.kind", "{name} holds {kind}: save or share it as JPEG or PNG and send that", name=named, kind=kind
        )
    return FileFault("picture.none", "{name} is not a picture this program knows: send a JPEG or PNG", name=named)


def _broken(named: str, why: str) -> FileFault:
    if re.search("truncated|broken|unexpected end", why, re.IGNORECASE):
        return FileFault(
            "picture.truncated", "{name} breaks off before its end: it was not sent or copied whole; send it once more", name=named
        )
    return FileFault("picture.damaged", "{name} is damaged and cannot be opened: send it once more, or another one", name=named)


def _webp_size(data: bytes) -> tuple[int, int]:
    """Read the size from the header: the library's reader takes memory for the whole canvas as soon as it is made."""
    form, body = data[12:16], data[20:]
    if form == b"VP8X":
        return int.from_bytes(body[4:7], "little") + 1, int.from_bytes(body[7:10], "little") + 1
    if form == b"VP8L":
        bits = int.from_bytes(body[1:5], "little")
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return int.from_bytes(body[6:8], "little") & 0x3FFF, int.from_bytes(body[8:10], "little") & 0x3FFF


def _check_size(size: tuple[int, int], named: str) -> None:
    """Refuse by what the header says, before a pixel is decoded."""
    width, height = size
    if width * height > LARGEST_PIXELS:
        raise FileFault(
            "picture.large",
            "{name} says it is {width} by {height} pixels, {mega} megapixels; the limit is {limit}: set the camera to 12",
            name=named, width=width, height=height, mega=round(width * height / 1e6), limit=LARGEST_PIXELS // 1_000_000,
        )  # fmt: skip
    if min(width, height) < SMALLEST_SIDE:
        raise FileFault(
            "picture.small", "{name} is {width} by {height} pixels: too small to show anything; send the picture itself",
            name=named, width=width, height=height,
        )  # fmt: skip


def _decoded(opened: Any, kind: str, longest: int) -> Picture:
    profile = opened.info.get("icc_profile")
    notes = opened.getexif()
    width, height = opened.size
    # A JPEG can be decoded at half or a quarter of its size at once, which is most of the speed.
    opened.draft(None, (longest, longest))
    opened.load()
    image = _srgb(_eight_bit(opened), profile, longest)
    turn = _UPRIGHT.get(_number(notes.get(_ORIENTATION)))
    upright = image if turn is None else image.transpose(turn)
    swapped = turn in (Transpose.TRANSPOSE, Transpose.TRANSVERSE, Transpose.ROTATE_90, Transpose.ROTATE_270)
    return Picture(_bare(upright), kind, (height, width) if swapped else (width, height), _taken(notes))


def _number(value: object) -> int:
    return value if isinstance(value, int) else 1


def _eight_bit(image: Image.Image) -> Image.Image:
    """Return greys, colours and CMYK at 8 bits, the alpha channel apart in RGBA."""
    if image.mode.startswith("I"):
        # 16-bit grey: the upper byte; a plain conversion would cut everything above 255 to white.
        return image.point(lambda value: value * (1 / 256), "L") if image.mode == "I" else _upper_byte(image)
    if image.mode in ("P", "PA", "LA", "La", "RGBa") or "transparency" in image.info:
        return image.convert("RGBA")
    return image if image.mode in ("L", "RGB", "RGBA", "CMYK") else image.convert("RGB")


def _upper_byte(image: Image.Image) -> Image.Image:
    return Image.fromarray((np.asarray(image).astype(np.uint16) >> 8).astype(np.uint8))


def _srgb(image: Image.Image, profile: bytes | None, longest: int) -> Image.Image:
    """Scale down first, then turn into sRGB on white: the colours of a few pixels are cheaper than those of many."""
    image.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    alpha = image.getchannel("A") if image.mode == "RGBA" else None
    flat = image.convert("RGB") if alpha is not None else image
    plain = _by_profile(flat, profile) or flat.convert("RGB")
    if alpha is not None:
        white = Image.new("RGB", plain.size, "white")
        white.paste(plain, mask=alpha)
        return white
    return plain


def _by_profile(image: Image.Image, profile: bytes | None) -> Image.Image | None:
    """Return the image in sRGB by its colour profile; None where there is none, or none that fits."""
    if not profile:
        return None
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        return ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None


def _bare(image: Image.Image) -> Image.Image:
    """Return the pixels alone: no EXIF, no position, no profile, no text."""
    bare = Image.new("RGB", image.size)
    bare.paste(image)
    return bare


def _taken(notes: Image.Exif) -> datetime | None:
    """Return when the camera says it was taken; None where it says nothing that is a time."""
    inner = notes.get_ifd(_EXIF)
    text, zone = inner.get(_TAKEN) or notes.get(_CHANGED), inner.get(_TAKEN_ZONE)
    found = re.match(r"(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)", text) if isinstance(text, str) else None
    if found is None:
        return None
    offset = zone if isinstance(zone, str) and inner.get(_TAKEN) and re.fullmatch(r"[+-]\d\d:\d\d", zone) else ""
    try:
        return datetime.fromisoformat(f"{found[1]}-{found[2]}-{found[3]}T{found[4]}{offset}")
    except ValueError:
        return None


def jpeg_of(image: Image.Image, *, longest: int | None = None, quality: int = 85) -> bytes:
    """Return an image as a JPEG with nothing beside its pixels; the same pixels give the same bytes."""
    scaled = image
    if longest is not None and max(image.size) > longest:
        scaled = image.copy()
        scaled.thumbnail((longest, longest), Image.Resampling.LANCZOS)
    out = BytesIO()
    scaled.save(out, "JPEG", quality=quality, optimize=False)
    return out.getvalue()
