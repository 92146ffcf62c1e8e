"""Pictures from outside: upright, plain and small enough, or refused in words; nothing the camera wrote beside them stays."""

import random
import struct
import zlib
from datetime import UTC, datetime, timedelta, timezone
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageOps

from bonebench.errors import FileFault
from bonebench.files.pictures import LARGEST_BYTES, jpeg_of, kind_of, open_picture, shown_name

RED, GREEN, BLUE, WHITE = (200, 30, 30), (30, 160, 40), (30, 40, 200), (255, 255, 255)


def quarters(size: tuple[int, int] = (80, 40)) -> Image.Image:
    """Four colours, one in each corner: it shows how a picture was turned."""
    image, (width, height) = Image.new("RGB", size, WHITE), size
    for box, colour in (((0, 0), RED), ((width // 2, 0), GREEN), ((0, height // 2), BLUE)):
        image.paste(colour, (*box, box[0] + width // 2, box[1] + height // 2))
    return image


def written(image: Image.Image, kind: str = "PNG", **more: object) -> bytes:
    out = BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def png_header(width: int, height: int) -> bytes:
    """A PNG that claims a size and holds next to nothing."""

    def chunk(name: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 64)) + chunk(b"IEND", b"")


def corner_colours(image: Image.Image) -> list[tuple[int, ...]]:
    width, height = image.size
    return [image.getpixel((x, y)) for y in (height // 4, 3 * height // 4) for x in (width // 4, 3 * width // 4)]  # type: ignore[misc]


def refusal(data: bytes, name: str = "IMG_1.jpg") -> str:
    with pytest.raises(FileFault) as refused:
        open_picture(data, name)
    return str(refused.value)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_stands_upright_whichever_way_the_phone_was_held(orientation: int):
    # EXIF 2.32 table 6 by the library's own turning (ImageOps.exif_transpose), of the same file.
    notes = Image.Exif()
    notes[0x0112] = orientation
    sent = written(quarters(), exif=notes)
    opened, expected = open_picture(sent), ImageOps.exif_transpose(Image.open(BytesIO(sent)))
    assert opened.sent_px == opened.image.size == expected.size
    assert corner_colours(opened.image) == corner_colours(expected.convert("RGB"))


def test_nothing_the_camera_wrote_stays_beside_the_pixels():
    notes = Image.Exif()
    notes[0x010F] = "some phone"
    notes.get_ifd(0x8825)[2] = (40.0, 26.0, 46.0)  # latitude
    sent = written(quarters(), "JPEG", exif=notes, comment=b"at home")
    stored = Image.open(BytesIO(jpeg_of(open_picture(sent).image)))
    assert dict(Image.open(BytesIO(sent)).getexif().get_ifd(0x8825)) != {}
    assert (dict(stored.getexif()), stored.info.get("comment"), stored.info.get("icc_profile")) == ({}, None, None)


def test_it_says_when_it_was_taken_with_a_zone_where_the_camera_wrote_one():
    notes = Image.Exif()
    notes.get_ifd(0x8769)[0x9003] = "2026:05:03 17:20:05"
    assert open_picture(written(quarters(), "JPEG", exif=notes)).taken == datetime(2026, 5, 3, 17, 20, 5)  # noqa: DTZ001
    notes.get_ifd(0x8769)[0x9011] = "-05:00"
    taken = open_picture(written(quarters(), "JPEG", exif=notes)).taken
    assert taken == datetime(2026, 5, 3, 17, 20, 5, tzinfo=timezone(timedelta(hours=-5)))
    assert taken.astimezone(UTC).hour == 22


@pytest.mark.parametrize("text", ["0000:00:00 00:00:00", "yesterday", "2026:13:01 10:00:00", ""])
def test_a_time_that_is_none_is_left_out(text: str):
    notes = Image.Exif()
    notes.get_ifd(0x8769)[0x9003] = text
    assert open_picture(written(quarters(), "JPEG", exif=notes)).taken is None


def test_the_longer_side_is_at_most_what_was_asked_and_a_small_one_is_not_blown_up():
    assert open_picture(written(quarters((4000, 3000)), "JPEG")).image.size == (2048, 1536)
    assert open_picture(written(quarters((4000, 3000)), "JPEG")).sent_px == (4000, 3000)
    assert open_picture(written(quarters((300, 400)), "JPEG"), longest=320).image.size == (240, 320)
    assert open_picture(written(quarters((300, 200)), "JPEG")).image.size == (300, 200)


@pytest.mark.parametrize("mode", ["L", "RGB", "RGBA", "P", "LA", "1"])
def test_every_kind_of_pixel_becomes_plain_colour(mode: str):
    opened = open_picture(written(Image.new("RGB", (40, 40), "white").convert(mode)))
    assert (opened.image.mode, opened.image.getpixel((20, 20))) == ("RGB", WHITE)


def test_sixteen_bits_of_grey_keep_their_upper_byte():
    # 0x8000 of 0xFFFF is the middle: 0x80 of 0xFF.
    sent = written(Image.fromarray(np.full((40, 40), 0x8000, np.uint16)))
    assert open_picture(sent).image.getpixel((20, 20)) == (128, 128, 128)


def test_what_is_clear_is_laid_on_white():
    clear = Image.new("RGBA", (40, 40), (200, 0, 0, 0))
    half = Image.new("RGBA", (40, 40), (200, 0, 0, 128))
    assert open_picture(written(clear)).image.getpixel((5, 5)) == WHITE
    # 128/255 of red on white: 255 - 128/255 * 55 = 227, 255 - 128/255 * 255 = 127; one step of rounding.
    assert open_picture(written(half)).image.getpixel((5, 5)) == pytest.approx((227, 127, 127), abs=1)


def test_a_picture_of_a_printer_becomes_plain_colour():
    # No ink is white, and full black ink is black, in both the plain and the inverted form that JPEGs come in.
    for ink, expected in (((0, 0, 0, 0), 255), ((0, 0, 0, 255), 0)):
        opened = open_picture(written(Image.new("CMYK", (40, 40), ink), "JPEG"))
        assert opened.image.getpixel((9, 9)) == pytest.approx((expected,) * 3, abs=3)


def test_colours_of_another_profile_become_srgb():
    # L* 50, a* 0, b* 0 is a middle grey; in sRGB that is 119 (IEC 61966-2-1: Y 0.1842 -> 0.4663 -> 118.9). One step for rounding.
    lab = Image.new("LAB", (40, 40), (128, 128, 128))
    grey = ImageCms.profileToProfile(
        lab, ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB"), outputMode="RGB"
    )  # fmt: skip
    assert grey.getpixel((5, 5)) == pytest.approx((119,) * 3, abs=1)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    sent = written(Image.new("RGB", (40, 40), (119, 119, 119)), "JPEG", icc_profile=profile, quality=95)
    assert open_picture(sent).image.getpixel((5, 5)) == pytest.approx((119,) * 3, abs=1)


def test_a_profile_that_is_none_is_passed_over():
    sent = written(Image.new("RGB", (40, 40), (119, 80, 60)), "PNG", icc_profile=b"no profile")
    assert open_picture(sent).image.getpixel((5, 5)) == (119, 80, 60)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "IMG_1.jpg is empty: the phone did not send it whole; send it once more"),
        (b"Dear colleague, " * 9, "IMG_1.jpg is not a picture this program knows: send a JPEG or PNG"),
        (b"%PDF-1.7 ...", "IMG_1.jpg holds PDF: save or share it as JPEG or PNG and send that"),
        (b"<?xml version='1.0'?><svg onload='x'/>", "IMG_1.jpg holds SVG: save or share it as JPEG or PNG and send that"),
        (
            b"\0\0\0\x18ftypheic",
            "IMG_1.jpg is a HEIC picture, which this program cannot open: set the phone's camera to 'most compatible' (JPEG), or "
            "share the picture as JPEG, and send that",
        ),
        (b"\0\0\0\x18ftypavif", "IMG_1.jpg holds AVIF: save or share it as JPEG or PNG and send that"),
        (b"\0\0\0\x18ftypmp42", "IMG_1.jpg is a film: take a still picture and send that"),
        (b"GIF89a" + b"\0" * 40, "IMG_1.jpg holds GIF: save or share it as JPEG or PNG and send that"),
        (b"\xff\xd8\xff" + b"\0" * 40, "IMG_1.jpg is damaged and cannot be opened: send it once more, or another one"),
    ],
)
def test_what_is_no_photo_is_refused_with_what_to_do(data: bytes, words: str):
    assert refusal(data) == words


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_that_breaks_off_is_refused(kind: str):
    noise = Image.fromarray(np.random.default_rng(8437).integers(0, 255, (200, 200, 3), dtype=np.uint8))
    sent = written(noise, kind)
    words = refusal(sent[: len(sent) // 2])
    assert words in (
        "IMG_1.jpg breaks off before its end: it was not sent or copied whole; send it once more",
        "IMG_1.jpg is damaged and cannot be opened: send it once more, or another one",
    )


LARGE = "IMG_1.jpg says it is {0} by {0} pixels, {1} megapixels; the limit is 70: set the camera to 12"


def test_a_picture_that_claims_to_be_endless_is_refused_by_its_header():
    assert refusal(png_header(60_000, 60_000)) == LARGE.format(60_000, 3600)


def test_a_webp_that_claims_to_be_endless_is_refused_before_it_takes_memory():
    whole = written(quarters((64, 64)), "WEBP", lossless=True)
    assert whole[12:16] == b"VP8L"
    bits = 16382 | 16382 << 14
    claims = whole[:21] + bits.to_bytes(4, "little") + whole[25:]
    assert refusal(claims) == LARGE.format(16_383, 268)


@pytest.mark.parametrize("more", [{"lossless": True}, {"lossless": False}, {"exif": b"Exif\0\0MM\0*\0\0\0\x08\0\0"}])
def test_each_form_of_webp_opens(more: dict[str, object]):
    assert open_picture(written(quarters((120, 70)), "WEBP", **more)).sent_px == (120, 70)


def test_a_dot_and_a_moving_picture_are_refused():
    assert refusal(written(Image.new("RGB", (1, 1)))) == (
        "IMG_1.jpg is 1 by 1 pixels: too small to show anything; send the picture itself"
    )
    moving = written(quarters(), "PNG", save_all=True, append_images=[Image.new("RGB", (80, 40), "red")])
    assert refusal(moving) == "IMG_1.jpg is a moving picture: take a still one and send that"


def test_a_file_that_is_too_heavy_is_refused_unread():
    assert refusal(b"\xff\xd8\xff" + bytes(LARGEST_BYTES)) == (
        "IMG_1.jpg is larger than 40 MB: send it smaller, or set the camera to 12 megapixels"
    )


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("../../etc/passwd", "passwd"), ("C:\\photos\\a.jpg", "a.jpg"), ("a\nb\x00.jpg", "ab.jpg"), (None, "the picture"),
        ("..", ".."), ("", "the picture"), ("x" * 200, "x" * 57 + "..."), ("skull\u202egpj.exe", "skullgpj.exe"),
    ],
)  # fmt: skip
def test_a_name_is_shown_without_folders_or_signs_that_mislead(name: str | None, shown: str):
    assert shown_name(name) == shown


def test_the_same_pixels_give_the_same_bytes():
    assert jpeg_of(quarters()) == jpeg_of(quarters())
    assert Image.open(BytesIO(jpeg_of(quarters((800, 600)), longest=320))).size == (320, 240)


NOISE = Image.fromarray(np.random.default_rng(1).integers(0, 255, (40, 60, 3), dtype=np.uint8))
WHOLE = [written(NOISE, kind) for kind in ("JPEG", "PNG", "WEBP")] + [written(NOISE.convert("P"), "PNG")]


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(WHOLE), st.integers(0, 2**32))
def test_whatever_is_wrong_in_a_file_it_opens_or_is_refused_in_words(whole: bytes, dice: int):
    throw = random.Random(dice)
    spoilt = bytearray(whole)
    for _ in range(throw.randint(1, 12)):
        spoilt[throw.randrange(len(spoilt))] = throw.randrange(256)
    cut = bytes(spoilt[: throw.choice([len(spoilt), throw.randrange(len(spoilt))])])
    try:
        opened = open_picture(cut)
    except FileFault:
        return
    assert opened.image.mode == "RGB"
    assert kind_of(cut) == opened.kind
