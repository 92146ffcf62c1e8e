import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bonebench.science import kernel

CALLER = """from bonebench.science.callee import inner
from bonebench.science.kernel import compiled


@compiled
def outer(x):
    return inner(x) + 1
"""
CALLEE = """from bonebench.science.kernel import compiled


@compiled
def inner(x):
    return {factor} * x
"""


def ask(root: Path, cache: Path) -> str:
    code = "from bonebench.science.caller import outer; print(outer(10.0))"
    env = {**os.environ, "PYTHONPATH": str(root), "BONEBENCH_CACHE": str(cache)}
    return subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True).stdout.strip()


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the program in which science holds nothing but the kernel compiler, a caller and its callee."""
    science = tmp_path / "root" / "bonebench" / "science"
    science.mkdir(parents=True)
    (science.parent / "__init__.py").write_text("")
    (science / "__init__.py").write_text("")
    shutil.copy(kernel.__file__, science / "kernel.py")
    (science / "caller.py").write_text(CALLER)
    return tmp_path / "root"


def test_an_edit_to_a_called_function_in_another_file_is_never_ignored(copy, tmp_path):
    """What numba's own cache gets wrong (STACK 6: it gave 21 where 51 was right)."""
    callee = copy / "bonebench" / "science" / "callee.py"
    callee.write_text(CALLEE.format(factor=2))
    assert ask(copy, tmp_path / "cache") == "21.0"
    assert ask(copy, tmp_path / "cache") == "21.0"
    callee.write_text(CALLEE.format(factor=5))
    assert ask(copy, tmp_path / "cache") == "51.0"


def test_compiled_code_is_kept_for_the_next_process(copy, tmp_path):
    (copy / "bonebench" / "science" / "callee.py").write_text(CALLEE.format(factor=2))
    ask(copy, tmp_path / "cache")
    assert list((tmp_path / "cache").rglob("*.nbc"))


def test_a_folder_that_cannot_be_written_only_costs_the_compiling(copy, tmp_path):
    (copy / "bonebench" / "science" / "callee.py").write_text(CALLEE.format(factor=2))
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    assert ask(copy, in_the_way) == "21.0"


def test_folders_of_older_source_are_cleared_away(tmp_path, monkeypatch):
    monkeypatch.setenv("BONEBENCH_CACHE", str(tmp_path))
    kernels = tmp_path / "bonebench" / "kernels"
    for n in range(6):
        (kernels / f"old{n}").mkdir(parents=True)
        os.utime(kernels / f"old{n}", (n, n))
    assert kernel.cache_folder() == kernels / kernel.source_hash()
    assert len(list(kernels.iterdir())) == kernel.KEPT_FOLDERS
