"""Rules of the tree itself."""

import hashlib
import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
# Written in pieces, so that this file does not name what it looks for.
FORBIDDEN = re.compile(
    "|".join(["/wor" + "k/", "/roo" + "t/", "pythonhoste" + "d", "pypi" + r"\.org", "npmjs" + r"\.org", "deb" + r"\.debian"])
)


def tracked() -> list[Path]:
    """Every file git tracks; none outside a checkout."""
    done = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip("not a git checkout")
    return [ROOT / name for name in done.stdout.splitlines()]


def test_no_file_names_a_path_of_one_machine_or_a_registry():
    found = []
    for path in tracked():
        if path.suffix in (".png", ".js", ".ttf") or not path.is_file():
            continue
        found += [f"{path.name}: {line[:80]}" for line in path.read_text(encoding="utf-8").splitlines() if FORBIDDEN.search(line)]
    assert found == []


def test_no_lock_that_records_addresses_is_tracked_and_pins_are_pins_only():
    assert not {"uv.lock", "pylock.toml"} & {path.name for path in tracked()}
    for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines():
        assert re.match(r"[a-z0-9._-]+==[^\s;]+( ; .*)?$", line), line


def test_vendored_files_are_what_the_manifest_says():
    vendor = ROOT / "src/bonebench/web/static/vendor"
    manifest = json.loads((vendor / "vendored.json").read_text(encoding="utf-8"))
    listed = {name: checksum for package in manifest for name, checksum in package["files"].items()}
    there = {path.name for path in vendor.iterdir()} - {"vendored.json"} - {package["licence_file"] for package in manifest}
    assert listed == {name: hashlib.sha256((vendor / name).read_bytes()).hexdigest() for name in there}
    for package in manifest:
        assert (vendor / package["licence_file"]).is_file()


def test_the_arrows_are_held_by_contracts():
    contracts = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"]
    held = {
        layer.strip()
        for contract in contracts
        if contract["type"] == "layers"
        for line in contract["layers"]
        for layer in line.split("|")
    }
    for room in (
        "cli",
        "web",
        "demo",
        "door",
        "services",
        "records",
        "planning",
        "reference",
        "shop",
        "science",
        "units",
        "errors",
    ):
        assert f"bonebench.{room}" in held
    assert any("sqlalchemy" in contract.get("forbidden_modules", ()) for contract in contracts)


def test_the_program_says_what_it_can_do():
    done = subprocess.run([sys.executable, "-m", "bonebench", "--help"], cwd=ROOT, capture_output=True, text=True, check=True)
    for command in ("today", "specimen", "room", "species", "bath", "book", "serve"):
        assert re.search(rf"^  {command} ", done.stdout, re.MULTILINE), command
    assert "Defer to local codes and licensed practice." in done.stdout


def test_no_template_style_or_script_of_ours_names_another_host():
    web = ROOT / "src/bonebench/web"
    ours = [p for p in web.rglob("*") if p.suffix in (".html", ".css", ".js", ".svg") and "vendor" not in p.parts]
    assert len(ours) > 10
    for path in ours:
        text = (
            path.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "").replace("http://www.w3.org/1999/xlink", "")
        )
        assert not re.search(r"(https?:)?//[a-z0-9.-]+\.[a-z]{2,}", text), path.name


def test_a_picture_is_small():
    for path in (ROOT / "docs/pictures").glob("*.png"):
        assert path.stat().st_size < 200_000, path.name


def test_no_python_file_has_grown_past_five_hundred_lines():
    long = [
        p.name for p in tracked() if p.suffix == ".py" and p.is_file() and len(p.read_text(encoding="utf-8").splitlines()) > 500
    ]
    assert [name for name in long if not name.startswith("test_") and name != "sample_cards.py"] == []


def test_the_readme_has_the_two_commands_and_defers():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "python3 bootstrap.py run" in readme
    assert "python3 bootstrap.py test" in readme
    assert "defer to local codes and licensed practice" in readme.casefold()
    for picture in re.findall(r"\]\((docs/pictures/[^)]+)\)", readme):
        assert (ROOT / picture).is_file(), picture
