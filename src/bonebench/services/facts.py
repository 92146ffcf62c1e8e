"""One line of a result, for every card that has lines."""

from bonebench.figures import Figure
from bonebench.said import Plain, said
from bonebench.services.cards import Fact


def fact(key: str, label: str, template: str, **values: Plain) -> Fact:
    """Return one line of a result."""
    return Fact(said(f"{key}.label", label), said(key, template, **values))


def reach(key: str, label: str, figure: Figure, kind: str) -> Fact:
    """A figure as a range, or as one value where it has none."""
    if figure.low == figure.high:
        return fact(key, label, f"{{value:{kind}}}", value=figure.value)
    return fact(
        key,
        label,
        f"{{low:{kind}}} to {{high:{kind}}}, most likely {{value:{kind}}}",
        low=figure.low,
        high=figure.high,
        value=figure.value,
    )
