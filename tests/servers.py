"""A throw-away PostgreSQL: one cluster in a folder of its own, started as somebody who is not root, gone at the end."""

import getpass
import os
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import LiteralString

import psycopg
from psycopg import sql

PACKAGE = "postgresql"
OWNER = "bone"


class NoServer(Exception):
    """This machine cannot run a PostgreSQL of our own; the message says what is missing."""


def programs() -> Path:
    """Return the folder of initdb and pg_ctl; Debian keeps them off the path, one folder for each version."""
    found = shutil.which("initdb")
    if found is not None:
        return Path(found).resolve().parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda p: int(p.parts[-3]))
    if not folders:
        raise NoServer(f"PostgreSQL's own programs are not here: install the package {PACKAGE}")
    return folders[-1].parent


def _as_owner() -> tuple[list[str], str]:
    """Return how a command is run as the cluster's owner, and who that is: the server refuses to run as root."""
    if os.name == "posix" and os.geteuid() == 0:
        import pwd

        names = {user.pw_name for user in pwd.getpwall()}
        user = next((name for name in ("postgres", "nobody") if name in names), None)
        if user is None or shutil.which("runuser") is None:
            raise NoServer(f"as root, PostgreSQL needs runuser and a user of its own: install the package {PACKAGE}")
        return ["runuser", "-u", user, "--"], user
    return [], getpass.getuser()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Cluster:
    """A running server and its databases."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._made = 0
        self._admin = psycopg.connect(self.address("postgres").replace("+psycopg", ""), autocommit=True)

    def address(self, database: str) -> str:
        """Return what --book takes for a database of this server."""
        return f"postgresql+psycopg://{OWNER}@127.0.0.1:{self._port}/{database}"

    def create(self, like: str | None = None) -> str:
        """Make a database, empty or as a copy of another, and return its name."""
        self._made += 1
        name = f"book{self._made}"
        self._run("CREATE DATABASE {} TEMPLATE {}", name, like or "template0")
        return name

    def drop(self, name: str) -> None:
        """Drop a database, whoever is still connected."""
        self._run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)

    def _run(self, command: LiteralString, *names: str) -> None:
        self._admin.execute(sql.SQL(command).format(*(sql.Identifier(name) for name in names)))

    def close(self) -> None:
        """Hang up."""
        self._admin.close()


# Waits until its input ends, which is also how it learns that the tests were killed; then nothing of the server is left.
WATCH = """
import pathlib, shutil, subprocess, sys
folder, *stop = sys.argv[1:]
sys.stdin.read()
if pathlib.Path(folder, "data", "postmaster.pid").exists():
    subprocess.run(stop, cwd="/", stdout=subprocess.DEVNULL)
shutil.rmtree(folder, ignore_errors=True)
"""


@contextmanager
def _gone_at_the_end(folder: Path, stop: list[str]) -> Iterator[None]:
    # In a session of its own, so that what interrupts the tests does not interrupt the cleaning up.
    watch = [sys.executable, "-c", WATCH, str(folder), *stop]
    with subprocess.Popen(watch, stdin=subprocess.PIPE, start_new_session=True):
        yield


@contextmanager
def running_cluster() -> Iterator[Cluster]:
    """Start a server, and stop it and remove its folder at the end; raises NoServer where that cannot be."""
    at, (runas, owner) = programs(), _as_owner()
    folder = Path(tempfile.mkdtemp(prefix="bone-pg-"))
    data, log, port = folder / "data", folder / "log", _free_port()
    control = [*runas, str(at / "pg_ctl"), "-D", str(data), "-w"]
    with _gone_at_the_end(folder, [*control, "-m", "immediate", "stop"]):
        if runas:
            shutil.chown(folder, owner)
        # What a crash of the machine would lose is no matter here: no fsync, so that a test's database is there at once.
        options = f"-c listen_addresses=127.0.0.1 -p {port} -k {folder} -c fsync=off -c full_page_writes=off -c max_connections=60"
        _run([*runas, str(at / "initdb"), "-D", str(data), "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"])
        _run([*control, "-l", str(log), "-o", options, "start"])
        with closing(Cluster(port)) as cluster:
            yield cluster


def _run(command: list[str]) -> None:
    done = subprocess.run(
        command, check=False, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, cwd="/", text=True
    )
    if done.returncode != 0:
        raise NoServer(f"PostgreSQL did not do '{' '.join(command)}': {done.stderr.strip()}")
