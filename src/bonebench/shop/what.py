"""What every kind of entry is."""

from typing import ClassVar


class What:
    """What happened. ``KIND`` names it in the book; ``FORM`` rises when fields change, and old forms are lifted on reading."""

    KIND: ClassVar[str]
    FORM: ClassVar[int] = 1
