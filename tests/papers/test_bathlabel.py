"""The label of a bath: its words come out of the PDF, its code can be read with a quarter of it dirty, its type is embedded."""

import io
import random
import shutil
import subprocess
from dataclasses import replace

import pypdf
import pytest
import zxingcpp
from PIL import Image, ImageDraw

from bonebench.papers.bathlabel import BathLabel, bath_label
from bonebench.papers.type import BOLD, PLAIN, lines_of, use_type

LABEL = BathLabel(
    name="White tub no. 2 · Łódź",
    what="Peroxide in White tub",
    strength="3 % w/w",
    also="as mixed; 3.03 % w/v, 9.97 volumes; not tested since",
    made="made 14 Nov 2026 by Wren Halloway",
    look_by="test or look by 26 Nov 2026",
    hazards=("Serious eye damage (H318)",),
    dangers=(("Peroxide blinds and burns.", "Goggles, gloves. In the eye: rinse ≥ 15 minutes."), ("Never seal it.", "Loose lid.")),
    code="http://127.0.0.1:8437/baths/01a2170a-89b7-72d9-b149-134983381154",
)


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def test_everything_a_person_must_know_stands_on_it():
    text = text_of(bath_label(LABEL))
    for words in (
        LABEL.name,
        LABEL.strength,
        LABEL.made,
        LABEL.look_by,
        "DANGER: Serious eye damage (H318)",
        "Defer to local codes",
    ):
        assert words in text
    assert "rinse ≥ 15 minutes" in text, "signs and accents come out"


def test_its_type_is_embedded_and_it_is_one_page():
    reader = pypdf.PdfReader(io.BytesIO(bath_label(LABEL)))
    assert len(reader.pages) == 1
    fonts = reader.pages[0]["/Resources"]["/Font"].get_object().values()
    for font in (f.get_object() for f in fonts):
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        if "/FontDescriptor" in inner:
            assert "/FontFile2" in inner["/FontDescriptor"].get_object()


def test_the_same_label_gives_the_same_bytes():
    assert bath_label(LABEL) == bath_label(LABEL)


def test_a_warning_is_printed_whole_or_not_at_all():
    dangers = tuple((f"Danger number {n} with more words to fill the line.", f"Do thing number {n} slowly.") for n in range(40))
    many = replace(LABEL, dangers=dangers)
    text = " ".join(text_of(bath_label(many)).split())
    for n in range(40):
        assert (f"Danger number {n} with" in text) == (f"Do thing number {n} slowly." in text)


def rendered(pdf: bytes, tmp_path) -> Image.Image:
    if shutil.which("pdftoppm") is None:
        pytest.fail("pdftoppm is missing: install poppler-utils (.ci/run does)")
    (tmp_path / "label.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", "200", "-png", "label.pdf", "label"], cwd=tmp_path, check=True)
    return Image.open(next(tmp_path.glob("label*.png"))).convert("L")


def test_its_code_is_read_from_the_rendered_page(tmp_path):
    found = zxingcpp.read_barcodes(rendered(bath_label(LABEL), tmp_path))
    assert [code.text for code in found] == [LABEL.code]


def test_its_code_is_read_with_dirt_on_it(tmp_path):
    """Specks over a quarter of the code's rows and columns, away from the three corners a reader looks for first."""
    image = rendered(bath_label(LABEL), tmp_path)
    (code,) = zxingcpp.read_barcodes(image)
    xs = [p.x for p in (code.position.top_left, code.position.bottom_right)]
    ys = [p.y for p in (code.position.top_left, code.position.bottom_right)]
    rng, draw = random.Random(1), ImageDraw.Draw(image)
    wide, high = xs[1] - xs[0], ys[1] - ys[0]
    # One blot that covers a quarter of the side each way is 6 % of the area; level H bears a quarter of the words.
    left, top = xs[0] + wide * 0.4, ys[0] + high * 0.4
    draw.ellipse((left, top, left + wide * 0.28, top + high * 0.28), fill=128)
    for _ in range(20):
        x, y = xs[0] + wide * rng.uniform(0.35, 0.95), ys[0] + high * rng.uniform(0.35, 0.95)
        draw.ellipse((x, y, x + wide * 0.02, y + high * 0.02), fill=90)
    assert [one.text for one in zxingcpp.read_barcodes(image)] == [LABEL.code]


def test_lines_break_between_words_and_never_overrun():
    use_type()
    from reportlab.pdfbase.pdfmetrics import stringWidth

    text = "Peroxide and acetone can make a high explosive " * 3 + "x" * 200
    for face in (PLAIN, BOLD):
        lines = lines_of(text, face, 8, 150)
        assert all(stringWidth(line, face, 8) <= 150.01 for line in lines)
        assert "".join(lines).replace(" ", "") == text.replace(" ", "")
