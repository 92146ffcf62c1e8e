"""Whether a heater and its pavers are enough in the coldest weather, and the smallest that are."""

from collections.abc import Callable

from bonebench.errors import OutsideRange
from bonebench.figures import basis
from bonebench.said import said
from bonebench.science.air.moist import pressure_at
from bonebench.science.enclosure import Box, to_sharpen
from bonebench.science.enclosure.advice import HOLD_TO_C, MOST_SHARE, Sized, coldest, size_grid, smallest
from bonebench.services.cards import Fact, Flag
from bonebench.services.enclosure.around import Surroundings, told, unvented
from bonebench.services.enclosure.cards import SizeCard
from bonebench.services.enclosure.ends import STATED, at_end
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.shop.cautions import for_box
from bonebench.units import read_number

WATTS = (25.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0, 250.0, 300.0, 400.0)
PAVERS_KG = (0.0, 20.0, 40.0, 80.0, 160.0)
USUAL_HOLD_H, MOST_HOLD_H = 4.0, 48.0


def size(
    known: Known, *, box: Box, given: Surroundings, hold: str | None = None,
    progress: Callable[[int, int], bool] = lambda _done, _all: True,
) -> SizeCard:  # fmt: skip
    """Try heaters and pavers on the box that loses most of what nobody has ruled out."""
    at = told(given, float(pressure_at(box.elevation_m)))
    hold_h = read_number(hold.removesuffix("h"), "number of hours") if hold else USUAL_HOLD_H
    if not 0 <= hold_h <= MOST_HOLD_H:
        raise OutsideRange(
            "size.hold", "{h} hours without power cannot be asked for; 0 to {most}", h=f"{hold_h:g}", most=f"{MOST_HOLD_H:g}"
        )
    grid = size_grid(at_end(box, thirsty=True), at.around, watts=WATTS, pavers_kg=PAVERS_KG, hold_h=hold_h, told=progress)
    best = smallest(grid)
    stopped = len(grid) < len(WATTS) * len(PAVERS_KG)
    return SizeCard(
        title=said(
            "size.title", "{watts:power} and {kg:mass} of pavers are the smallest that hold", watts=best.watts, kg=best.pavers_kg
        )
        if best
        else said("size.none", "nothing that was tried holds the band and {h} h without power", h=f"{hold_h:g}"),
        facts=tuple(_facts(grid, best, hold_h, float(coldest(at.around).t_c.min()))),
        cautions=for_box(known.caution_rows, heated=True, unvented=unvented(given)),
        basis=(*(basis(key, figure) for key, figure in at.assumed), *to_sharpen(box), basis("as_stated", STATED)),
        flags=tuple(_flags(box, grid, best, stopped=stopped)),
        grid=tuple(grid),
        smallest=best,
        hold_h=hold_h,
        coldest_c=float(coldest(at.around).t_c.min()),
        stopped=stopped,
    )


def _hours(hold_h: float | None) -> str:
    return "48 or more" if hold_h is None else f"{hold_h:.1f}"


def _facts(grid: list[Sized], best: Sized | None, hold_h: float, cold: float) -> list[Fact]:
    facts = [
        fact("size.cold", "Coldest hour of the building", "{t:temperature}", t=cold),
        fact(
            "size.asks", "Enough is", "in band, {spare:percent} of the power to spare, {h} h above {t:temperature} without it",
            spare=1 - MOST_SHARE, h=f"{hold_h:g}", t=HOLD_TO_C,
        ),
    ]  # fmt: skip
    if best:
        facts.append(
            fact(
                "size.best", "There", "it runs {share:percent} of the time, turns on {n} times a day, holds {h} h without power",
                share=best.heater_share, n=f"{best.starts_per_day:.0f}", h=_hours(best.hold_h),
            )
        )  # fmt: skip
    weakest_that_warms = next((each for each in grid if each.heater_share <= MOST_SHARE), None)
    if weakest_that_warms:
        facts.append(fact("size.warms", "The weakest that only keeps it warm", "{watts:power}", watts=weakest_that_warms.watts))
    return facts


def _flags(box: Box, grid: list[Sized], best: Sized | None, *, stopped: bool) -> list[Flag]:
    flags = []
    if stopped:
        flags.append(
            Flag(
                said("size.stopped", "stopped after {n} of the grid", n=str(len(grid))),
                said("size.stopped.next", "run it again for the rest"),
            )
        )
    if box.heater and best and box.heater.power_w < best.watts:
        flags.append(
            Flag(
                said("size.yours", "yours of {watts:power} is below that", watts=box.heater.power_w),
                said(
                    "size.yours.next",
                    "fewer open holes and thicker walls first; a stronger emitter needs its clearance and a second cut-out",
                ),
            )
        )
    if best is None:
        flags.append(
            Flag(
                said("size.nothing", "fan, holes and walls let out more than a heater of this kind gives"),
                said("size.nothing.next", "fewer open holes, a slower fan, thicker walls; or ask for fewer hours without power"),
            )
        )
    flags.append(
        Flag(
            said("size.unchecked", "worked out on the box that loses most of what nobody has ruled out; not checked in your room"),
            said("size.unchecked.next", "state what you can measure, and ask again"),
        )
    )
    return flags
