"""Catch-up on the command line: the walk through the room."""

from typing import TYPE_CHECKING

import click

from bonebench.cli.face import Session, answer, book_option, faults, json_option, session, who_option

if TYPE_CHECKING:
    from bonebench.services.catchup.cards import CatchUpCard, SilentCard


@click.command("catch-up")
@click.option(
    "--walk", is_flag=True, help="Ask for each piece: Enter is still here, a place's key is moved, g is gone, s is later."
)
@who_option
@book_option
@json_option
def catch_up_command(walk: bool, who: str | None, book: str | None, as_json: bool) -> None:
    """Show, place by place, what nobody has said a word about lately; with --walk, ask for each."""
    with faults(as_json, "catch-up/1"), session(book, who) as at:
        if walk and not as_json:
            for piece in _silent(at.door.catch_up()):
                _ask(at, piece)
        answer(at.door.catch_up(), as_json=as_json, show=lambda c: _text(c, at))


def _silent(card: "CatchUpCard") -> list["SilentCard"]:
    return [piece for place in card.places for piece in place.pieces] + list(card.nowhere)


def _ask(at: Session, piece: "SilentCard") -> None:
    from bonebench.units import say

    keys = {answer.values["place"]: answer for answer in piece.moved}
    while True:
        said = click.prompt(
            f"{piece.tag} {piece.species.common}: {say(piece.was, at.reader)}; still here", default="", show_default=False
        )
        chosen = {"": piece.here, "g": piece.gone, **keys}.get(said.strip())
        if said.strip() == "s" or (chosen is None and said.strip() == ""):
            return
        if chosen is not None:
            at.door.tap(kind=chosen.kind, subjects=chosen.subjects, values=chosen.values, about=chosen.about)
            return
        click.echo(f"no place '{said}' here; there are: {', '.join(keys)}; g is gone, s is later")


def _text(card: "CatchUpCard", at: Session) -> str:
    from bonebench.units import say

    if card.teach is not None:
        return say(card.teach, at.reader)
    lines = [f"{card.left} to speak of, {card.said} spoken of lately; nobody said a word for {card.silent_days:g} days"]
    for place in card.places:
        lines.append(f"\n{place.name}: {len(place.pieces)} to speak of, {place.settled} settled")
        lines += [
            f"  {p.tag:8} {p.species.common:24.24} {say(p.was, at.reader)}, silent for {p.silent_days:g} days" for p in place.pieces
        ]
    if card.nowhere:
        lines += ["\nno place recorded", *(f"  {p.tag:8} {p.species.common}" for p in card.nowhere)]
    return "\n".join(lines)


def register(app: click.Group) -> None:
    """Add this command."""
    app.add_command(catch_up_command)
