"""Beetles of another kind: which rules differ is said. Light: it loads no model."""

from collections.abc import Iterator

from bonebench.reference.beetles import OWN, beetle_named
from bonebench.said import said
from bonebench.services.cards import Flag


def kind_flags(named: str | None) -> Iterator[Flag]:
    """Say which rules differ for the beetles as they were named, and what was done about it."""
    kind = beetle_named(named)
    if kind.trust == "own":
        return
    near = kind.trust == "near"
    then = (
        "every range here is widened for it; weigh a head before and after: what this box eats says more than any figure"
        if near
        else "weigh what goes in and comes out, and set what this box eats; take the trade's looking and smelling as your dates"
    )
    yield Flag(
        said(
            "colony.kind.near" if near else "colony.kind.none",
            "the beetles are {kind}, and the figures are those of {own}. What differs: {differs}",
            kind=kind.name, own=OWN, differs="; ".join(kind.differs),
        ),
        said("colony.kind.next", then),
    )  # fmt: skip
