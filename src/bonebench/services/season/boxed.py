"""A colony in its box through days, months or a year: what the box gives them, what they do to it, and what they can eat."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from bonebench.figures import Basis, basis, weakest
from bonebench.said import Said, said
from bonebench.science.colony.advice import longest
from bonebench.science.colony.curve import development_rate
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.limits import FLIGHT_C
from bonebench.science.colony.model import HOURS_A_DAY
from bonebench.science.enclosure import Box, to_sharpen
from bonebench.science.enclosure.layout import CO2, CO2_MOLE
from bonebench.science.weather import MONTH_NAMES
from bonebench.services.cards import Fact, Flag
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.bands import band_fact, band_of, bands_by_day, count
from bonebench.services.colony.cards import Band
from bonebench.services.colony.typed import read_ration
from bonebench.services.colony.warned import beyond, flags_of, rests_on
from bonebench.services.enclosure import watch
from bonebench.services.enclosure.around import Surroundings, unvented
from bonebench.services.enclosure.ends import STATED
from bonebench.services.enclosure.year import CO2_LIMIT_PPM
from bonebench.services.facts import fact
from bonebench.services.known import Known
from bonebench.services.season.cards import BoxedCard, BoxedDay, BoxedMonth, Coupling
from bonebench.services.season.coupled import MOST_GAP
from bonebench.services.season.led import Boxed, in_box
from bonebench.shop.cautions import Caution, for_box, for_colony

DAMP_RH = 0.70
DWINDLE = 0.5
HARDLY_K = 0.05
DOES = "What the colony does to it"
# Said once, by the colony's own flags.
TOLD_BY_COLONY = frozenset({"enclosure.unchecked", "enclosure.hot"})


def with_box(known: Known, asked: Asked, *, box: Box, given: Surroundings, ration: str | None = None) -> BoxedCard:
    """Tell a colony in its box; no ration is all they can eat."""
    both = in_box(asked, box=box, given=given, ration_kg=read_ration(ration))
    months, coupling = tuple(_months(both)), _coupling(both)
    idle = longest(_idle_days(both))
    return BoxedCard(
        title=_title(both, months),
        facts=tuple(_facts(both, coupling)),
        flags=(
            *_flags(both, idle),
            *beyond(_kg(months[-1].appetite_g), both.colony.housing.floor_m2),
            *of_box(both),
            *flags_of(asked, both.pair.air, read=True),
        ),
        cautions=_both_cautions(known, box, given),
        basis=rests_on_both(both),
        months=months,
        days=tuple(_days(both)),
        coupling=coupling,
        longest_idle_days=idle,
        ration_kg_per_day=both.ration_kg,
        seed=asked.seed,
    )


def rests_on_both(both: Boxed) -> tuple[Basis, ...]:
    """Return the lines under a card: what was taken for granted of box, surroundings and colony."""
    box = (*(basis(key, figure) for key, figure in both.at.assumed), *to_sharpen(both.box), basis("as_stated", STATED))
    return (*rests_on(both.colony), *box)


def of_box(both: Boxed) -> Iterator[Flag]:
    """Yield what is odd about the run of the box itself."""
    standing = weakest([STATED.standing, *(line.standing for line in to_sharpen(both.box))])
    for flag in watch.flags_of(both.box, both.pair.run, None, both.at, standing):
        if flag.what.key not in TOLD_BY_COLONY:
            yield flag


def _both_cautions(known: Known, box: Box, given: Surroundings) -> tuple[Caution, ...]:
    """Return the cautions of both, each once; the one that defers to local codes comes last."""
    own = for_box(known.caution_rows, heated=box.heater is not None, unvented=unvented(given))
    colony = for_colony(known.caution_rows)
    seen = {one.key for one in colony}
    return (*(one for one in own if one.key not in seen), *colony)


def _coupling(both: Boxed) -> Coupling:
    pair = both.pair
    alone, run = pair.alone.year, pair.run.year
    return Coupling(
        passes=pair.passes,
        moved_k=pair.moved_k,
        changed_k=run.t_mean_c - alone.t_mean_c,
        changed_rh=run.rh_mean - alone.rh_mean,
        changed_heater_kwh=run.heater_kwh - alone.heater_kwh,
        heat_given_kwh=pair.given.kwh,
        heat_received_kwh=pair.received.kwh,
        water_given_kg=pair.given.water_kg,
        water_received_kg=pair.received.water_kg,
    )


def _cuts(both: Boxed) -> list[tuple[int, int, int]]:
    """Return each month that is touched, in order: its number, its first day and the day after its last."""
    which = both.month_of_day
    edges = [0, *(n for n in range(1, len(which)) if which[n] != which[n - 1]), len(which)]
    return [(which[begin], begin, end) for begin, end in pairwise(edges)]


def _months(both: Boxed) -> Iterator[BoxedMonth]:
    columns = both.pair.run.columns()
    power = both.box.heater.power_w if both.box.heater else 0.0

    def mean(name: str, begin: int, end: int, times: float) -> Band:
        return band_of(both.many.paths(name)[:, begin:end].mean(axis=1), times)

    for month, begin, end in _cuts(both):
        hours = slice(begin * HOURS_A_DAY, end * HOURS_A_DAY)
        t, rh = columns["t_mean_c"][hours], columns["rh_mean"][hours]
        yield BoxedMonth(
            month=month,
            days=end - begin,
            t_mean_c=float(t.mean()),
            t_min_c=float(columns["t_min_c"][hours].min()),
            t_max_c=float(columns["t_max_c"][hours].max()),
            rh_mean=float(rh.mean()),
            rh_p95=float(np.percentile(rh, 95)),
            hours_damp=int((rh > DAMP_RH).sum()),
            hours_idle=int(idle_hours(t).sum()),
            hours_flight=int((t >= FLIGHT_C).sum()),
            heater_kwh=power * float(columns["heater_share"][hours].sum()) / 1000,
            fan_hours=float(columns["fan_share"][hours].sum()),
            co2_max_ppm=float(both.pair.run.hours[hours, CO2].max()) / CO2_MOLE * 1e6,
            larvae=band_of(both.many.paths("larvae")[:, end - 1]),
            adults=band_of(both.many.paths("adults")[:, end - 1]),
            appetite_g=mean("appetite_kg", begin, end, 1000.0),
            eaten_g=mean("eaten_kg", begin, end, 1000.0),
            heat_w=mean("heat_w", begin, end, 1.0),
            water_g_h=mean("water_kg", begin, end, 1000.0 / HOURS_A_DAY),
        )


def _days(both: Boxed) -> Iterator[BoxedDay]:
    columns = both.pair.run.columns()
    t, rh, low, high = (columns[name].reshape(-1, HOURS_A_DAY) for name in ("t_mean_c", "rh_mean", "t_min_c", "t_max_c"))
    larvae, adults, heat = (bands_by_day(both.many, name) for name in ("larvae", "adults", "heat_w"))
    appetite = bands_by_day(both.many, "appetite_kg", 1000.0)
    for n, month in enumerate(both.month_of_day):
        mean, coldest, hottest = (round(float(value), 3) for value in (t[n].mean(), low[n].min(), high[n].max()))
        damp = round(float(rh[n].mean()), 4)
        yield BoxedDay(n + 1, month, mean, coldest, hottest, damp, larvae[n], adults[n], appetite[n], heat[n])


def idle_hours(t_c: FloatArray) -> npt.NDArray[np.bool_]:
    """Tell the hours that are too cold or too hot for any growth."""
    return np.array([development_rate(float(t)) <= 0.0 for t in t_c], dtype=np.bool_)


def _idle_days(both: Boxed) -> npt.NDArray[np.bool_]:
    """Tell the days in which no hour lets them grow."""
    return np.asarray(idle_hours(both.pair.run.columns()["t_mean_c"]).reshape(-1, HOURS_A_DAY).all(axis=1))


def changes(kelvin: float, rh: float, label: str, *, heater_kwh: float | None = None) -> Fact:
    """Return what a colony does to its box as one line; a warmth that hardly moves is said to stay."""
    warm = "as warm as without it" if abs(kelvin) < HARDLY_K else "{k:warming} " + ("warmer" if kelvin > 0 else "cooler")
    key = "stays" if abs(kelvin) < HARDLY_K else "warmer" if kelvin > 0 else "cooler"
    values: dict[str, float | str] = {
        "k": abs(kelvin),
        "points": f"{abs(100 * rh):.1f}",
        "damper": "damper" if rh >= 0 else "drier",
    }
    more = ""
    if heater_kwh is not None:
        more = "; the heater takes {kwh:energy} {more}"
        values |= {"kwh": round(abs(heater_kwh), 1), "more": "more" if heater_kwh > 0 else "less"}
    return fact(f"season.changed.{key}", label, f"on the mean {warm}, {{points}} points {{damper}}{more}", **values)


def _kg(band: Band) -> Band:
    return Band(*(value / 1000 for value in (band.low, band.plan, band.value, band.high)))


def _title(both: Boxed, months: tuple[BoxedMonth, ...]) -> Said:
    weakest_month = min(months, key=lambda each: each.appetite_g.plan)
    best = max(months, key=lambda each: each.appetite_g.plan)
    values = {"t": both.pair.run.year.t_mean_c, "low": weakest_month.appetite_g.plan / 1000, "high": best.appetite_g.plan / 1000}
    if weakest_month.month == best.month:
        return said("season.one", "the box stands at {t:temperature} on the mean; plan with {high:feeding}", **values)
    return said(
        "season.title", "the box stands at {t:temperature} on the mean; plan with {low:feeding} in {bad} and "
        "{high:feeding} in {good}",
        bad=MONTH_NAMES[weakest_month.month - 1], good=MONTH_NAMES[best.month - 1], **values,
    )  # fmt: skip


def _facts(both: Boxed, coupling: Coupling) -> Iterator[Fact]:
    year, last = both.pair.run.year, both.many
    yield fact(
        "season.air", "Air in the box", "{mean:temperature} on the mean, {low:temperature} to {high:temperature}; "
        "humidity {rh:percent} "
        "on the mean, one hour in twenty above {p95:percent}",
        mean=year.t_mean_c, low=year.t_min_c, high=year.t_max_c, rh=year.rh_mean, p95=year.rh_p95,
    )  # fmt: skip
    yield changes(coupling.changed_k, coupling.changed_rh, DOES, heater_kwh=coupling.changed_heater_kwh)
    yield band_fact("season.heat", "Heat they give off, mean of the run", band_of(last.paths("heat_w").mean(axis=1)), "power")
    water = band_of(last.paths("water_kg").mean(axis=1), 1 / HOURS_A_DAY)
    yield fact(
        "season.water", "Water they give off in an hour, mean of the run", "{low:mass} to {high:mass}, most likely {value:mass}",
        low=water.low, high=water.high, value=water.value,
    )  # fmt: skip
    for name, label in (("larvae", "Larvae"), ("adults", "Adults")):
        begin, end = (band_of(last.paths(name)[:, at]) for at in (0, -1))
        yield fact(
            f"season.{name}", label, "{was_low} to {was_high} on the first day, {low} to {high} on the last",
            was_low=count(begin.low), was_high=count(begin.high), low=count(end.low), high=count(end.high),
        )  # fmt: skip
    eaten = band_of(last.paths("eaten_kg").sum(axis=1))
    yield fact(
        "season.eaten", "They eat in all", "{low:mass} to {high:mass}, most likely {value:mass}",
        low=eaten.low, high=eaten.high, value=eaten.value,
    )  # fmt: skip
    yield fact(
        "season.coupling", "Led together", "the box ran {times} with the colony in it; the heat of the last run lies "
        "{gap} % off what the "
        "colony then gives",
        times="once" if coupling.passes == 1 else "twice", gap=f"{100 * abs(both.pair.gap):.2g}",
    )  # fmt: skip
    yield fact(
        "season.bands", "The ranges", "{count} colonies that may be yours, each in the air of the box with the middle one "
        "in it; the box "
        "was not run anew for each",
        count=len(last.rows),
    )  # fmt: skip


def _flags(both: Boxed, idle: int) -> Iterator[Flag]:
    if idle:
        t = both.pair.run.columns()["t_mean_c"]
        cold = float(np.median(t[idle_hours(t)])) < both.box.band.high_c
        yield Flag(
            said(
                "season.idle", "the box is too {how} for them to grow for {days} days on end, {low:temperature} at worst",
                how="cold" if cold else "hot", days=idle, low=float(t.min() if cold else t.max()),
            ),
            said(
                "season.idle.next", "a heater that holds the box through the coldest week, or bring them elsewhere: below "
                "5 °C the young "
                "die within weeks" if cold else "shade and air for the box: they die above 38 °C",
            ),
        )  # fmt: skip
    live = both.many.paths("live_kg")
    begin, end = (band_of(live[:, at]) for at in (0, -1))
    if end.value < DWINDLE * begin.value:
        yield Flag(
            said(
                "season.dwindles", "the colony runs down: of {was:mass} of beetles {now:mass} are left at the end, most likely",
                was=begin.value, now=end.value,
            ),
            said("season.dwindles.next", "look at warmth, water and food in that order; keep a spare colony in another place"),
        )  # fmt: skip
    if both.pair.run.year.co2_max_ppm > CO2_LIMIT_PPM:
        yield Flag(
            said(
                "season.stale", "too little air passes this box: what they breathe out reaches {ppm} ppm, and their water "
                "stays in it",
                ppm=round(both.pair.run.year.co2_max_ppm, -2),
            ),
            said("season.stale.next", "open one hole low and one high, each with a screen; a box shut tight runs down"),
        )  # fmt: skip
    if abs(both.pair.gap) > MOST_GAP:
        yield Flag(
            said(
                "season.open", "box and colony do not quite agree: {share:percent} of the colony's heat is left open "
                "after two runs",
                share=abs(both.pair.gap),
            ),
            said("season.open.next", "take warmth and appetite as rough; a thermostat with power to spare makes it definite"),
        )  # fmt: skip
