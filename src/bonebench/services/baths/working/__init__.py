"""The arithmetic of the wet bench, each question one card."""

from bonebench.services.baths.working.bone import cover, dry, whiten
from bonebench.services.baths.working.peroxide import blend, decay, titrate, top_up
from bonebench.services.baths.working.warm import degrease, heat

__all__ = ["blend", "cover", "decay", "degrease", "dry", "heat", "titrate", "top_up", "whiten"]
