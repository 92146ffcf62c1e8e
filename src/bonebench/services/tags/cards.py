"""The cards of tags."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.services.cards import Basis, Caution, Flag, Said


@dataclass(frozen=True)
class RollCard:
    """One block of tags: how many are on it, how many are used, which are free."""

    roll: str
    issued: datetime
    count: int
    used: int
    free: tuple[str, ...]


@dataclass(frozen=True)
class TagsCard:
    """The blocks that were handed out, the newest first."""

    rolls: tuple[RollCard, ...]
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "tag.list/1"


@dataclass(frozen=True)
class IssuedCard:
    """A block of tags that was handed out just now, in the order they are printed."""

    roll: str
    tags: tuple[str, ...]
    entry_id: str
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "tag.issue/1"
