"""The command line: parse, open one transaction, call one service, print its card.

Every module beside this one that has a function ``register(app)`` adds its commands; heavy libraries are imported where used.
Click and not a layer above it: such a layer loads a validation library on every call, which is a fifth of a second here.
"""

import importlib
import pkgutil

import click

SETTINGS = {"help_option_names": ["-h", "--help"], "max_content_width": 120}


def build() -> click.Group:
    """Return the whole command line, found by its folder."""
    app = click.Group(
        "bonebench",
        help="Runs a bone room: today's work, the specimens, the room, the baths.\n\nDefer to local codes and licensed practice.",
        context_settings=SETTINGS,
    )
    for module in sorted(pkgutil.iter_modules(__path__), key=lambda m: m.name):
        register = getattr(importlib.import_module(f"{__name__}.{module.name}"), "register", None)
        if register is not None:
            register(app)
    return app
