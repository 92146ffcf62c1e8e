"""The season ahead as drawings: tissue against appetite, places and hands asked for, the freezer week by week; hours in a table."""

from math import nan

from bonebench.said import number
from bonebench.services.year.cards import HandsCard, MonthCard, SeasonCard
from bonebench.services.year.do import CALLED, EMPTY
from bonebench.services.year.hands import work_called
from bonebench.units import GALLON_L, POUND_KG, Reader
from bonebench.web.charts import Chart, Series, chart

MARKS = ("warm", "plain", "faint")  # the tightest first
US = {"kg": ("lb", 1 / POUND_KG), "L": ("gal", 1 / GALLON_L)}
LEAST_SHARE = 0.05  # a place hardly asked for is not drawn


def month_rows(card: SeasonCard) -> list[tuple[str, MonthCard]]:
    """Return the months with their names; those in a row in which nobody is expected are one line."""
    found: list[tuple[str, MonthCard]] = []
    since: MonthCard | None = None
    for month in card.months:
        since = (since or month) if month.pieces < EMPTY else None
        if since is not None and since is not month:
            found[-1] = (f"{since.first:%B %Y} to {month.first:%B %Y}", month)
        else:
            found.append((f"{month.first:%B %Y}", month))
    return found


def season_charts(card: SeasonCard, reader: Reader) -> tuple[Chart, ...]:
    """Draw what there is to draw, in the reader's units; a season with nothing known has no drawing."""
    return (*_months(card, reader), *_hands(card), *_freezer(card, reader))


def _in_units(unit: str, reader: Reader) -> tuple[str, float]:
    """Return what the reader counts kilograms or litres in, and one kg or L in that; pieces stay pieces."""
    return US.get(unit, (unit, 1.0)) if reader.system == "us" else (unit, 1.0)


def _percent(hands: HandsCard | None) -> float:
    if hands is None:
        return 0.0
    return nan if hands.share is None else 100 * hands.share


def _hands(card: SeasonCard) -> tuple[Chart, ...]:
    if len(card.months) < 2 or all(month.tightest_hands is None for month in card.months):
        return ()
    tightest = [_percent(month.tightest_hands) for month in card.months]
    together = [_percent(month.hands[-1]) for month in card.months]
    return (
        chart(
            "Hands asked for, % of the hours there are",
            "The hours of work that come in each month against those of the people trained for it; the same in words below",
            [float(n) for n in range(len(card.months))],
            [*([Series("the tightest work", tightest, mark="warm")] if tightest != together else []), Series("all work", together)],
            x_label="month", y_label="%", x_names=[f"{month.first:%b}" for month in card.months], floor=0,
        ),
    )  # fmt: skip


def hand_rows(card: SeasonCard) -> tuple[tuple[str, ...], ...]:
    """Return a table of hours, wanted of those there are, by kind of work: its head, then a row for each month that wants any."""
    kinds = [one.work[0] for one in card.months[0].hands[:-1]]
    wanted = [n for n in range(len(kinds)) if any(month.hands[n].wanted_hours for month in card.months)]
    rows = tuple(
        (
            f"{month.first:%b %Y}",
            "" if month.tightest_hands is None else _tightest(month.tightest_hands, month.hands),
            *(_hours(month.hands[n]) for n in (-1, *wanted)),
        )
        for month in card.months
        if month.pieces >= EMPTY
    )
    return (("Month", "tightest", "all together", *(kinds[n] for n in wanted)), *rows) if wanted and rows else ()


def _hours(hands: HandsCard) -> str:
    return f"{number(hands.wanted_hours)} of {number(hands.there_hours)} h"


def _tightest(hands: HandsCard, month: tuple[HandsCard, ...]) -> str:
    share = "nobody" if hands.share is None else f"{number(100 * hands.share, 2)} %"
    return f"{work_called(hands, month)}: {share}"


def _months(card: SeasonCard, reader: Reader) -> tuple[Chart, ...]:
    if len(card.months) < 2 or all(month.pieces < EMPTY for month in card.months):
        return ()
    x, names = [float(n) for n in range(len(card.months))], [f"{month.first:%b}" for month in card.months]
    unit, each = _in_units("kg", reader)
    known = [month.appetite_kg * each for month in card.months if month.appetite_kg is not None]
    tissue = chart(
        f"Tissue that comes in, {unit} a month",
        "What comes in each month against what the beetles can eat; the same in words below",
        x,
        [
            Series("comes in", [month.tissue_kg * each for month in card.months], mark="warm"),
            *([Series("they can eat", known)] if len(known) == len(x) else []),
        ],
        x_label="month", y_label=unit, x_names=names, floor=0,
    )  # fmt: skip
    most: dict[str, float] = {}
    for month in card.months:
        for one in month.kinds:
            most[one.kind] = max(most.get(one.kind, 0.0), one.share or 0.0)
    kinds = sorted((kind for kind, share in most.items() if share > LEAST_SHARE), key=lambda kind: -most[kind])[: len(MARKS)]
    if not kinds:
        return (tissue,)
    shares = {kind: [100 * next((o.share or 0.0 for o in m.kinds if o.kind == kind), 0.0) for m in card.months] for kind in kinds}
    places = chart(
        "Places asked for, % of what there is",
        "The kinds of place that are asked for most, month by month; the same in words below",
        x,
        [Series(CALLED[kind], shares[kind], mark=mark) for kind, mark in zip(kinds, MARKS, strict=False)],
        x_label="month", y_label="%", x_names=names, floor=0,
    )  # fmt: skip
    return tissue, places


def _freezer(card: SeasonCard, reader: Reader) -> tuple[Chart, ...]:
    if card.freezer is None or card.freezer.most == 0:
        return ()
    weeks = card.freezer.weeks
    unit, each = _in_units(card.freezer.measure, reader)
    holds = card.freezer.holds
    return (
        chart(
            f"In the freezer, {unit}",
            "What is in the freezer week by week; the same in words above",
            [float(n) for n in range(len(weeks))],
            [
                Series("in it", [week.level * each for week in weeks], mark="warm"),
                *([Series("it takes", [holds * each] * len(weeks))] if holds is not None else []),
            ],
            x_label="weeks", y_label=unit, floor=0,
        ),
    )  # fmt: skip
