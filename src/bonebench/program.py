"""The whole program: the command line with the one command that serves the pages."""

import gc

from bonebench import serving
from bonebench.cli import build


def main() -> None:
    """Run the command line."""
    # One command lives for a second: collecting garbage while modules load costs a tenth of that. `serve` turns it on again.
    gc.disable()
    app = build()
    serving.register(app)
    app()
