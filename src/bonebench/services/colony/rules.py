"""Rules of the trade at the box, in words: one more day, and what a spoiling piece needs. Light: it loads no model."""

from bonebench.said import Said, said
from bonebench.science import cleaning

SMALL_KG = 0.1  # a lighter head gets one more look within half a day: common practice, no source


def rot_steps(advice: cleaning.RotAdvice) -> tuple[Said, ...]:
    """Say what a clock asks for."""
    if advice is cleaning.RotAdvice.TAKE_OUT:
        return (
            said("colony.rot.step.out", "Take it out now, bagged, mask and gloves on"),
            said("colony.rot.step.cut", "Cut muscle and brain away, shake out the beetles over the box, refreeze what is left"),
            said("colony.rot.step.less", "It goes in again alone when the box is bare; next time fewer or leaner pieces at once"),
        )
    if advice is cleaning.RotAdvice.LOOK:
        return (said("colony.rot.step.look", "Look and smell today and again tomorrow; turn the wet side up, more air over it"),)
    return (said("colony.rot.step.leave", "Leave it; look again tomorrow"),)


def clean_steps(small: bool) -> tuple[Said, ...]:
    """Say what comes after a piece looks clean."""
    if small:
        return (
            said(
                "colony.clean.step.again",
                "A small piece: when it looks clean, look again within half a day, before they start on the joints",
            ),
        )
    return (
        said(
            "colony.clean.step.day",
            "When it looks clean, give it one more day, then look into nose, ear and braincase with a light",
        ),
    )
