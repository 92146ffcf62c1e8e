"""Codes in a picture: the texts of every QR code that can be read in a photo from a phone."""

import zxingcpp
from PIL import Image, ImageOps

from bonebench.files.pictures import open_picture

LONGEST_PX = 2400  # a label across a phone's picture keeps five dots a module here, and a read stays under a second
MOST_CODES = 60


def codes_in(data: bytes, name: str | None = None) -> tuple[str, ...]:
    """Return the texts in a picture, each once, from the top down; a file that is no picture is refused in words."""
    image = open_picture(data, name, longest=LONGEST_PX).image.convert("L")
    found: dict[str, None] = {}
    for look in _looks(image):
        read = zxingcpp.read_barcodes(look, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
        for code in sorted(read, key=lambda one: one.position.top_left.y):
            if code.text:
                found.setdefault(code.text)
        if found:
            break
    return tuple(found)[:MOST_CODES]


def _looks(image: Image.Image) -> list[Image.Image]:
    """The picture as it is; then with its darks and lights stretched, and smaller, where a dim or blurred one hides its code."""
    stretched = ImageOps.autocontrast(image, cutoff=2)
    half = stretched.resize((max(image.width // 2, 1), max(image.height // 2, 1)))
    return [image, stretched, half]
