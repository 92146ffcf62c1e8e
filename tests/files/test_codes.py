"""Codes in pictures: several at once, askew, dim; and what is no picture is refused."""

import io

import pytest
import segno
from PIL import Image, ImageFilter

from bonebench.errors import FileFault
from bonebench.files.codes import codes_in


def code(text: str, side: int = 8) -> Image.Image:
    """A code made by an independent library."""
    out = io.BytesIO()
    segno.make(text, error="h", micro=False).save(out, kind="png", scale=side)
    return Image.open(out).convert("L")


def photo(*texts: str, turn: float = 0, blur: float = 0, dim: float = 1) -> bytes:
    """A picture of codes one under the other on a grey bench, as JPEG."""
    codes = [code(text) for text in texts]
    sheet = Image.new("L", (900, 60 + sum(one.height + 60 for one in codes)), 150)
    at = 60
    for one in codes:
        sheet.paste(one, (300, at))
        at += one.height + 60
    picture = sheet.rotate(turn, fillcolor=150, expand=True).filter(ImageFilter.GaussianBlur(blur)).point(lambda v: v * dim)
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=80)
    return out.getvalue()


def test_several_codes_are_found_from_the_top_down_each_once():
    assert codes_in(photo("K7Q-K", "0ZC-M", "place:pot", "K7Q-K")) == ("K7Q-K", "0ZC-M", "place:pot")


@pytest.mark.parametrize("turn", [0, 17, 45, 90, 180, 200])
def test_a_code_is_read_whichever_way_the_label_lies(turn):
    assert codes_in(photo("K7Q-K", turn=turn)) == ("K7Q-K",)


def test_a_dim_and_blurred_picture_is_still_read():
    assert codes_in(photo("K7Q-K", blur=3, dim=0.25)) == ("K7Q-K",)


def test_a_picture_without_a_code_has_none():
    out = io.BytesIO()
    Image.new("RGB", (400, 300), "white").save(out, "PNG")
    assert codes_in(out.getvalue()) == ()


@pytest.mark.parametrize("data", [b"", b"hello", photo("K7Q-K")[:400], b"GIF89a" + bytes(40), b"%PDF-1.4"])
def test_what_is_no_picture_is_refused_in_words(data):
    with pytest.raises(FileFault, match=r"label\.jpg"):
        codes_in(data, "label.jpg")
