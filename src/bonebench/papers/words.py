"""From cards to what stands on paper: words in the reader's units."""

from zoneinfo import ZoneInfo

from bonebench.papers.bathlabel import BathLabel
from bonebench.reference.bench import load_chemicals
from bonebench.said import day_text
from bonebench.services.baths.bathcard import BathCard
from bonebench.services.baths.label import CHEMICAL, hazards_of, notations_of
from bonebench.shop.cautions import Level
from bonebench.units import Reader, say, write


def label_of_bath(card: BathCard, reader: Reader, zone: str, code: str) -> BathLabel:
    """Return what stands on a bath's label; a strength that was never tested says so."""
    strength, also = "strength not known", ""
    if card.made_w is not None:
        strength = f"{write(card.made_w, 'strength', reader)} w/w"
        also = f"as mixed; {notations_of(card.made_w)}" + (
            "" if card.strength is not None and card.strength.tests else "; not tested since"
        )
    elif card.dose is not None:
        strength = f"{write(card.dose, 'percent', reader)} detergent"
    elif card.recipe != "peroxide":
        strength = card.recipe
    made = ""
    if card.made is not None:
        day = day_text(card.made.astimezone(ZoneInfo(zone)).date())
        made = f"made {day}" + (f" by {card.made_by}" if card.made_by else "")
    return BathLabel(
        name=card.name,
        what=card.recipe.capitalize() + (f" in {card.place_name}" if card.place_name else ""),
        strength=strength,
        also=also,
        made=made,
        look_by=f"test or look by {day_text(card.strength.look_by)}" if card.strength is not None else "",
        hazards=hazards_of(card),
        dangers=tuple((say(c.hazard, reader), say(c.do, reader)) for c in card.cautions if c.level in (Level.STOP, Level.STRONG)),
        code=code,
        first_aid=load_chemicals()[CHEMICAL[card.recipe]].first_aid if card.recipe in CHEMICAL else "",
    )  # fmt: skip
