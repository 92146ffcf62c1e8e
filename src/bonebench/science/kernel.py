"""The one way a kernel is compiled.

numba keeps compiled code beside the file it came from and looks only at that file's date, so an edit to a called function in
another file would be ignored. Here the kept code lies in a folder whose name is a hash of all of science's source: any edit
begins a new folder. Without a folder that can be written, code is compiled anew in each process.
"""

import gc
import hashlib
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import ParamSpec, TypeVar

import numba

P = ParamSpec("P")
R = TypeVar("R")

SCIENCE = Path(__file__).parent
KEPT_FOLDERS = 3


def source_hash(folder: Path = SCIENCE) -> str:
    """Hash every source file below a folder, with the versions that compiled code depends on.

    Parameters
    ----------
    folder : Path
        The folder; the science of this program unless another is named.

    Returns
    -------
    str
        Sixteen hexadecimal digits.
    """
    digest = hashlib.sha256(f"{sys.version} numba {numba.__version__}".encode())
    for path in sorted(folder.rglob("*.py")):
        digest.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:16]


def _cache_home() -> Path:
    """Where this person's programs keep what can be made again."""
    named = os.environ.get("BONEBENCH_CACHE") or os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return Path(named) if named else Path.home() / ".cache"


def cache_folder() -> Path | None:
    """Return the folder for compiled code of this source, made if need be.

    Returns
    -------
    Path or None
        None if no folder can be written; code is then compiled in each process.
    """
    kernels = _cache_home() / "bonebench" / "kernels"
    folder = kernels / source_hash()
    try:
        fresh = not folder.exists()
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError:
        return None
    if fresh:
        _drop_older(kernels)
    return folder


def _drop_older(kernels: Path) -> None:
    """Keep the newest few: each edit of the source makes a folder that nobody else would clear."""
    folders = sorted((path for path in kernels.iterdir() if path.is_dir()), key=lambda path: path.stat().st_mtime, reverse=True)
    for old in folders[KEPT_FOLDERS:]:
        shutil.rmtree(old, ignore_errors=True)


_FOLDER = cache_folder()
if _FOLDER is not None:
    numba.config.CACHE_DIR = str(_FOLDER)  # type: ignore[attr-defined]  # numba makes its settings at run time


@contextmanager
def no_collecting() -> Iterator[None]:
    """Hold back Python's search for garbage round a call that may have to be compiled first; that search is a tenth of it.

    Compiled code makes no objects, so nothing gathers. Of calls side by side the first to begin turns the search on again.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a plain function on numbers and arrays, without Python objects and without the interpreter's lock.

    Parameters
    ----------
    function : callable
        It may call other compiled functions. With ``NUMBA_DISABLE_JIT=1`` it runs as it is.

    Returns
    -------
    callable
        The compiled function; the source stays reachable as ``py_func``.

    Notes
    -----
    ``fastmath`` stays off: balances close to rounding only if the order of sums is kept, and nan must be seen.
    """
    # Nobody calls these from C, and the entry for it would be a good part of the first compiling.
    made: Callable[P, R] = numba.njit(  # type: ignore[call-overload]  # an option of the compiler its stubs leave out
        cache=_FOLDER is not None, nogil=True, error_model="numpy", no_cfunc_wrapper=True
    )(function)
    return made


def bare(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a function that makes no array of its own, without counting who uses those it is given.

    Parameters
    ----------
    function : callable
        It takes its work space as arguments and calls only functions that do the same. What it is given must be kept alive by
        its caller, as a compiled function's arguments always are.

    Returns
    -------
    callable
        The compiled function.

    Notes
    -----
    Counting costs an atomic instruction for every array of a tuple at every call: with a state of thirty arrays and a million
    short calls a second that is most of the time (measured: nine tenths).
    """
    made: Callable[P, R] = numba.njit(  # type: ignore[call-overload]  # an option of the compiler its stubs leave out
        cache=_FOLDER is not None, nogil=True, error_model="numpy", no_cfunc_wrapper=True, _nrt=False
    )(function)
    return made


def bare_inside(function: Callable[P, R]) -> Callable[P, R]:
    """Compile a bare function into each of its callers: for the short ones that take a whole state along.

    Parameters
    ----------
    function : callable
        As for `bare`.

    Returns
    -------
    callable
        The compiled function.
    """
    made: Callable[P, R] = numba.njit(  # type: ignore[call-overload]  # an option of the compiler its stubs leave out
        cache=_FOLDER is not None, nogil=True, error_model="numpy", no_cfunc_wrapper=True, _nrt=False, forceinline=True
    )(function)
    return made


def at_hand(function: Callable[..., object]) -> bool:
    """Say whether a compiled function can be called without compiling it first.

    Parameters
    ----------
    function : callable
        A function made by `compiled`.

    Returns
    -------
    bool
        Whether this process has called it, or an earlier one has kept its code.
    """
    if getattr(function, "signatures", ()):
        return True
    return _FOLDER is not None and any(_FOLDER.rglob(f"*.{function.__name__}-*.nbi"))
