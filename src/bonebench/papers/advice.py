"""What a label can stand, and what to do about it: lines for the foot of a page and for the faces."""

from bonebench.said import Said, said

# Each: common practice, no source, unless another line says so.
TEST_STRIP = said(
    "labels.test_strip",
    "Before a label stock is trusted, send a test strip through your own pot and your own tub: same heat, same soap, same days. "
    "Read it wet and read it dry.",
)
# Metal and peroxide: the caution peroxide.no_metal has the source.
NO_METAL = said(
    "labels.no_metal", "No metal goes into peroxide: no wire, staple, clip or metal tag. Tie with plastic cord, mark on plastic."
)
ONE_SKULL = said("labels.one_skull", "One skull to a pot, tub or net bag; where that cannot be, a punched tag on each.")
BEETLES = said("labels.beetles", "Beetles chew paper and string: in the box only the punched plastic tag counts.")
TWO_MARKS = said(
    "labels.two_marks", "Two marks on each specimen: the punched tag tied to the bone, the printed label on its bag or vessel."
)
FULL_SIZE = said(
    "labels.full_size", "Print at full size, never fitted to the page; the ruler must measure {length:length}.", length=0.05
)
HOLD_AGAINST = said(
    "labels.hold_against", "Print the first sheet with outlines on plain paper and hold it against the labels, towards the light."
)

LABEL_ADVICE: tuple[Said, ...] = (TEST_STRIP, NO_METAL, ONE_SKULL, BEETLES, TWO_MARKS, HOLD_AGAINST)
PUNCH_ADVICE: tuple[Said, ...] = (FULL_SIZE, TEST_STRIP, NO_METAL, ONE_SKULL, BEETLES, TWO_MARKS)
