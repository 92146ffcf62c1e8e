"""The questions about the colony with their forms, and the chart beside the season ahead."""

from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from typing import Any
from urllib.parse import urlencode

from fastapi import Request

from bonebench.files.airlog import AirLog, air_log_of
from bonebench.files.logtimes import zone_named
from bonebench.services.cards import Worked
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.cards import AwayCard, ForecastCard
from bonebench.services.colony.food import away, least, ramp_up
from bonebench.services.colony.harm import harm
from bonebench.services.colony.numbers import numbers
from bonebench.services.colony.own import ask
from bonebench.services.colony.pieces import clean_by, rot, tonight
from bonebench.services.colony.sparing import second, thin
from bonebench.services.known import Known
from bonebench.services.season.cards import BoxedCard
from bonebench.web.boxedtools import TRY as TRY_BOXED
from bonebench.web.boxedtools import beside_boxed, boxed_tool
from bonebench.web.charts import Chart, Series, chart
from bonebench.web.shell import door_of
from bonebench.web.tools import Field, Tool

ABOUT = tuple(field.name for field in fields(Asked) if field.name not in ("seed", "own"))
NO_YES = (("", "No"), ("yes", "Yes"))
SIZE = Field("size", "How many beetles?", "3000; or a few, hundreds, thousands, the bedding moves; or a scoop: 40 in 2 %")
WARMTH = Field("temperature", "How warm do they sit?", "26 C or 80 F; one value, or one for each hour apart by semicolons")
DAMP = Field("humidity", "How damp is the box?", "55 %; empty is 55 %")
HOUSE = (
    Field("floor", "Floor they walk on", "0.5 m2", more=True),
    Field("sites", "Blocks to pupate in", "20 L of soft wood, cork or foam; or a number of holes", more=True),
    Field("bare", "Is it bare, with no fibre or fur?", choices=NO_YES, more=True),
    Field("dry", "Is there no water and no moist food?", choices=NO_YES, more=True),
    Field("dried", "Is the food dried meat?", choices=NO_YES, more=True),
    Field("beetles", "What the beetles were determined as", "Dermestes maculatus, if empty", more=True),
    Field("pests", "Pests that were seen", "mites, ham beetles; empty is none", more=True),
)
COLONY = (SIZE, WARMTH, DAMP)
BOX = Field("box", "Whose log, if there are several boxes", "big box; only if no number is typed", more=True)
OWN_SIZE = Field("size", "How many beetles?", "empty is today's by the log; 3000; or a few, hundreds, thousands; or 40 in 2 %")
OWN = (OWN_SIZE, WARMTH, DAMP)
HELD = Field("held", "Food a day until feeding-up begins", "20 g; empty is by the log", more=True)
LOG = (
    Field("log", "Or a log of the box", "pasted: one line of names, such as time,temperature_c,humidity_percent; then a row for "
          "each reading; it drives the days it covers", more=True, kind="lines"),
    Field("log_file", "Or its file", "CSV or text, as the logger writes it", more=True, kind="file"),
    Field("log_unit", "The log's warmth, if its names do not say", more=True,
          choices=(("", "It says so"), ("C", "°C"), ("F", "°F"))),
)  # fmt: skip
FIRST_DAY = Field("first_day", "From which day", "2026-05-04; empty is today", more=True)
LOOKS = tuple((look, look.capitalize()) for look in ("hardly touched", "eaten into", "half gone", "crevices left", "bare"))
SMELLS = (("0", "None"), ("1", "Faint"), ("2", "Strong"), ("3", "Foul"))

# What a look into a box may write down.
LOOK_FIELDS = (
    Field("counted", "Alive in a scoop", "40; write 0 if none moved"),
    Field("part", "That scoop was of the bedding", "2 %"),
    Field("fed", "Food put in", "200 g; empty is none"),
    Field("temperature", "The thermometer there read", "26 C or 80 F"),
    Field("humidity", "Damp", "55 %"),
    Field("pupae", "Pupae in the blocks you opened", "120", more=True),
    Field("pupae_part", "Of all blocks you opened", "25 %; empty is all", more=True),
    Field("sites", "Blocks there", "20 L, or a number of holes", more=True),
    Field("pests", "Pests seen", "mites, ham beetles", more=True),
    Field("beetles", "What they were determined as", "Dermestes maculatus", more=True),
    Field("about", "When it was, if not now", "yesterday, 2d ago, 2026-05-04", more=True),
)

# Questions that begin from today's colony by the log of its box, where no size was typed.
BY_LOG = (ramp_up, least, away, thin, second)
Ask = Callable[[Request, Mapping[str, str]], Worked]


def asked_of(form: Mapping[str, str]) -> Asked:
    """Return what a form says of the colony."""
    about: dict[str, Any] = {name: form[name] for name in ABOUT if form.get(name)}
    return Asked(**about)


def _about_colony(act: Callable[..., Worked], needed: tuple[str, ...] = (), *, dated: bool = False) -> Ask:
    """Turn a question about the colony into what a form asks: an empty field is not said, unless the question needs it."""

    def work(request: Request, form: Mapping[str, str]) -> Worked:
        rest = _rest(request, form, needed, dated=dated)
        colony, box = asked_of(form), rest.pop("box", None)
        if act in BY_LOG:
            day = form.get("first_day")
            return door_of(request).read(
                lambda tx, now: ask(tx, now, colony, lambda known, own: act(known, own, **rest), box=box, first_day=day)
            )
        return door_of(request).work(lambda known: act(known, colony, **rest))

    return work


def log_of(known: Known, form: Mapping[str, str]) -> AirLog | None:
    """Return the log that came with a form: pasted, or the text of a file that was sent."""
    text = form.get("log", "")
    return air_log_of(text, zone_named(known.room.zone), form.get("log_unit") or None) if text else None


def _by_log(act: Callable[..., Worked], *, dated: bool = False) -> Ask:
    """Turn a question about the colony that a log of the box may go with into what a form asks."""
    own = (*ABOUT, *(field.name for field in LOG))

    def work(request: Request, form: Mapping[str, str]) -> Worked:
        rest = _rest(request, form, (), dated=False, about=own)
        today = door_of(request).surface().reader.today
        if dated and today is not None:
            rest["today"] = today.isoformat()
        colony, box, day = asked_of(form), rest.pop("box", None), form.get("first_day")
        if form.get("log"):
            return door_of(request).work(lambda known: act(known, colony, log=log_of(known, form), **rest))
        return door_of(request).read(
            lambda tx, now: ask(tx, now, colony, lambda known, own: act(known, own, **rest), box=box, first_day=day)
        )

    return work


def _about_piece(act: Callable[..., Worked], needed: tuple[str, ...], *, dated: bool = False) -> Ask:
    """Turn a question about one piece into what a form asks."""

    def work(request: Request, form: Mapping[str, str]) -> Worked:
        rest = _rest(request, form, needed, dated=dated, about=())
        return door_of(request).work(lambda known: act(known, **rest))

    return work


def _rest(
    request: Request, form: Mapping[str, str], needed: tuple[str, ...], *, dated: bool, about: tuple[str, ...] = ABOUT
) -> dict[str, Any]:  # fmt: skip
    rest = {name: text for name, text in form.items() if name not in about and (text or name in needed)}
    today = door_of(request).surface().reader.today
    if dated and not rest.get("first_day") and today is not None:
        rest["first_day"] = today.isoformat()
    return rest


def _tool(words: tuple[str, str, str, str], asks: tuple[Field, ...], needs: tuple[str, ...], work: Ask) -> Tool:
    """Return a tool; its words are its key, title, hint and first line."""
    key, title, hint, lede = words
    return Tool(key, title, hint, lede, asks, needs, work, f"/colony/ask/{key}")


_ALL = (
    _tool(
        (
            "numbers", "How many, and how hungry", "from a count, a grade, pupae or a weighed head",
            "What you saw becomes numbers of each age, and grams they can eat today.",
        ),
        (
            SIZE,
            Field("scoop_count", "Alive in a scoop", "40; write 0 if none moved"),
            Field("scoop_part", "That scoop was of the bedding", "2 %"),
            Field("pupae", "Pupae in the blocks you opened", "120", more=True),
            Field("pupae_part", "Of all blocks you opened", "25 %; empty is all", more=True),
            Field("before", "A weighed head, the only food: before", "500 g"),
            Field("after", "and after", "300 g"),
            Field("apart", "How far apart", "2d or 36h"),
            Field("dried_off", "Of that it lost by drying", "20 g", more=True),
            Field("heads_eaten", "Or the last heads that went", "3 raccoon; or their tissue, 500 g", more=True),
            Field("heads_days", "in", "6d", more=True),
            Field("frozen_in", "Something frozen last went in, before", "1d", more=True),
            WARMTH,
            DAMP,
            *HOUSE,
        ),
        ("size", "scoop_count", "pupae", "before", "heads_eaten"),
        _about_colony(numbers),
    ),
    _tool(
        (
            "forecast", "The season ahead", "appetite week by week; does the queue fit",
            "What they will be able to eat, as a band, and whether the freezer's queue fits.",
        ),
        (
            *OWN,
            Field("days", "How far ahead", "90d"),
            Field("ration", "Food a day", "80 g; empty is all they can eat"),
            Field("waiting", "The queue in the freezer", "20 raccoon, 4 coyote; or its tissue, 4 kg"),
            replace(FIRST_DAY, hint="2026-05-04; empty is today, or the log's first whole day"),
            *LOG,
            BOX, *HOUSE,
        ),
        ("size",),
        _by_log(ahead, dated=True),
    ),
    _tool(
        (
            "tonight", "What may go in tonight", "by appetite, floor and heater",
            "Which of the heads that wait may go in now, and what holds the number down.",
        ),
        (
            *COLONY,
            Field("waiting", "Heads that wait, in their order", "2 raccoon, 1 coyote"),
            Field("inside", "Heads in the box now", "1 coyote; empty is none"),
            Field("inside_left", "Still on those", "40 %; empty is all"),
            Field("free_floor", "Floor still free", "0.2 m2", more=True),
            Field("spare_heat", "Power the heater has to spare", "60 W", more=True),
            *HOUSE,
        ),
        ("waiting",),
        _about_colony(tonight, ("waiting",)),
    ),
    _tool(
        (
            "clean-by", "When will it be clean", "a date at even chance and at four in five",
            "By its kind, how long it is in, a look or the scale; then the one more day.",
        ),
        (
            Field("species", "Whose head", "raccoon, white-tailed deer"),
            Field("inside", "How long it is in", "3d"),
            Field("look", "How does it look?", choices=(("", "Nobody looked"), *LOOKS)),
            Field("tissue", "Tissue it went in with, if weighed", "200 g", more=True),
            Field("lost", "Lost on the scale by eating", "90 g", more=True),
            Field("appetite", "What they can give it a day", "30 g; empty is enough", more=True),
            FIRST_DAY,
        ),
        ("species", "inside"),
        _about_piece(clean_by, ("species", "inside"), dated=True),
    ),
    _tool(
        (
            "rot", "The rot clock", "how long a wet piece may still lie",
            "Hours warm and wet use up a piece's time; a smell moves the clock.",
        ),
        (
            Field("hours", "It has lain warm for", "30h"),
            Field("smell", "How does it smell?", choices=(("", "Nobody smelled"), *SMELLS)),
            Field("temperature", "How warm", "27 C; empty is 27 °C"),
            Field("left", "Still on it, on average", "80 %; empty is all", more=True),
            Field("wet", "Of that still wet", "70 %; empty is all", more=True),
        ),
        ("hours",),
        _about_piece(rot, ("hours",)),
    ),
    _tool(
        (
            "ramp-up", "Feed up for a season", "when to begin and with how much",
            "They need weeks to become many: when to begin so that the season finds them hungry.",
        ),
        (
            *OWN,
            Field("season", "The season begins in", "120d"),
            Field("target", "They should then eat a day", "300 g"),
            FIRST_DAY, HELD,
            BOX, *HOUSE,
        ),
        ("season",),
        _about_colony(ramp_up, ("season", "target"), dated=True),
    ),
    _tool(
        ("least", "A quiet time", "the least food that keeps them", "A ration is a range: never under the lower end."),
        (
            *OWN,
            Field("days", "How long is it quiet", "60d"),
            Field("begins", "It begins in", "30d; empty is now"),
            Field("keep", "Keep of them", "50 %", more=True),
            BOX,
            *HOUSE,
        ),
        ("size",),
        _about_colony(least),
    ),
    _tool(
        (
            "away", "Going away", "what to load, and a sheet for a neighbour",
            "What to load so that nothing starves or rots while nobody is there.",
        ),
        (*OWN, Field("days", "How long", "7d"), FIRST_DAY, BOX, *HOUSE),
        ("size",),
        _about_colony(away, dated=True),
    ),
    _tool(
        (
            "thin", "Thin, sell or give away", "never more than a quarter, count first",
            "What may be taken out without regretting it in the season.",
        ),
        (
            *OWN,
            Field("needed", "They will have to eat a day", "50 g"),
            Field("counted", "A scoop was last counted", "3d ago is 3d; empty is not lately"),
            Field("days", "Look ahead", "30d", more=True),
            BOX, *HOUSE,
        ),
        ("needed",),
        _about_colony(thin, ("needed",)),
    ),
    _tool(
        (
            "second", "A second colony", "by work, or as insurance",
            "Whether one box comes to what the season needs, and whether a spare lives elsewhere.",
        ),
        (
            *OWN,
            Field("needed", "At the height they must eat a day", "300 g"),
            Field("days", "Days to then", "120d"),
            Field("has_spare", "Does a spare live in another place?", choices=NO_YES),
            BOX, *HOUSE,
        ),
        ("needed",),
        _about_colony(second, ("needed",)),
    ),
    _tool(
        (
            "harm", "After cold or heat", "what a dead heater cost",
            "What some hours too cold or too hot did to them, against the same colony without.",
        ),
        (
            *OWN,
            Field("fell_to", "How cold or hot it was", "4 C"),
            Field("lasted", "How long", "18h"),
            Field("days", "Look how many days after", "14d", more=True),
            *LOG,
            BOX, *HOUSE,
        ),
        ("fell_to", "log"),
        _by_log(harm),
    ),
)  # fmt: skip
TOOLS: dict[str, Tool] = {tool.key: tool for tool in (*_ALL[:2], boxed_tool(SIZE, HOUSE), *_ALL[2:])}
# An invented colony and its pieces, for somebody who wants to see what comes out before counting anything.
TRY = {
    "size": "3000", "temperature": "26 C", "humidity": "55 %", "waiting": "2 raccoon, 1 coyote", "days": "30d", "season": "120d",
    "target": "200 g", "needed": "20 g", "counted": "3d", "fell_to": "4 C", "lasted": "18h", "species": "raccoon", "inside": "3d",
    "hours": "30h", "sites": "20 L",
}  # fmt: skip


def tried(tool: Tool) -> dict[str, str]:
    """Return the invented values of a tool's own fields."""
    names = {field.name for field in tool.fields}
    own = {"tonight": {"inside": "1 coyote", "inside_left": "50 %"}, "with-box": TRY_BOXED}.get(tool.key, {})
    return {name: text for name, text in {**TRY, **own}.items() if name in names}


def beside(request: Request, card: Worked | None, form: Mapping[str, str]) -> dict[str, Any]:
    """Return what stands beside a question: what was said of the colony, to take along, and the chart of the days ahead."""
    along = {name: form[name] for name in ABOUT if form.get(name)}
    charts = days_charts(card) if isinstance(card, ForecastCard) else ()
    more = beside_boxed(request, card) if isinstance(card, BoxedCard) else {"charts": charts}
    typed = {name: text for name, text in form.items() if text}
    sheet = f"/print/neighbour.pdf?{urlencode(typed)}" if isinstance(card, AwayCard) else None
    return {"along": along, "boxed_months": (), "tools": tuple(TOOLS.values()), "sheet": sheet, **more}


def days_charts(card: ForecastCard) -> tuple[Chart, ...]:
    """Draw the appetite as a band with its cautious line and what is eaten, and the numbers of each age."""
    days = [float(day.day) for day in card.days]
    if len(days) < 2:
        return ()
    eaten = (
        [Series("eaten, middle", [day.eaten_g.value for day in card.days], mark="warm")]
        if card.ration_kg_per_day is not None
        else []
    )
    appetite = chart(
        "What they can eat, g a day",
        f"From {card.days[0].appetite_g.plan:.3g} to {card.days[-1].appetite_g.plan:.3g} g a day, planned cautiously",
        days,
        [
            Series("nine in ten", [day.appetite_g.high for day in card.days], low=[day.appetite_g.low for day in card.days]),
            Series("plan with", [day.appetite_g.plan for day in card.days]),
            *eaten,
        ],
        x_label="days", y_label="g a day", floor=0,
    )  # fmt: skip
    ages = chart(
        "Thousands of each age, middle of the band",
        "Larvae, pupae and adults day by day",
        days,
        [
            Series("larvae", [day.larvae.value / 1000 for day in card.days]),
            Series("pupae", [day.pupae.value / 1000 for day in card.days], mark="faint"),
            Series("adults", [day.adults.value / 1000 for day in card.days], mark="warm"),
        ],
        x_label="days", y_label="1000s", floor=0,
    )  # fmt: skip
    return appetite, ages
