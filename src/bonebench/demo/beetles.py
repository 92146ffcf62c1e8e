"""What was seen of the invented room's colony over the weeks, and how its box is set. Nothing here is measured anywhere."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from bonebench.shop.box_entries import BoxSet
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.entries import Entry
from bonebench.shop.rounds import place_subject
from bonebench.shop.what import What

BOX = "dairy-box"
SETTINGS = BoxSet(BOX, floor_m2=0.62, sites=2250, beetles="Dermestes maculatus", heater_w=150.0, holding_w=118.0)
Write = Callable[[What, tuple[str, ...], datetime], Entry]
# Days ago, and what was seen; larvae and adults in a scoop of two parts in a hundred of the bedding.
SEEN: tuple[tuple[float, ColonySeen], ...] = (
    (38.2, ColonySeen(counted=96, part=0.02, temperature_c=24.8, humidity=0.52, smell=1)),
    (26.1, ColonySeen(counted=118, part=0.02, pupae=96, pupae_part=0.25, temperature_c=25.6, humidity=0.55, smell=0)),
    (19.3, ColonySeen(grade="thousands", temperature_c=25.9, humidity=0.57, smell=1)),
    (12.2, ColonySeen(counted=131, part=0.02, temperature_c=25.4, humidity=0.56, smell=1)),
    (3.1, ColonySeen(counted=142, part=0.02, temperature_c=25.8, humidity=0.58, smell=1)),
)


def colony_entries(now: datetime, write: Write) -> Iterator[Entry]:
    """Return the looks into the box, oldest first."""
    for ago, what in SEEN:
        yield write(what, (place_subject(BOX),), now - timedelta(days=ago))
