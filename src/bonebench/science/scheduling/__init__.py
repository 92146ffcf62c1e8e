"""An order of pieces turned into times under the rules of a room, on arrays: for searching and for replaying by the thousand.

`tables` names the columns, `engine.times` is the door; `room`, `box`, `fit`, `moves` and `run` are the parts.
"""

from bonebench.science.scheduling.engine import Times, is_at_hand, times
from bonebench.science.scheduling.tables import Tables

__all__ = ["Tables", "Times", "is_at_hand", "times"]
