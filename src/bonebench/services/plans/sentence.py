"""The sentence for an owner: what is likely, and the day that holds four times in five; never a bare promise."""

from datetime import date

from bonebench.said import Said, said
from bonebench.services.plans.stored import Promise


def sentence_of(species: str, promise: Promise, *, arrives: date | None = None) -> Said:
    """Return the sentence for the owner, with how often its days hold."""
    if promise.p80 is None:
        return said(
            "promise.sentence.none", "No day can be promised for the {species} yet: ask again in a few weeks.", species=species
        )
    if arrives is None:
        return said(
            "promise.sentence", "Your {species} should be ready about {p50:day}, and four times in five by {p80:day}.",
            species=species, p50=promise.p50, p80=promise.p80,
        )  # fmt: skip
    return said(
        "promise.sentence.quote",
        "If the {species} comes in on {arrives:day}, it should be ready about {p50:day}, and four times in five by {p80:day}.",
        species=species, arrives=arrives, p50=promise.p50, p80=promise.p80,
    )  # fmt: skip
