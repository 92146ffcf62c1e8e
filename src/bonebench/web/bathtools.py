"""The calculations of the wet bench, each with its form."""

from collections.abc import Callable, Mapping
from typing import Any

from fastapi import Request

from bonebench.services.baths import working
from bonebench.services.cards import Worked
from bonebench.web.shell import door_of
from bonebench.web.tools import Field, Tool

TEMPERATURE = Field("temperature", "Temperature", "20 C or 68 F; empty is 20 °C", more=True)
SPECIES = Field("species", "Whose skull", "raccoon, white-tailed deer, black bear")


def _asks(act: Callable[..., Worked], *, flags: tuple[str, ...] = ()) -> Callable[[Request, Mapping[str, str]], Worked]:
    """Turn a service into what a form asks: an empty field is not said, a flag is its yes."""

    def work(request: Request, form: Mapping[str, str]) -> Worked:
        asked: dict[str, Any] = {name: (text == "yes" if name in flags else text) for name, text in form.items() if text}
        needed = {name: form[name] for name in form if name not in asked and name not in flags and name in _required(act)}
        return door_of(request).work(lambda known: act(known, **{**needed, **asked}))

    return work


def _required(act: Callable[..., Worked]) -> frozenset[str]:
    defaults = act.__kwdefaults__ or {}
    names = act.__code__.co_varnames[act.__code__.co_argcount : act.__code__.co_argcount + act.__code__.co_kwonlyargcount]
    return frozenset(name for name in names if name not in defaults)


def _degrease(request: Request, form: Mapping[str, str]) -> Worked:
    """Ask the door: what the room's own pots have shown goes in."""
    return door_of(request).degrease(species=form["species"], temperature=form["temperature"] or None, head=form["head"] or None)


YES_NO = (("yes", "yes"), ("no", "no"))


def _tool(
    words: tuple[str, str, str, str],
    fields: tuple[Field, ...],
    act: Callable[..., Worked],
    flags: tuple[str, ...] = (),
    asks: Callable[[Request, Mapping[str, str]], Worked] | None = None,
) -> Tool:
    """Return a tool; its words are its key, title, hint and first line."""
    key, title, hint, lede = words
    needs = tuple(field.name for field in fields if not field.more and not field.choices)
    return Tool(key, title, hint, lede, fields, needs, asks or _asks(act, flags=flags), f"/baths/ask/{key}")


_ALL = (
    _tool(
        (
            "test",
            "Test a bath",
            "permanganate or iodine, step by step",
            "What you read off the burette becomes a strength, with the arithmetic shown.",
        ),
        (
            Field("by", "With what?", choices=(("permanganate", "Permanganate"), ("iodometric", "Iodine and thiosulfate"))),
            Field("sample", "Bath drawn, mL", "10; or the part of the thinned bath"),
            Field("normality", "Normality on the bottle", "0.1 (0.02 M permanganate is 0.1 N)"),
            Field("used", "Used, mL", "17.85"),
            Field("dilution", "How many times it was thinned", "25 for 10 mL made up to 250; empty is not", more=True),
            Field("blank", "A boiled bath used, mL", "0.2; empty is no blank", more=True),
            Field("stock", "The bottle it was mixed from", "35 %", more=True),
            TEMPERATURE,
        ),
        working.titrate,
    ),
    _tool(
        (
            "top-up",
            "Bring a bath back up",
            "how much stock, and what to take out first",
            "A used bath, its strength as tested, and what the tub may hold.",
        ),
        (
            Field("volume", "In the tub", "10 L or 2 gal"),
            Field("strength", "Its strength now", "1.8 %, as tested"),
            Field("stock", "The bottle says", "35 %, 9.1 % w/v or 10 vol"),
            Field("target", "It should be", "3 %"),
            Field("largest", "The most the tub may hold", "15 L, with room for foam taken off"),
            TEMPERATURE,
        ),
        working.top_up,
    ),
    _tool(
        ("blend", "Two solutions to a third", "with water or a weaker bath", "Any two strengths make one that lies between them."),
        (
            Field("a", "One is", "35 %"),
            Field("b", "The other is", "3 %, or 0 % for water"),
            Field("target", "It should be", "6 %"),
            Field("total", "How much of it", "10 L"),
            TEMPERATURE,
        ),
        working.blend,
    ),
    _tool(
        (
            "decay",
            "How strong after some days",
            "by age, warmth and load alone",
            "A bath loses strength by itself. This is a guess to be tested, never an all-clear.",
        ),
        (
            Field("strength", "It was mixed to", "3 %"),
            Field("days", "It has stood", "5d"),
            Field(
                "load", "What is in it?", choices=(("bone", "Clean bone"), ("clean", "Nothing"), ("tissue", "Tissue or blood left"))
            ),
            Field("volume", "How much", "10 L; empty is 10 L", more=True),
            Field("stock", "It was mixed from", "35 %; to hear what each skull takes", more=True),
            Field("at_once", "Skulls in it together", "2; empty is 1", more=True),
            Field("stay", "Each stays", "2d; empty is two days", more=True),
            Field("price", "Money for a kilogram of stock", "4.50", more=True),
            TEMPERATURE,
        ),
        working.decay,
    ),
    _tool(
        (
            "cover",
            "How much bath covers them",
            "a vessel and the skulls that go in",
            "Inside sizes of the vessel, and whose skulls; you get what to mix and where the bath may stand.",
        ),
        (
            SPECIES,
            Field("count", "How many", "1", more=True),
            Field("length", "Inside length, or diameter", "60 cm or 24 in"),
            Field("width", "Inside width", "40 cm; empty if round"),
            Field("depth", "Inside depth to the brim", "40 cm"),
            Field("round", "Is it round?", choices=(("no", "No"), ("yes", "Yes"))),
        ),
        working.cover,
        ("round",),
    ),
    _tool(
        (
            "whiten",
            "How long to whiten",
            "days, looks, and what is known of harm",
            "By species, strength and warmth, with what is known of harm at that strength.",
        ),
        (
            SPECIES,
            Field("strength", "The bath is", "3 %; empty is this room's way", more=True),
            Field("method", "Another way than the room's", "three-percent, six-percent, fifteen-percent", more=True),
            TEMPERATURE,
        ),
        working.whiten,
    ),
    _tool(
        (
            "degrease",
            "How long in the pot",
            "days and changes by grease and warmth",
            "By species and temperature; the dry-spot test decides, not the calendar.",
        ),
        (
            SPECIES,
            Field("temperature", "The pot is at", "45 C or 113 F; empty is 45 °C", more=True),
            Field("head", "The head weighs", "1.2 kg or 3 lb", more=True),
        ),
        working.degrease,
        asks=_degrease,
    ),
    _tool(
        (
            "pot",
            "A warm pot's power and water",
            "watts, money, when it runs low",
            "What it takes to hold a pot warm, what evaporates, and when the heater stands bare.",
        ),
        (
            Field("volume", "Water in it", "20 L"),
            Field("open_area", "Open water", "0.07 m2 (a pot 30 cm across)"),
            Field("wall_area", "Wetted wall with the floor", "0.35 m2"),
            Field("temperature", "Held at", "45 C"),
            Field("lid", "A lid on it?", choices=YES_NO),
            Field("foam", "Wrapped in foam?", choices=(("no", "no"), ("yes", "yes"))),
            Field("watts", "The heater", "200 W", more=True),
            Field("water_over_heater", "Water over the heater", "5 cm", more=True),
            Field("room", "The room's air", "20 C", more=True),
            Field("humidity", "The room's humidity", "50 %", more=True),
            Field("price", "Money for a kilowatt-hour", "0.15", more=True),
        ),
        working.heat,
        ("lid", "foam"),
    ),
    _tool(
        (
            "dry",
            "When is it dry enough",
            "to glue, whiten, seal or measure",
            "By size and air; with weighings, by the skull itself.",
        ),
        (
            SPECIES,
            Field("use", "For what?", choices=(("glue", "Glue"), ("whiten", "Whiten"), ("seal", "Seal"), ("measure", "Measure"))),
            Field("humidity", "Humidity of the air", "50 %", more=True),
            Field("weighings", "Weighings", "0d 810 g, 1d 780 g, 3d 765 g", more=True),
            Field("step", "The scale's smallest step", "1 g", more=True),
            TEMPERATURE,
        ),
        working.dry,
    ),
)
TOOLS: dict[str, Tool] = {tool.key: tool for tool in _ALL}
