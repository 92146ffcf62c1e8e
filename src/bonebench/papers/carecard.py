"""The care card: what the owner takes home with a skull. One page, black on white."""

from functools import partial
from zoneinfo import ZoneInfo

from reportlab.lib.units import mm

from bonebench.papers.flow import Flow, Frame, Words, on_pages
from bonebench.papers.qr import draw_qr
from bonebench.papers.sheets import Box
from bonebench.papers.type import BOLD
from bonebench.said import Said, day_text, said
from bonebench.services.prints.cards import CareCard
from bonebench.shop.cautions import DEFER
from bonebench.units import Reader, say

CODE = 24 * mm

# Common practice, no source, unless a line says so.
KEEP: tuple[Said, ...] = (
    said(
        "care.dry",
        "Keep it dry and in even warmth: no bathroom, cellar or attic, not above a stove or a heater. Bone cracks in air that is "
        "too dry and moulds in air that is damp.",
    ),
    said(
        "care.sun",
        "Keep it out of the sun and off a window sill: bone yellows and splits there, and grease comes to the surface.",
    ),
    said(
        "care.dust",
        "Dust it with a soft, dry brush. Lift it by the brain case with both hands, never by the teeth, the nose, the cheek "
        "arches or the antlers.",
    ),
    # Chlorine bleach turns bone to chalk with time: two keepers on museum lists, R95 and R97 of docs/sources.md.
    said(
        "care.bleach",
        "No household bleach, ever: chlorine turns bone to chalk over the years. No boiling, no wire brush, no oil, no varnish.",
    ),
    said(
        "care.wash",
        "Sticky or dirty: a damp cloth with a drop of washing-up liquid, then dry it in the air for days. It does not go into "
        "water whole: glue lets go and teeth come out.",
    ),
    said(
        "care.teeth",
        "A tooth that comes loose is no fault: teeth shrink more than bone as they dry. Keep it in a small bag with the tag "
        "number and ask.",
    ),
    said(
        "care.grease",
        "Yellow or see-through patches after some months are grease. Nothing has to be done at once; bring it back.",
    ),
    said(
        "care.pests",
        "Look at it twice a year. Dust like sawdust under it, small bristly larvae or holes: seal it in a bag, keep it away from "
        "other skins and wool, and ask.",
    ),
    said("care.reach", "Out of reach of dogs and small children. Wash your hands after handling it."),
)
UNGLUED = said("care.no_glue", "No glue is written down.")
GLUED = said(
    "care.glue", "Teeth were put back in; which glue is not written down. Ask before anything wet or any solvent touches it."
)
PAPERS = said(
    "care.papers",
    "Keep the papers with it. Selling, giving away or taking it across a border may need a permit: ask the wildlife agency.",
)


def care_card_pdf(card: CareCard, reader: Reader, paper: str = "a4", *, room_copy: bool = False, demo: bool = False) -> bytes:
    """Return the owner's card, and with ``room_copy`` a second page for the room to keep, signed."""
    frame = Frame(f"Care card: {card.species}", f"{card.room} · tag {card.tag}", demo=demo)

    copies = ("Owner's copy", "The room's copy") if room_copy else ("Owner's copy",)
    return on_pages(frame, paper, *(partial(_copy, card=card, reader=reader, whose=whose) for whose in copies))


def _copy(flow: Flow, card: CareCard, reader: Reader, whose: str) -> None:
    zone = ZoneInfo(card.zone)
    top = flow.at
    draw_qr(flow.canvas, card.tag, flow.left + flow.width - CODE, top - CODE, CODE)
    latin = f" ({card.scientific})" if card.scientific else ""
    beside = [
        Words(whose, 11, BOLD),
        Words(f"{card.species}{latin}", 10),
        *([Words(f"For {card.owner}", 10)] if card.owner else []),
        Words(_dates(card, zone), 10),
        Words(f"Papers: {card.permit or 'none written down'}", 10),
    ]
    wide = flow.width - CODE - 4 * mm
    for words in beside:
        for text in flow.laid(words, wide):
            flow.at -= words.size * 1.3
            flow.canvas.setFont(words.face, words.size)
            flow.canvas.drawString(flow.left, flow.at + 2, text)
    flow.at = min(flow.at, top - CODE) - 2 * mm
    _heading(flow, "What was done, as far as it was written down")
    for fact in card.done:
        flow.write(Words(f"{say(fact.label, reader)}: {say(fact.value, reader)}", 9.5, indent=3 * mm))
    glues = card.glues or ((GLUED,) if card.glued else (UNGLUED,))
    for glue in glues:
        flow.write(Words(say(glue, reader), 9.5, indent=3 * mm))
    if card.fragile:
        flow.write(Words(f"Fragile: {card.fragile}", 9.5, BOLD, 3 * mm))
    _heading(flow, "How to keep it")
    for line in KEEP:
        flow.write(Words(say(line, reader), 9.5, indent=3 * mm, mark="• "))
        flow.space(0.8 * mm)
    _heading(flow, "Papers and the law")
    flow.write(Words(say(PAPERS, reader), 9.5, indent=3 * mm))
    for caution in card.cautions:
        if caution.key != DEFER:
            flow.write(Words(f"{say(caution.hazard, reader)} {say(caution.do, reader)}", 8.5, indent=3 * mm))
    flow.space(8 * mm)
    flow.needs(8 * mm)
    half = flow.width / 2
    flow.blank("Handed over on", Box(flow.left, flow.at, half, 8 * mm), 9)
    flow.blank("Received by (signature)", Box(flow.left + half, flow.at, half, 8 * mm), 9)
    flow.space(6 * mm)


def _heading(flow: Flow, text: str) -> None:
    flow.space(3 * mm)
    flow.write(Words(text, 11.5, BOLD), keep=14 * mm)
    flow.rule(0.5)
    flow.space(0.8 * mm)


def _dates(card: CareCard, zone: ZoneInfo) -> str:
    came = (
        f"came in {day_text(card.received.astimezone(zone).date())}"
        if card.received is not None
        else "nobody wrote when it came in"
    )
    went = f", handed over {day_text(card.handed_over.astimezone(zone).date())}" if card.handed_over is not None else ""
    return came[:1].upper() + came[1:] + went
