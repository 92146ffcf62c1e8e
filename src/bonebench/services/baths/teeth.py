"""Teeth at the bath: whose are looked for when its water goes, and the button that says one was found."""

from collections.abc import Iterable, Iterator

from bonebench.said import Said, said
from bonebench.services.cards import Answer, Flag
from bonebench.services.plans.problem import Subject
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import Recipe, bath_subject
from bonebench.shop.entries import specimen_subject
from bonebench.shop.teeth_telling import listed

# Only these say how a change of water went; whoever pours a tub away has its own buttons.
CHANGED = frozenset({Recipe.DETERGENT, Recipe.RINSE, Recipe.MACERATION})


def looked_for(subjects: Iterable[Subject]) -> str:
    """Name the teeth that are unaccounted for among these specimens; empty where there are none."""
    return "; ".join(f"{s.specimen.tag} {listed(s.specimen.teeth.missing)}" for s in subjects if s.specimen.teeth.missing)


def sieve_flags(bath: Bath, subjects: Iterable[Subject]) -> Iterator[Flag]:
    """Say before and after every pour which teeth of what sits in a bath nobody has found yet."""
    wanted = looked_for(subjects)
    if wanted:
        yield Flag(
            said("flag.bath.teeth_wanted", "teeth unaccounted for in {name}: {teeth}", name=bath.name, teeth=wanted),
            said("flag.bath.teeth_wanted.next", "pour through a sieve and look for them; what is found goes into that skull's jar"),
        )


def why_sieved(why: Said, subjects: Iterable[Subject]) -> Said:
    """Add to the reason for a change of water which teeth to look for in it."""
    wanted = looked_for(subjects)
    if not wanted:
        return why
    return said(f"{why.key}.teeth", why.template + "; look for teeth of {teeth}", **{**why.values, "teeth": wanted})


def found_answers(bath: Bath, subjects: Iterable[Subject]) -> Iterator[Answer]:
    """One button for each piece in the bath: changed, sieved, and one tooth of it found; more are counted into its jar."""
    if bath.recipe not in CHANGED:
        return
    for subject in subjects:
        whose = specimen_subject(subject.specimen.id)
        yield Answer(
            f"changed-tooth-{subject.specimen.tag}",
            said("tap.bath.changed_tooth", "Changed and sieved, 1 tooth of {tag}", tag=subject.specimen.tag), "water-changed",
            (bath_subject(bath.id), whose), {"sieved": True, "teeth": 1, "whose": whose},
        )  # fmt: skip
