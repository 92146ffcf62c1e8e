"""What can hurt at the heated box: fire, mains in the damp, dust, a flame in the building, hot bottles."""

from bonebench.shop.cautions.rows import Caution, Picked, Rows, ordered


def box(*, heated: bool, bottles: bool, cut: bool, unvented: bool) -> Picked:
    """What the box brings, and what a power cut adds."""
    yield "box.power", {}
    if heated:
        for key in ("box.fire", "box.emitter", "box.lamp"):
            yield key, {}
    if heated or cut:
        yield "box.flame", {}
    if unvented:
        yield "box.unvented", {}
    if bottles:
        yield "box.bottles", {}
    yield "box.dust", {}


def for_box(rows: Rows, *, heated: bool, bottles: bool = False, cut: bool = False, unvented: bool = False) -> tuple[Caution, ...]:
    """Return the cautions of a heated box, of the hours without power, and of a flame without a flue in its building."""
    return ordered(rows, box(heated=heated, bottles=bottles, cut=cut, unvented=unvented))
