"""The whole program: the command line with the one command that serves the pages."""

from bonebench import serving
from bonebench.cli import build


def main() -> None:
    """Run the command line."""
    app = build()
    serving.register(app)
    app()
