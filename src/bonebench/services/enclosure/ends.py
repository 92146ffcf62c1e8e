"""The thriftiest and the thirstiest box that the figures nobody has stated allow: an honest range for a bill."""

from dataclasses import replace

from bonebench.figures import Figure, Standing
from bonebench.science.enclosure import Box
from bonebench.science.enclosure.defaults import DEFAULTS

# Nobody knows a wall or a screen of a home-made box closer than this, however it was stated; edges and seams are in it.
STATED = Figure(
    1.0, 0.85, 1.15, "times", Standing.ESTIMATE, "a stated figure of a home-made box, and what one air for all leaves out"
)


def _end(box: Box, place: str, value: float, *, thirsty: bool, more_is_thirsty: bool) -> float:
    """Return a figure at its thrifty or its thirsty end: that of its own range if it was taken for granted."""
    up = thirsty == more_is_thirsty
    if place in box.given:
        return value * (STATED.high if up else STATED.low)
    figure = DEFAULTS[place]
    return figure.high if up else figure.low


def at_end(box: Box, *, thirsty: bool) -> Box:
    """Return a box with everything that loses heat at one end of its range: layers, window, screens, what dust leaves open."""

    def end(place: str, value: float, *, more: bool) -> float:
        return _end(box, place, value, thirsty=thirsty, more_is_thirsty=more)

    walls, lid = (
        tuple(replace(layer, conductivity_w_mk=end("box.walls.conductivity", layer.conductivity_w_mk, more=True)) for layer in part)
        for part in (box.walls, box.lid or ())
    )
    holes = tuple(
        replace(
            group,
            discharge=min(1.0, end("holes.discharge", group.discharge, more=True)),
            screen_loss=end("holes.screen_loss", group.screen_loss, more=False),
            open_share=min(1.0, end("holes.open_share", group.open_share, more=True)),
        )
        for group in box.holes
    )
    window = box.window and replace(box.window, u_w_m2k=end("window.u", box.window.u_w_m2k, more=True))
    times = STATED.high if thirsty else STATED.low
    return replace(
        box,
        walls=walls,
        lid=lid if box.lid is not None else None,
        holes=holes,
        window=window,
        measured_w_k=box.measured_w_k and box.measured_w_k * times,
        measured_air_kg_s=box.measured_air_kg_s and (box.measured_air_kg_s[0] * times, box.measured_air_kg_s[1] * times),
    )
