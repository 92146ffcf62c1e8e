"""The faces: accents and signs come out, nothing overruns its width, every font a label uses is inside the file."""

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from bonebench.papers.bathlabel import bath_label
from bonebench.papers.labels import BlankTag, labels_pdf
from bonebench.papers.punchsheet import Strip, punch_guide, punch_strips
from bonebench.papers.stocks import STOCKS
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of, use_type
from tests.papers.rendering import fonts_of, text_of
from tests.papers.test_bathlabel import LABEL

SIGNS = "Ł Æ é ß ≤ ≥ ° ☐ µ Ω × – … “ ” € ř ş"
PAPERS = {
    "bath": lambda: bath_label(LABEL),
    "tags": lambda: labels_pdf([BlankTag("K7Q-K")], STOCKS["a4-3x7-63.5x38.1"]),
    "strips": lambda: punch_strips([Strip(tag="K7Q-K")]),
    "guide": punch_guide,
}


@pytest.mark.parametrize("face", [PLAIN, BOLD])
def test_accents_and_signs_come_out_of_the_file(face):
    use_type()
    out = io.BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.setFont(face, 12)
    canvas.drawString(50, 700, SIGNS)
    canvas.save()
    assert SIGNS in text_of(out.getvalue())


@pytest.mark.parametrize("paper", PAPERS)
def test_every_font_with_letters_in_it_is_inside_the_file(paper):
    fonts = fonts_of(PAPERS[paper]())
    ours = [name for name, inside in fonts if inside]
    assert any("DejaVuSans" in name for name in ours)
    # reportlab names its standard Helvetica on every page, used or not; nothing is set in it, which the words below would show.
    assert {name for name, inside in fonts if not inside} <= {"/Helvetica"}


@pytest.mark.parametrize("paper", PAPERS)
def test_the_same_paper_gives_the_same_bytes(paper):
    assert PAPERS[paper]() == PAPERS[paper]()


@given(st.text(st.characters(min_codepoint=32, max_codepoint=0x24F), max_size=80), st.floats(20, 300))
def test_a_fitted_text_never_overruns_and_is_cut_only_with_an_ellipsis(text, width):
    use_type()
    written, size = fitted(text, BOLD, width, 14, 6)
    assert stringWidth(written, BOLD, size) <= width * 1.001
    plain = " ".join(text.split())
    assert written in (plain, "") or (written.endswith("…") and plain.startswith(written[:-1]))


@given(st.lists(st.text("abcWM", min_size=1, max_size=30), max_size=12), st.floats(30, 200))
def test_lines_keep_every_letter_and_never_overrun(words, width):
    use_type()
    lines = lines_of(" ".join(words), PLAIN, 8, width)
    assert "".join(lines).replace(" ", "") == "".join(words)
    assert all(stringWidth(line, PLAIN, 8) <= width + 0.01 for line in lines)
