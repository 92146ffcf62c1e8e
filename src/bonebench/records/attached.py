"""Photos and papers in a folder beside the book, each named by its SHA-256.

A file is written, synced and given its name before any row or entry speaks of it: a crash leaves a file nobody names, never a name
without its file. The folder of ``NAME.db`` is ``NAME-files`` beside it. A book on a server has it in BONEBENCH_FILES, or else in
the working folder as ``DATABASE-files``: every program that writes such a book must see the same one.
"""

import hashlib
import os
import re
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from bonebench.records.engines import database_of, is_address, our_words

ENDINGS = {"image/jpeg": ".jpg", "application/pdf": ".pdf"}
SMALL = "small"
_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Named:
    """One file as the book lists it."""

    sha256: str
    media_type: str
    size_bytes: int

    @property
    def name(self) -> str:
        """Its name in the folder."""
        return f"{self.sha256}{ENDINGS.get(self.media_type, '')}"


def folder_of(where: str) -> Path:
    """Return the folder of a book's files; it need not be there yet."""
    if is_address(where):
        return Path(os.environ.get("BONEBENCH_FILES") or f"{database_of(where)}-files")
    path = Path(where)
    return path.with_name(f"{path.name.removesuffix('.db')}-files")


def is_hash(text: str) -> bool:
    """Whether this can name a file at all; nothing else ever becomes part of a path."""
    return _HASH.fullmatch(text) is not None


def hash_of(data: bytes) -> str:
    """Return what a file is named by."""
    return hashlib.sha256(data).hexdigest()


def hash_of_file(path: Path) -> str:
    """Return the hash of a file as it lies there."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def is_whole(path: Path, named: Named) -> bool:
    """Whether a file lies there with the content its name promises."""
    return path.is_file() and path.stat().st_size == named.size_bytes and hash_of_file(path) == named.sha256


def put(folder: Path, named: Named, data: bytes, small: bytes | None = None) -> None:
    """Store a file whole, once; one that was altered since is put right. The folder is made with the first."""
    with our_words(str(folder)):
        folder.mkdir(exist_ok=True)
        if not is_whole(folder / named.name, named):
            _write(folder / named.name, data)
        if small is not None:
            put_small(folder, named, small)


def put_small(folder: Path, named: Named, data: bytes) -> None:
    """Keep the small picture beside its large one; it can be made again at any time, so nothing is lost without it."""
    with our_words(str(folder)):
        (folder / SMALL).mkdir(exist_ok=True)
        if not (folder / SMALL / named.name).is_file():
            _write(folder / SMALL / named.name, data)


def _write(path: Path, data: bytes) -> None:
    """Write beside, sync, rename, sync the folder: the name is there with all of its content, or not at all."""
    handle, building = tempfile.mkstemp(prefix=".", suffix=".building", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(building).replace(path)
        _sync_folder(path.parent)
    finally:
        Path(building).unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    # Windows opens no folders, and keeps its names by itself.
    with suppress(PermissionError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def erase(folder: Path, named: Named) -> None:
    """Remove a file and its small picture."""
    with our_words(str(folder)):
        for path in (folder / named.name, folder / SMALL / named.name):
            path.unlink(missing_ok=True)


def faults(folder: Path, listed: Iterable[Named], erased: Iterable[Named] = ()) -> Iterator[str]:
    """Say which of the files that should be there are missing or were altered, and which should be gone."""
    for named in erased:
        if (folder / named.name).exists():
            yield f"{named.name} was erased and still lies in {folder}: delete it"
    for named in listed:
        path = folder / named.name
        if not path.is_file():
            yield f"{named.name} is missing from {folder}: copy it back from a backup"
        elif not is_whole(path, named):
            yield f"{named.name} in {folder} was altered or is damaged: copy it back from a backup"


def carry(source: Path, to: Path, listed: Iterable[Named]) -> tuple[str, ...]:
    """Copy the files a book lists to another folder, and return the names of those that are not there or not whole to be copied."""
    lost = []
    for named in listed:
        path = source / named.name
        if is_whole(to / named.name, named):
            continue
        data = path.read_bytes() if path.is_file() else b""
        if hash_of(data) == named.sha256:
            put(to, named, data)
        else:
            lost.append(named.name)
    return tuple(lost)
