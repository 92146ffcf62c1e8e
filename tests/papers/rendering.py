"""What comes out of a PDF: its words, and its pages as an image."""

import io
import shutil
import subprocess
import tempfile
from pathlib import Path

import pypdf
import pytest
from PIL import Image


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def words_of(pdf: bytes) -> str:
    return " ".join(text_of(pdf).split())


def page_count(pdf: bytes) -> int:
    return len(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def rendered(pdf: bytes, dpi: int = 200, page: int = 1) -> Image.Image:
    if shutil.which("pdftoppm") is None:
        pytest.fail("pdftoppm is missing: install poppler-utils (.ci/run does)")
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "it.pdf").write_bytes(pdf)
        command = ["pdftoppm", "-r", str(dpi), "-f", str(page), "-l", str(page), "-gray", "-png", "-singlefile", "it.pdf", "it"]
        subprocess.run(command, cwd=folder, check=True)
        with Image.open(Path(folder) / "it.png") as image:
            return image.convert("L")


def fonts_of(pdf: bytes) -> list[tuple[str, bool]]:
    """Every font of a PDF, and whether its outlines are in the file."""
    found = []
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        for one in page["/Resources"].get("/Font", {}).values():
            font = one.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            inside = "/FontDescriptor" in inner and "/FontFile2" in inner["/FontDescriptor"].get_object()
            found.append((str(font["/BaseFont"]), inside))
    return found
