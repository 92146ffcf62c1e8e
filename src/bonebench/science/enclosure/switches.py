"""A switch with hysteresis, compiled: the thermostat, and upside down the humidistat."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from bonebench.science.kernel import compiled


@compiled
def turns_over(on: float, sensed: float, low: float, high: float, since_s: float, least_s: float) -> bool:
    """Whether a switch turns: on at ``low`` and below, off at ``high`` and above once it has run long enough."""
    if on > 0.0:
        return sensed >= high and since_s >= least_s
    return sensed <= low
