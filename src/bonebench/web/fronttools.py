"""The two questions of the front of the route, each with its form."""

from collections.abc import Mapping

from fastapi import Request

from bonebench.services.cards import Worked
from bonebench.services.front.outdoors import outdoors
from bonebench.services.front.shelf import thaw
from bonebench.web.shell import door_of
from bonebench.web.tools import Field, Tool


def _outdoors(request: Request, form: Mapping[str, str]) -> Worked:
    door = door_of(request)
    return door.work(lambda known: outdoors(known, today=known.room.day(door.now()), warmest=form["warmest"]))


def _thaw(request: Request, form: Mapping[str, str]) -> Worked:
    asked = {name: text or None for name, text in form.items()}
    return door_of(request).work(lambda known: thaw(known, **asked))


_ALL = (
    Tool(
        "outdoors",
        "Is outdoors a freezer?",
        "until when heads may stay out in the frost",
        "While every hour of the day stays below -5 °C (23 °F) it is, in something no animal opens.",
        (Field("warmest", "The warmest of each day, today first", "-7, -9, -4 C, as the forecast has it; up to 16 days"),),
        ("warmest",),
        _outdoors,
        "/calendar/ask/outdoors",
    ),
    Tool(
        "thaw",
        "How long on the thaw shelf?",
        "until it can be trimmed, and to freeze it again",
        "By the mass of the head and how warm the shelf is: when to look, when to trim, how long the freezer takes after it.",
        (
            Field("species", "Whose head", "raccoon, white-tailed deer; or leave it and weigh the head"),
            Field("head_mass", "The head weighs", "1.2 kg or 3 lb; empty is what its kind usually weighs"),
            Field("shelf", "The thaw shelf is at", "6 C or 43 F; empty is as the room has it"),
            Field("freezer", "The freezer is at", "-20 C or -4 F; empty is as the room has it, or -20 °C", more=True),
        ),
        ("species", "head_mass"),
        _thaw,
        "/calendar/ask/thaw",
    ),
)
TOOLS: dict[str, Tool] = {tool.key: tool for tool in _ALL}
