"""The two switches of the box and their hysteresis, compiled."""

from bonebench.science.air.moist import FloatArray
from bonebench.science.enclosure import layout as at
from bonebench.science.kernel import compiled


@compiled
def switch_heater(c: FloatArray, state: FloatArray) -> bool:
    """Turn the heater over if its sensor says so and it has run long enough; whether it turned."""
    if c[at.HEATER_W] <= 0.0:
        return False
    if state[at.HEATER_ON] > 0.0:
        turn = state[at.SENSED_T] >= c[at.HEATER_OFF_C] and state[at.HEATER_SINCE] >= c[at.HEATER_RUN_S]
    else:
        turn = state[at.SENSED_T] <= c[at.HEATER_ON_C]
    if turn:
        state[at.HEATER_ON] = 1.0 - state[at.HEATER_ON]
        state[at.HEATER_SINCE] = 0.0
    return bool(turn)


@compiled
def switch_fan(c: FloatArray, state: FloatArray) -> bool:
    """Turn the fan over if its sensor says so and it has run long enough; whether it turned."""
    if c[at.FAN_FITTED] <= 0.0:
        return False
    if state[at.FAN_ON] > 0.0:
        turn = state[at.SENSED_RH] <= c[at.FAN_OFF_RH] and state[at.FAN_SINCE] >= c[at.FAN_RUN_S]
    else:
        turn = state[at.SENSED_RH] >= c[at.FAN_ON_RH]
    if turn:
        state[at.FAN_ON] = 1.0 - state[at.FAN_ON]
        state[at.FAN_SINCE] = 0.0
    return bool(turn)


@compiled
def sense(per: FloatArray, state: FloatArray, rh: float, dt: float) -> None:
    """Let the two sensors follow, and the clocks of the switches run."""
    state[at.SENSED_T] += per[at.HEATER_FOLLOWS] * (state[at.T] - state[at.SENSED_T])
    state[at.SENSED_RH] += per[at.FAN_FOLLOWS] * (rh - state[at.SENSED_RH])
    state[at.HEATER_SINCE] += dt
    state[at.FAN_SINCE] += dt
