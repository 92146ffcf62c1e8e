"""A colony driven by a log of its box: what the log covers, what stands in after it, and cold that a log shows."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from bonebench.door import NoBook
from bonebench.errors import Impossible
from bonebench.files.airlog import air_log_of
from bonebench.services.cards import as_json
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.harm import harm
from bonebench.services.colony.logged import air_of_log, first_day

NOBODY = NoBook(clock=lambda: datetime(2026, 1, 5, tzinfo=UTC))
CHICAGO = ZoneInfo("America/Chicago")
SOME = Asked(size="3000", floor="0.5 m2", sites="20 L")


def wall(*parts):
    """A time as a clock on the wall shows it, which has no zone."""
    return datetime(*parts)  # noqa: DTZ001  the zone is what the reader adds


def ask(act, asked=SOME, **more):
    return NOBODY.work(lambda known: act(known, asked, **more))


START = wall(2026, 1, 5)


def log(temperatures, begin=START, rh="55"):
    rows = [f"{begin + timedelta(hours=n):%Y-%m-%d %H:%M},{t},{rh}" for n, t in enumerate(temperatures)]
    return air_log_of("\n".join(["time,temperature_c,humidity_percent", *rows]), CHICAGO)


def keys(card):
    return {flag.what.key for flag in card.flags}


def test_a_log_that_stands_at_one_warmth_gives_what_that_warmth_typed_gives():
    logged = ask(ahead, days="10d", log=log([27.0] * 240))
    typed = ask(ahead, Asked(size="3000", floor="0.5 m2", sites="20 L", temperature="27 C", humidity="55 %"), days="10d")
    assert [as_json(day)["appetite_g"] for day in logged.days] == [as_json(day)["appetite_g"] for day in typed.days]
    assert logged.read_hours == 240
    assert typed.read_hours is None


def test_the_forecast_begins_on_the_first_whole_day_of_the_log_unless_another_is_said():
    noon = log([27.0] * 240, begin=wall(2026, 1, 5, 12))
    assert first_day(noon) == date(2026, 1, 6)
    assert ask(ahead, days="3d", log=noon, today="2026-01-30").days[0].date == date(2026, 1, 6)
    assert ask(ahead, days="3d", log=noon, first_day="2026-01-08").days[0].date == date(2026, 1, 8)


def test_a_day_before_the_log_is_refused_with_the_day_to_begin_on():
    with pytest.raises(Impossible, match="begins on 2026-01-05 12:00 and has no air for 5 Jan 2026; begin on 6 Jan 2026"):
        ask(ahead, log=log([27.0] * 240, begin=wall(2026, 1, 5, 12)), first_day="2026-01-05")


def test_after_the_log_the_mean_day_of_its_last_days_comes_again_hour_for_hour():
    # Ten days of 20 degC and then a week in which hour h of each day has 24 + h/10 degC; broken off after 5 more hours of it.
    week = [24 + hour / 10 for hour in range(24)] * 7
    given = air_of_log(SOME, log([20.0] * 240 + week), 30)
    beyond = np.asarray(given.air.temperature_c)[17 * 24 :].reshape(-1, 24)
    assert beyond == pytest.approx(np.tile(24 + np.arange(24) / 10, (13, 1)))
    broken = air_of_log(SOME, log([20.0] * 240 + week + week[:5]), 30)
    assert np.asarray(broken.air.temperature_c)[17 * 24 + 5 : 18 * 24 + 5] == pytest.approx(24 + (np.arange(24) + 5) % 24 / 10)


def test_it_is_said_how_far_the_log_goes_and_what_comes_after():
    card = ask(ahead, days="30d", log=log([27.0] * 240))
    assert card.read_hours == 240
    ends = next(flag.what.text for flag in card.flags if flag.what.key == "colony.log.ends")
    assert ends == "the log drives 10 days of 30 days; after it the mean day of its last 7 days comes again and again"
    assert "colony.log.ends" not in keys(ask(ahead, days="10d", log=log([27.0] * 240)))


def test_only_logged_hours_are_warned_of_and_those_by_their_count():
    card = ask(ahead, days="30d", log=log([24.0] * 100 + [33.0] * 5 + [24.0] * 135))
    hot = next(flag.what.text for flag in card.flags if flag.what.key == "colony.warn.watch_the_heat")
    assert "5 h" in hot


def test_a_cold_snap_in_the_log_leaves_them_less_than_the_same_log_without_it():
    warm, cold = [27.0] * 240, [27.0] * 100 + [4.0] * 40 + [27.0] * 100
    with_it, without = (ask(ahead, days="20d", log=log(hours)).days[-1].appetite_g.value for hours in (cold, warm))
    assert with_it < without


def test_harm_by_a_log_is_harm_by_the_hours_that_were_told():
    # The same event twice: 30 h at 4 degC from the first hour on, then 27 degC.
    hours = [4.0] * 30 + [27.0] * 18
    at_27 = Asked(size="3000", floor="0.5 m2", sites="20 L", temperature="27 C")
    by_log = ask(harm, at_27, log=log(hours), days="14d")
    told = ask(harm, at_27, fell_to="4 C", lasted="30h", days="14d")
    assert by_log.larvae == pytest.approx(told.larvae, abs=1e-9)
    assert by_log.appetite == pytest.approx(told.appetite, abs=1e-9)


def test_a_log_that_is_cold_for_most_of_it_is_held_against_a_warmth_they_live_in():
    mostly, usual = [4.0] * 30 + [27.0] * 18, [4.0] * 18 + [26.0] * 30
    assert held_against(ask(harm, log=log(mostly))) == pytest.approx(27.0)
    assert held_against(ask(harm, log=log(usual))) == pytest.approx(26.0)


def held_against(card):
    return next(fact.value.values["usual"] for fact in card.facts if fact.value.key == "colony.harm.usual")


def test_a_log_that_stands_still_did_no_harm():
    card = ask(harm, log=log([26.0] * 72))
    assert card.larvae == pytest.approx(0.0, abs=1e-12)
    assert card.title.key == "colony.harm.none"


def test_harm_is_told_once_and_told_at_all():
    with pytest.raises(Impossible, match="tell it by the log or by how cold and how long; not both"):
        ask(harm, log=log([26.0] * 72), fell_to="4 C", lasted="5h")
    with pytest.raises(Impossible, match="say how cold or hot it was and how long it lasted, or bring a log that shows it"):
        ask(harm, fell_to="4 C")


def test_a_log_without_humidity_is_taken_with_the_typed_one_and_said():
    rows = "\n".join(f"{wall(2026, 1, 5) + timedelta(hours=n):%Y-%m-%d %H:%M},27" for n in range(72))
    given = air_of_log(Asked(size="3000", humidity="40 %"), air_log_of("time,temperature_c\n" + rows, CHICAGO), 5)
    assert np.asarray(given.air.humidity) == pytest.approx(0.40)
    assert "colony.log.no_damp" in {flag.what.key for flag in given.flags()}
