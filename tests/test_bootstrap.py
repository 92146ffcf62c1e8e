"""bootstrap.py: standard library only, readable by an old Python, and one line that says what to do."""

import ast
import errno
import subprocess
import sys
import venv
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
        ("python: No module named pip", "delete the folder .venv and run the same command again"),
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


def test_a_python_that_cannot_make_environments_names_the_package_that_is_missing(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(bootstrap, "VENV", tmp_path / ".venv")
    monkeypatch.setitem(sys.modules, "ensurepip", None)
    assert bootstrap.main(["run"]) == 1
    assert capsys.readouterr().err.strip().endswith("on Debian or Ubuntu: apt install python3-venv")


FAULTS = [
    (OSError(errno.ENOSPC, "No space left on device"), "the disk is full: make room"),
    (subprocess.CalledProcessError(1, ["ensurepip"]), "pip could not be put into .venv"),
    (PermissionError(errno.EACCES, "Permission denied", "here"), "cannot write to here: put the folder where you may write"),
]


@pytest.mark.parametrize(("fault", "said"), FAULTS, ids=[said for _, said in FAULTS])
def test_an_environment_that_cannot_be_made_says_why_and_leaves_no_half_of_it(tmp_path, monkeypatch, capsys, fault, said):
    def create(builder, where):
        (where / "bin").mkdir(parents=True)
        (where / "bin/python").touch()
        raise fault

    monkeypatch.setattr(bootstrap, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(venv.EnvBuilder, "create", create)
    assert bootstrap.main(["run"]) == 1
    assert said in capsys.readouterr().err
    assert not (tmp_path / ".venv").exists()


def test_other_pins_are_installed_again_and_a_failed_installation_is_tried_again(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(bootstrap, "VENV", tmp_path)
    monkeypatch.setattr(bootstrap, "LOG", tmp_path / "install.log")
    (tmp_path / "installed-run").write_text("other pins", encoding="utf-8")
    answers = [1, 0]
    monkeypatch.setattr(subprocess, "call", lambda *a, **k: answers.pop(0))
    with pytest.raises(bootstrap.CannotGoOn, match="installing failed: read"):
        bootstrap.install("")
    bootstrap.install("")
    bootstrap.install("")
    assert answers == []


@pytest.mark.parametrize(("arguments", "demo"), [([], True), (["--book", "mine.db"], False), (["--book=mine.db"], False)])
def test_run_serves_the_demo_unless_a_book_is_named(monkeypatch, arguments, demo):
    called = []
    monkeypatch.setattr(bootstrap, "install", lambda extra: None)
    monkeypatch.setattr(subprocess, "call", lambda command, **more: called.append(command) or 0)
    assert bootstrap.run(arguments) == 0
    assert ("--demo" in called[0]) is demo
    assert called[0][1:5] == ["-m", "bonebench", "serve", "--today"]


def test_the_tests_stop_at_the_first_check_that_fails(monkeypatch, capsys):
    called = []
    monkeypatch.setattr(bootstrap, "install", lambda extra: None)
    monkeypatch.setattr(subprocess, "call", lambda command, **more: called.append(command) or (3 if "mypy" in command else 0))
    assert bootstrap.test(["--", "-k", "mix"]) == 3
    assert called[-1][-1] == "mypy"


def test_no_command_shows_the_two_there_are(capsys):
    assert bootstrap.main([]) == 2
    assert "bootstrap.py test" in capsys.readouterr().err


def test_an_unknown_command_shows_the_two_there_are(capsys):
    assert bootstrap.main(["fly"]) == 2
    assert "bootstrap.py run" in capsys.readouterr().err
