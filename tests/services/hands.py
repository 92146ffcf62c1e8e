"""What hands do in a service test: take something in, tap the first button of a task, say in short what a card holds."""

from bonebench.door import Door, Intake
from bonebench.services.cards import Answer
from bonebench.services.specimens.cards import AddedCard, LoggedCard


def take_in(door: Door, species: str = "red fox", **said: object) -> AddedCard:
    """Take a specimen in."""
    return door.add(Intake(species, **said))  # type: ignore[arg-type]


def press(door: Door, answer: Answer, **more: object) -> LoggedCard:
    """Tap a button, exactly as a face would."""
    return door.tap(kind=answer.kind, subjects=answer.subjects, values=answer.values, task=answer.task, **more)  # type: ignore[arg-type]


def press_next(door: Door, tag: str) -> LoggedCard:
    """Tap the first button for what comes next."""
    return press(door, door.specimen(tag).next_answers[0])


def moved(door: Door, tag: str, place: str, *more: str, **when: str) -> LoggedCard:
    """Say that it was put somewhere."""
    return door.log(tag, "moved", [f"place={place}", *more], **when)  # type: ignore[arg-type]


def flags(card: object) -> list[str]:
    """Return what is flagged, by key."""
    return [flag.what.key for flag in card.flags]  # type: ignore[attr-defined]
