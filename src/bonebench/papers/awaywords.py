"""From the card of days away to the sheet for whoever looks in: words in the reader's units."""

from bonebench.papers.neighbour import NeighbourSheet, neighbour_sheet
from bonebench.said import said
from bonebench.services.colony.cards import AwayCard
from bonebench.units import Reader, say


def away_pdf(card: AwayCard, reader: Reader, *, room: str, demo: bool) -> bytes:
    """Return the sheet as a PDF, on the paper of the reader's country."""
    return neighbour_sheet(sheet_of_away(card, reader, room=room, demo=demo), us_paper=reader.system == "us")


def sheet_of_away(card: AwayCard, reader: Reader, *, room: str, demo: bool) -> NeighbourSheet:
    """Return what stands on the sheet."""
    when = said("neighbour.days", "{days} days", days=card.days)
    if card.first_day is not None and card.last_day is not None:
        when = said("neighbour.when", "from {first:day} to {last:day}", first=card.first_day, last=card.last_day)
    *cautions, defer = card.cautions
    return NeighbourSheet(
        room=room,
        when=say(when, reader),
        daily=tuple(_begun(say(line, reader)) for line in card.sheet.daily),
        call=tuple(_begun(say(line, reader)) for line in card.sheet.call),
        never=tuple(_begun(say(line, reader)) for line in card.sheet.never),
        cautions=tuple((say(one.hazard, reader), say(one.do, reader)) for one in cautions),
        defer=f"{say(defer.hazard, reader)} {say(defer.do, reader)}",
        demo=demo,
    )


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]
