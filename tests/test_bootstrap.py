"""bootstrap.py: standard library only, readable by an old Python, and one line that says what to do."""

import ast
import subprocess
import sys
from pathlib import Path

import bootstrap
import pytest

FILE = Path(bootstrap.__file__)


def test_it_needs_nothing_but_the_standard_library():
    tree = ast.parse(FILE.read_text(encoding="utf-8"))
    imported = {alias.name.split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    imported |= {node.module.split(".")[0] for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    assert imported <= set(sys.stdlib_module_names)


def test_an_old_python_can_read_it_far_enough_to_be_told():
    ast.parse(FILE.read_text(encoding="utf-8"), feature_version=(3, 7))


def test_an_old_python_is_told_which_one_is_needed(monkeypatch):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(bootstrap.CannotGoOn, match=r"needs Python 3\.11 or newer; this is 3\.9"):
        bootstrap.check_python()


@pytest.mark.parametrize(
    ("log", "said"),
    [
        (
            "ERROR: Could not find a version that satisfies the requirement sqlalchemy",
            "connect to the network and run the same command again",
        ),
        ("NewConnectionError: Failed to establish a new connection", "connect to the network and run the same command again"),
        ("OSError: [Errno 28] No space left on device", "the disk is full: make room"),
        ("error: subprocess-exited-with-error", "mend what it says and run the same command again"),
    ],
)
def test_a_failed_installation_says_what_to_do_in_one_line(log, said):
    words = bootstrap.why_install_failed(log)
    assert said in words
    assert "\n" not in words


def test_what_is_installed_already_is_not_installed_again(tmp_path, monkeypatch):
    monkeypatch.setattr(bootstrap, "VENV", tmp_path)
    (tmp_path / "installed-run").write_text(bootstrap.fingerprint(""), encoding="utf-8")
    monkeypatch.setattr(subprocess, "call", lambda *a, **k: pytest.fail("nothing was to be installed"))
    bootstrap.install("")


def test_an_unknown_command_shows_the_two_there_are(capsys):
    assert bootstrap.main(["fly"]) == 2
    assert "bootstrap.py run" in capsys.readouterr().err
