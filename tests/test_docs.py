"""What is written for people about files is what the program reads."""

from pathlib import Path
from runpy import run_path

DOCS = Path(__file__).parents[1] / "docs"


def test_the_table_of_a_boxs_file_is_the_one_the_program_reads():
    rows = run_path(str(DOCS / "fields.py"))["rows"]
    assert "\n".join(rows()) in (DOCS / "enclosure-file.md").read_text(encoding="utf-8"), "run docs/fields.py and set its table in"


def test_the_table_of_a_colonys_file_is_the_one_the_program_reads():
    rows = run_path(str(DOCS / "fields.py"))["colony_rows"]
    assert "\n".join(rows()) in (DOCS / "colony-file.md").read_text(encoding="utf-8"), "run docs/fields.py and set its table in"


def test_the_table_of_a_what_if_file_is_the_one_the_program_reads():
    rows = run_path(str(DOCS / "fields.py"))["what_if_rows"]
    assert "\n".join(rows()) in (DOCS / "what-if-file.md").read_text(encoding="utf-8"), "run docs/fields.py and set its table in"
