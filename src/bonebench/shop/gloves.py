"""What hands wear, from clean work to dirty: when the work of the day crosses from one to the next, it says so."""

from bonebench.said import Said, said
from bonebench.shop.steps import PlaceKind

# Common practice, no source: the order is that of CLEAN_TO_DIRTY, so that nothing clean is touched after something dirty.
_HANDS: tuple[tuple[str, str, frozenset[PlaceKind]], ...] = (
    ("clean", "Clean hands or fresh thin gloves: teeth, glue, finished bone",
     frozenset({PlaceKind.GLUE_BENCH, PlaceKind.SHELF, PlaceKind.RACK})),
    ("peroxide", "Change: goggles and long gloves, peroxide from here on", frozenset({PlaceKind.RINSE, PlaceKind.TUB})),
    ("pot", "Change: heat-proof gloves, hot and greasy water from here on", frozenset({PlaceKind.POT})),
    ("beetles", "Change: gloves and mask, beetles and dust from here on", frozenset({PlaceKind.ENCLOSURE})),
    ("raw", "Change: double gloves, eyes covered, raw heads from here on; nothing clean after this",
     frozenset({PlaceKind.FREEZER, PlaceKind.THAW_SHELF, PlaceKind.TRIM_BENCH})),
)  # fmt: skip


def hands_for(*kinds: PlaceKind | None) -> str:
    """Return what hands wear for work between these kinds of place: what the dirtiest of them asks for."""
    names = [name for name, _, places in _HANDS for kind in kinds if kind in places]
    return names[-1] if names else _HANDS[0][0]


def change(hands: str) -> Said:
    """Say what to put on before work of this kind."""
    return next(said(f"gloves.{name}", words) for name, words, _ in _HANDS if name == hands)
