"""Signal words and pictograms: the louder word wins, and each sign is a diamond with something in it."""

import io

import numpy as np
import pytest
from reportlab.pdfgen.canvas import Canvas

from bonebench.papers.ghs import CODES, draw_pictogram, pictograms_of, signal_of
from bonebench.reference.bench import load_chemicals
from tests.papers.rendering import rendered

# GHS annex 3, section 1, columns of H-codes with signal words and signs. # from memory
SIGNALS = [
    (("Serious eye damage (H318)",), "DANGER", ("corrosion",)),
    (("Irritates eyes (H319)",), "WARNING", ("exclamation mark",)),
    (("Irritates eyes (H319)", "Serious eye damage (H318)"), "DANGER", ("corrosion",)),
    (("Burns (H314)", "May irritate lungs (H335)"), "DANGER", ("corrosion", "exclamation mark")),
    (("May intensify fire (H272)",), "DANGER", ("flame over circle",)),
    (("Flammable (H226)",), "WARNING", ("flame",)),
    (("Breathing allergy (H334)", "Skin allergy (H317)"), "DANGER", ("health hazard",)),
    (("Breathing allergy (H334)", "Harmful if swallowed (H302)"), "DANGER", ("health hazard", "exclamation mark")),
    (("Harmful to water life (H412)", "Gives off a poisonous gas with acid (EUH031)"), "", ()),
    (("Danger to eyes",), "", ()),
    ((), "", ()),
    (("Something nobody listed here (H999)",), "DANGER", ()),
]


@pytest.mark.parametrize(("hazards", "signal", "signs"), SIGNALS)
def test_the_louder_signal_word_stands_and_the_signs_follow_the_codes(hazards, signal, signs):
    assert signal_of(hazards) == signal
    assert pictograms_of(hazards) == signs


def test_every_code_of_the_rooms_chemicals_is_known():
    codes = {one.code for chemical in load_chemicals().values() for one in chemical.classes}
    assert codes <= CODES.keys()


@pytest.mark.parametrize("sign", sorted({sign for _, sign in CODES.values() if sign}))
def test_a_sign_stays_inside_its_diamond(sign):
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(120, 120), invariant=1)
    draw_pictogram(canvas, sign, 10, 10, 100)
    canvas.save()
    dark = np.array(rendered(out.getvalue(), 144)) < 128  # two dots a point
    rows, columns = np.nonzero(dark)
    reach = (np.abs(columns / 2 - 60) + np.abs(rows / 2 - 60)).max()
    assert reach <= 51.5, "nothing beyond the frame, but for a dot of rounding at its edge"
    assert dark[90:150, 90:150].any()
