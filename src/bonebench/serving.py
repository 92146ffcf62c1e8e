"""Serve the pages: the one command that needs both faces."""

import gc
import os
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from bonebench.cli.face import book_address, book_option, chance, faults, now

if TYPE_CHECKING:
    from bonebench.door import Door

DEMO_BOOK = "bonebench-demo.db"
HOST = "127.0.0.1"
PORT = 8437


@click.command("serve")
@click.option("--host", "host", default=HOST, show_default=True, help="This machine only, unless said.")
@click.option("--port", "port", type=click.IntRange(1, 65535), default=PORT, show_default=True)
@click.option("--demo", "demo", is_flag=True, help=f"The invented room, in {DEMO_BOOK}; made if it is not there.")
@click.option("--today", "today", is_flag=True, help="Print today's work first.")
@book_option
def serve_command(host: str, port: int, demo: bool, today: bool, book: str | None) -> None:
    """Serve the pages."""
    with faults(False, "serve/1"):
        free_port(host, port)
        where = book_address(book)
        if demo:
            from bonebench.demo.build import ensure_demo

            where = book or DEMO_BOOK
            ensure_demo(where, now())
        elif book is None and "BONEBENCH_BOOK" not in os.environ and not Path(where).exists():
            first_run(where)
        _serve(where, host, port, today)


def first_run(where: str) -> None:
    """Make an empty book: the pages then ask for the room."""
    from bonebench.door import Door

    Door.make(where, name="Bone room", zone="UTC", units="metric", clock=now, rng=chance(), writer="pages", places=False).close()
    print(f"made a new book, {where}: open the page and set the room up")


def free_port(host: str, port: int) -> None:
    """Refuse a port that is taken, before anything else is done."""
    from bonebench.errors import SetUpError

    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        if sys.platform != "win32":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as fault:
            raise SetUpError(
                "serve.port", "{host}:{port} cannot be used ({fault}): stop what uses it, or name another with --port {other}",
                host=host, port=port, fault=fault.strerror or str(fault), other=port + 1 if port < 65535 else port - 1,
            ) from fault  # fmt: skip


def _serve(where: str, host: str, port: int, today: bool) -> None:
    import uvicorn

    gc.enable()
    from bonebench.door import Door
    from bonebench.web.app import make_app

    door = Door.open(where, clock=now, rng=chance(), writer="pages")
    if today:
        _print_today(door)
    print(f"\nBonebench serves {where} on http://{host}:{port}/  (stop with Ctrl-C)", flush=True)
    if host not in (HOST, "localhost", "::1"):
        print("Anybody in this network can read and write the book; there is no log-in yet.", file=sys.stderr)
    app = make_app(door, host=host)
    if door.health()[1]:
        app.state.work.start("warm", {})
    uvicorn.run(app, host=host, port=port, log_level="warning", server_header=False)


def _print_today(door: "Door") -> None:
    from bonebench.cli.words import today_text

    print(today_text(door.today(), door.reader()), flush=True)


def register(app: click.Group) -> None:
    """Add this command."""
    app.add_command(serve_command)
