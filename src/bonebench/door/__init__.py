"""The door: the one wrapper that every face, the demo and the timed work go through.

It opens one transaction for each call, hands it to one service, and afterwards makes the plan current: gather in one read-only
transaction, plan in none, keep in one short write transaction that checks the revision again. Clock and chance come from outside.
"""

from bonebench.door.door import Door, Surface
from bonebench.door.nobook import NoBook
from bonebench.records.backup import restore
from bonebench.services.baths.keep import Happened, NewBath
from bonebench.services.colony.boxes import BoxTyped
from bonebench.services.colony.keep import Look
from bonebench.services.costs.prices import PricesTyped
from bonebench.services.photos.keep import About
from bonebench.services.prints.choose import Choice
from bonebench.services.rooms.begin import Beginning
from bonebench.services.specimens.intake import Intake
from bonebench.services.teeth.do import TeethTold

__all__ = [
    "About",
    "Beginning",
    "BoxTyped",
    "Choice",
    "Door",
    "Happened",
    "Intake",
    "Look",
    "NewBath",
    "NoBook",
    "PricesTyped",
    "Surface",
    "TeethTold",
    "restore",
]
