"""What can hurt when a piece is lifted from the tub to be photographed: peroxide in the eye, and a look too many for the bone."""

from bonebench.shop.cautions.rows import Caution, Rows, ordered


def for_photo_of_whitening(rows: Rows) -> tuple[Caution, ...]:
    """Return the cautions of a look at bone that whitens."""
    return ordered(rows, ((key, {}) for key in ("peroxide.eyes", "peroxide.on_bone")))
