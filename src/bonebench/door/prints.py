"""The door's papers: what is to be printed, the pencil sheet and its way back, what a code on paper means."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from bonebench.records.book import Book
from bonebench.services.gather import known_of
from bonebench.services.prints import care, choose, door_form, scan, sheets, typed
from bonebench.services.prints.cards import (
    CareCard,
    IntakeFormCard,
    Labelled,
    PlaceLabelled,
    ScanCard,
    SheetCard,
    SheetLine,
    TypedBackCard,
)
from bonebench.services.prints.choose import Choice
from bonebench.services.today.cards import TaskCard, TodayCard
from bonebench.shop.cautions import Caution

METAL = "peroxide.no_metal"


@dataclass(frozen=True, slots=True)
class KeptSheet:
    """A pencil sheet that was kept, and the tasks its rows were made from."""

    card: SheetCard
    tasks: tuple[TaskCard, ...]


class Prints:
    """Mixed into the door; ``write``, ``today``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    today: Callable[..., TodayCard]
    book: Book
    now: Callable[[], datetime]

    def labelled(self, choice: Choice) -> tuple[Labelled, ...]:
        """Return the specimens that were chosen for a print."""
        with self.book.reading() as tx:
            return choose.chosen(tx, choice, self.now())

    def places_labelled(self, names: Sequence[str] = ()) -> tuple[PlaceLabelled, ...]:
        """Return the places named, or all that are in use, for a print."""
        with self.book.reading() as tx:
            return choose.places(tx, names)

    def tags_of_roll(self, roll: str) -> tuple[str, ...]:
        """Return the tags of a roll, to print it once more."""
        with self.book.reading() as tx:
            return choose.tags_of_roll(tx, roll)

    def print_cautions(self) -> tuple[Caution, ...]:
        """Return what is said beside every label: no metal in peroxide, and whom to heed."""
        with self.book.reading() as tx:
            known = known_of(tx)
        return (known.caution_rows[METAL].filled(), known.defer)

    def intake_form(self) -> IntakeFormCard:
        """Return what stands on the form for the door."""
        with self.book.reading() as tx:
            return door_form.intake_form(known_of(tx))

    def care_card(self, tag: str) -> CareCard:
        """Return what the owner of a specimen takes home."""
        with self.book.reading() as tx:
            return care.care_card(tx, tag)

    def pencil_sheet(self, *, on: date | None = None, minutes: float | None = None, who: str | None = None) -> KeptSheet:
        """Keep the day's work as a sheet to be typed back; the same rows on the same day are the same sheet."""
        day = self.today(on=on, minutes=minutes, who=who)
        card: SheetCard = self.write(lambda tx, pen: sheets.keep_sheet(tx, pen, day.date, day.tasks), who)
        return KeptSheet(card, day.tasks)

    def sheet(self, number: str) -> SheetCard:
        """Return a sheet as it was printed."""
        with self.book.reading() as tx:
            return sheets.sheet_card(tx, number)

    def last_sheets(self) -> tuple[SheetLine, ...]:
        """Return the sheets printed last."""
        with self.book.reading() as tx:
            return sheets.last_sheets(tx)

    def typed_back(self, number: str, text: str, who: str | None = None) -> TypedBackCard:
        """Store what a pencil sheet says; what cannot be read comes back in words."""
        card: TypedBackCard = self.write(lambda tx, pen: typed.typed_back(tx, pen, number, text), who)
        return card

    def scanned(self, texts: Sequence[str]) -> ScanCard:
        """Say what each code is."""
        with self.book.reading() as tx:
            return scan.scanned(tx, texts)
