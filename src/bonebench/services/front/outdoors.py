"""Is outdoors a freezer? By the forecast somebody types in."""

import re
from collections.abc import Iterable
from datetime import date, timedelta

from bonebench.errors import NotAQuantity, OutsideRange
from bonebench.figures import Standing
from bonebench.planning import front
from bonebench.said import said
from bonebench.services.cards import Basis, Fact, Flag
from bonebench.services.facts import fact
from bonebench.services.front.cards import OutdoorsCard
from bonebench.services.known import Known
from bonebench.shop.cautions import for_step
from bonebench.shop.steps import Step
from bonebench.units import read_temperature

MOST_DAYS = 16  # forecasts say little beyond
COLDEST_C, WARMEST_C = -60.0, 60.0
_ONE = re.compile(r"\s*([-+]?\d+(?:\.\d+)?)\s*°?\s*([CF]?)\s*(?:[,;/]|(?=[-+\s\d])|$)", re.IGNORECASE)


def outdoors(known: Known, *, today: date, warmest: str) -> OutdoorsCard:
    """Say until when outdoors is a freezer, from the warmest of each day, today first: -7, -9, -4 C."""
    forecast = read_forecast(warmest)
    found = front.outdoors(today, forecast)
    return OutdoorsCard(
        title=found.words,
        facts=tuple(_facts(today, forecast)),
        steps=(
            (
                said("outdoors.box", "Stand them in something no animal opens: a lidded drum with a clamp, a steel chest"),
                said("outdoors.shade", "In the shade, off the ground: sun warms a dark bag above the air round it"),
                said("outdoors.thermometer", "Lay a thermometer among them and read it daily; a forecast is for somewhere else"),
                said("outdoors.again", "Look at the forecast again every morning, and type it in anew"),
            )
            if found.last_day is not None
            else (said("outdoors.freezer", "Into the freezer with them today; what has no room there, on ice until it has"),)
        ),
        flags=(
            Flag(
                said("outdoors.insects", "a few degrees of frost keep a head; they do not kill the insects in it"),
                said("outdoors.insects.next", "days outdoors do not count as its frozen hold: give it that in the freezer"),
            ),
        ),
        cautions=for_step(known.caution_rows, step=Step.FROZEN_HOLD),
        basis=(Basis("outdoors.below", front.OUTDOORS_BELOW_C, front.OUTDOORS_BELOW_C, "degC", Standing.PRACTICE,
                     "cold all through the day below this"),),
        last_day=found.last_day,
        bring_in=found.bring_in,
        warmest_c=forecast,
        below_c=front.OUTDOORS_BELOW_C,
    )  # fmt: skip


def _facts(today: date, forecast: tuple[float, ...]) -> Iterable[Fact]:
    for n, warmest in enumerate(forecast):
        day = today + timedelta(days=n)
        cold = "cold enough" if warmest < front.OUTDOORS_BELOW_C else "too warm"
        yield fact("outdoors.day", f"{day:%A} {day.day} {day:%b}", "{warmest:temperature}, {cold}", warmest=warmest, cold=cold)


def read_forecast(text: str) -> tuple[float, ...]:
    """Read the warmest of each day; a unit behind the last holds for those before it."""
    plain = text.replace("\u2212", "-").strip()
    if re.search(r"\d,\d", plain):
        raise NotAQuantity(
            "outdoors.comma",
            "'{text}' can be read two ways; write a point in decimals, a space behind each comma",
            text=text,
        )
    found, at = [], 0
    while at < len(plain):
        one = _ONE.match(plain, at)
        if one is None:
            raise NotAQuantity("outdoors.shape", "'{text}' is no forecast; write each day's warmest like -7, -9, -4 C", text=text)
        found.append((one[1], one[2].upper()))
        at = one.end()
    if len(found) > MOST_DAYS:
        raise OutsideRange(
            "outdoors.days", "{count} days are typed; a forecast is for {most} at most", count=len(found), most=MOST_DAYS
        )
    return tuple(_temperatures(found, text))


def _temperatures(found: list[tuple[str, str]], text: str) -> Iterable[float]:
    for n, (amount, own) in enumerate(found):
        unit = own or next((later for _, later in found[n:] if later), "")
        if not unit:
            raise NotAQuantity("outdoors.unit", "'{text}' has no unit; write C or F behind the last: -7, -9, -4 C", text=text)
        value = read_temperature(f"{amount} {unit}")
        if not COLDEST_C <= value <= WARMEST_C:
            raise OutsideRange(
                "outdoors.range", "{value:temperature} is no weather; a forecast lies from {low:temperature} to {high:temperature}",
                value=value, low=COLDEST_C, high=WARMEST_C,
            )  # fmt: skip
        yield value
