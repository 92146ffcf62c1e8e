"""What can hurt at a colony, and what a colony can do to the place round it."""

from bonebench.shop.cautions.rows import Caution, Picked, Rows, ordered


def colony(*, raw: bool, out: bool, given: bool, killed: bool) -> Picked:
    """What every look into the box brings; raw food that goes in; beetles or pieces that go out, or change hands, or die."""
    yield "box.dust", {}
    yield "box.power", {}
    if raw:
        yield "raw.hygiene", {}
        yield "box.untreated_only", {}
    if out:
        yield "box.escape", {}
    yield "colony.release", {}
    if killed:
        yield "colony.surplus", {}
    if given:
        yield "colony.quarantine", {}
    yield "colony.wild", {}
    yield "box.lamp", {}


def for_colony(
    rows: Rows, *, raw: bool = True, out: bool = False, given: bool = False, killed: bool = False
) -> tuple[Caution, ...]:  # fmt: skip
    """Return the cautions of work with a colony."""
    return ordered(rows, colony(raw=raw, out=out, given=given, killed=killed))
