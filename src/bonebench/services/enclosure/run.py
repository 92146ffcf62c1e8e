"""A box run through hours: warmth, damp, power, money, and whether heater and fan fight."""

import numpy as np

from bonebench.figures import Figure, Standing, basis, weakest
from bonebench.files.quantities import seconds, value_of
from bonebench.said import said
from bonebench.science.air.moist import FloatArray, pressure_at
from bonebench.science.air.network import flows
from bonebench.science.air.paths import path_numbers
from bonebench.science.enclosure import Box, Latch, Run, closed_test, conductance_w_k, simulate, to_sharpen
from bonebench.services.cards import Fact
from bonebench.services.enclosure.around import Surroundings, Told, told
from bonebench.services.enclosure.cards import Balance, Curve, Opening, Seen, SimulateCard
from bonebench.services.enclosure.ends import STATED, at_end
from bonebench.services.enclosure.watch import flags_of
from bonebench.services.facts import fact, reach
from bonebench.services.known import Known
from bonebench.shop.cautions import for_box
from bonebench.units import read_number

STEP = seconds(0.01, 60.0, "10 s")
MOST_POINTS = 240


def simulate_box(known: Known, *, box: Box, given: Surroundings, step: str | None = None, price: str | None = None) -> SimulateCard:
    """Run a box through the hours that were told, and its thrifty and thirsty ends beside it."""
    at = told(given, float(pressure_at(box.elevation_m)))
    step_s = value_of(step, STEP, "step", "enclosure") if step else 10.0
    run = simulate(box, at.around, step_s=step_s, heads=at.heads, first_hour=at.first_hour)
    low, high = sorted(
        simulate(at_end(box, thirsty=thirsty), at.around, step_s=step_s, heads=at.heads).year.heater_kwh
        for thirsty in (False, True)
    )
    kwh = Figure(run.year.heater_kwh, min(low, run.year.heater_kwh), max(high, run.year.heater_kwh), "kWh", Standing.DERIVED, "")
    latch = _latch(box, at)
    sharpen = to_sharpen(box)
    return SimulateCard(
        title=said(
            "enclosure.run",
            "{t:temperature} in the box, {low:temperature} to {high:temperature}; the heater takes {kwh:energy} in {days:days}",
            t=run.year.t_mean_c,
            low=run.year.t_min_c,
            high=run.year.t_max_c,
            kwh=kwh.value,
            days=at.hours / 24,
        ),
        facts=tuple(_facts(box, run, kwh, price, at.hours)),
        cautions=for_box(known.caution_rows, heated=box.heater is not None),
        basis=(*(basis(key, figure) for key, figure in at.assumed), *sharpen, basis("as_stated", STATED)),
        flags=flags_of(box, run, latch, at, weakest([STATED.standing, *(line.standing for line in sharpen)])),
        months=tuple(run.months),
        year=run.year,
        heater_kwh_low=kwh.low,
        heater_kwh_high=kwh.high,
        conductance_w_k=conductance_w_k(box),
        latched=latch is not None and latch.latched,
        balance_error=Balance(run.heat_error, run.water_error),
        curve=_curve(run, at),
        seen=seen(box, inside_c=run.year.t_mean_c, outside_c=float(at.around.t_c.mean())),
    )


def _latch(box: Box, at: Told) -> Latch | None:
    """Ask the closed test at the coldest hour, when the heater has least to spare."""
    if box.heater is None or box.humidistat is None:
        return None
    k = int(np.argmin(at.around.t_c))
    ratio = float(at.around.ratio[k])
    return closed_test(
        box,
        building_c=float(at.around.t_c[k]),
        building_ratio=ratio,
        water_kg_s=float(at.around.water_kg_s.mean()),
        heat_w=float(at.around.heat_w.mean()),
    )


def _facts(box: Box, run: Run, kwh: Figure, price: str | None, hours: int) -> list[Fact]:
    year, days = run.year, hours / 24
    facts = [
        fact(
            "enclosure.warmth", "Air in the box", "{mean:temperature} on the mean, {low:temperature} to {high:temperature}",
            mean=year.t_mean_c, low=year.t_min_c, high=year.t_max_c,
        ),
        fact(
            "enclosure.damp", "Relative humidity", "{mean:percent} on the mean, {low:percent} to {high:percent}",
            mean=year.rh_mean, low=year.rh_min, high=year.rh_max,
        ),
        fact(
            "enclosure.outside", "Hours outside the band you want", "{hours} of {all}",
            hours=f"{year.hours_outside_band:.0f}", all=f"{hours}",
        ),
    ]  # fmt: skip
    if box.heater:
        facts += [
            fact(
                "enclosure.heater", "The heater runs", "{share:percent} of the time, turning on {starts} times a day",
                share=year.heater_share, starts=f"{year.heater_starts / days:.0f}",
            ),
            reach("enclosure.kwh", "Power it takes", kwh, "energy"),
        ]  # fmt: skip
    if box.humidistat:
        facts.append(
            fact(
                "enclosure.fan", "The fan runs", "{hours} h in all, turning on {starts} times a day; {kwh:energy}",
                hours=f"{year.fan_hours:.1f}", starts=f"{year.fan_starts / days:.1f}", kwh=year.fan_kwh,
            )
        )  # fmt: skip
    if price:
        each = read_number(price, "price")
        facts.append(
            fact(
                "enclosure.money", "Money", "{low} to {high}, most likely {value}",
                low=f"{each * (kwh.low + year.fan_kwh):.2f}", high=f"{each * (kwh.high + year.fan_kwh):.2f}",
                value=f"{each * (kwh.value + year.fan_kwh):.2f}",
            )
        )  # fmt: skip
    facts.append(fact("enclosure.air", "The air is new", "{times} times an hour", times=f"{year.air_changes_h:.2g}"))
    facts.append(fact("enclosure.walls", "Walls, lid and window let through", "{w} W for each K", w=f"{conductance_w_k(box):.3g}"))
    if year.condensed_kg > 0.001 or year.duct_kg > 0.001:
        facts.append(
            fact(
                "enclosure.sweat", "Water that settled", "{glass:mass} on the coldest wall or window, {duct:mass} in the duct",
                glass=year.condensed_kg, duct=year.duct_kg,
            )
        )  # fmt: skip
    return facts


def _curve(run: Run, at: Told) -> Curve:
    """Thin the hours to so many that a chart can be read; a stretch keeps its lowest and its highest."""
    columns = run.columns()
    hours = at.hours
    wide = max(1, -(-hours // MOST_POINTS))
    cuts = np.arange(0, hours, wide)

    def each(name: str, take: np.ufunc) -> tuple[float, ...]:
        return tuple(round(float(v), 4) for v in take.reduceat(columns[name], cuts))

    def mean(values: FloatArray) -> tuple[float, ...]:
        counts = np.diff(np.append(cuts, hours))
        return tuple(round(float(v), 4) for v in np.add.reduceat(values, cuts) / counts)

    return Curve(
        hours=tuple(float(v) for v in cuts + np.diff(np.append(cuts, hours)) / 2),
        t_min_c=each("t_min_c", np.minimum),
        t_max_c=each("t_max_c", np.maximum),
        rh_min=each("rh_min", np.minimum),
        rh_max=each("rh_max", np.maximum),
        heater_share=mean(columns["heater_share"]),
        fan_share=mean(columns["fan_share"]),
        building_c=mean((at.around.t_c[:-1] + at.around.t_c[1:]) / 2),
    )


def seen(box: Box, *, inside_c: float, outside_c: float) -> Seen:
    """What a drawing of the box shows: its openings with the air through each while the fan rests."""
    length, _, height = box.inside_m
    paths = path_numbers(box.holes, box.duct)
    through = flows(paths, inside_c=inside_c, outside_c=outside_c, pressure_pa=float(pressure_at(box.elevation_m)))
    openings = [
        Opening("holes", group.count, group.diameter_m, group.height_m, float(flow))
        for group, flow in zip([g for g in box.holes if g.count], through, strict=False)
    ]
    if box.duct:
        openings.append(Opening("duct", 1, box.duct.diameter_m, box.duct.height_m, float(through[-1])))
    return Seen(
        length_m=length,
        height_m=height,
        wall_m=sum(layer.thickness_m for layer in box.walls),
        window=box.window is not None,
        heater_w=box.heater.power_w if box.heater else 0.0,
        pavers_kg=sum(store.mass_kg for store in box.stores if store.kind == "pavers"),
        water_l=sum(store.mass_kg for store in box.stores if store.kind == "water"),
        fan=box.humidistat is not None,
        openings=tuple(openings),
        breathes_kg_s=float(np.maximum(through, 0).sum()),
    )
