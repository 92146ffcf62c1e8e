"""How promises turned out: what was promised to owners against the day it was handed over."""

from collections.abc import Iterable
from statistics import median

from bonebench.said import Said, said
from bonebench.services.plans.problem import Subject
from bonebench.services.promise.cards import DeliveredCard, KeptCard
from bonebench.services.specimens.names import species_name
from bonebench.services.surroundings import Surroundings
from bonebench.shop.steps import Step

FEW = 10


def kept_card(through: Iterable[Subject], in_work: Iterable[Subject], around: Surroundings) -> KeptCard:
    """Return every piece that was promised and handed over, the latest first."""
    pieces = sorted((card for one in through if (card := _delivered(one, around)) is not None), key=lambda card: card.delivered)[
        ::-1
    ]
    today = around.known.room.day(around.now)
    open_late = sum(1 for one in in_work if one.specimen.promised is not None and one.specimen.promised < today)
    kept = sum(1 for card in pieces if card.days_late <= 0)
    return KeptCard(
        pieces=tuple(pieces),
        kept=kept,
        share_kept=kept / len(pieces) if pieces else None,
        median_days_late=float(median(card.days_late for card in pieces)) if pieces else None,
        open_late=open_late,
        words=_words(len(pieces), kept),
    )


def _delivered(subject: Subject, around: Surroundings) -> DeliveredCard | None:
    specimen = subject.specimen
    handed = specimen.ending(Step.HAND_OVER)
    if specimen.promised is None or handed is None or handed.skipped:
        return None
    day = around.known.room.day(handed.at)
    return DeliveredCard(
        specimen.id, specimen.tag, species_name(specimen.species, around.known).common, around.people.get(specimen.owner or ""),
        specimen.promised, day, (day - specimen.promised).days,
    )  # fmt: skip


def _words(count: int, kept: int) -> Said:
    if not count:
        return said("promise.none_yet", "nothing that was promised has been handed over yet")
    if count < FEW:
        return said("promise.few", "{kept} of {count} promises were kept; so few say little", kept=kept, count=count)
    return said("promise.kept", "{kept} of {count} promises were kept", kept=kept, count=count)
