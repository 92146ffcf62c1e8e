"""A flag: something in the record to look at, and what to do about it. Flags never refuse anything."""

from dataclasses import dataclass

from bonebench.said import Said


@dataclass(frozen=True, slots=True)
class Flag:
    """What is odd, and the next step."""

    what: Said
    next: Said
