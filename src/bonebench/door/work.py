"""Long work beside the pages: each piece in a process of its own, so that it can be stopped, one after the other.

A kind of work is three functions. ``gather`` reads what is needed in one transaction; ``compute``, a function of a module, so that
a new process can find it, takes what was gathered and tells how far it is; ``keep`` writes down what came of it. The book is
never held while it is computed.
"""

import os
import traceback
from collections.abc import Callable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.reduction import ForkingPickler
from threading import Event
from time import monotonic
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from bonebench.errors import BonebenchError
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said
from bonebench.services import jobs
from bonebench.services.jobs import JobCard

if TYPE_CHECKING:
    from bonebench.door.door import Door

# How far it is, in words, and the best there is so far, if stopping now should keep something.
Report = Callable[[float, Said, Any], None]
LISTEN_S = 0.5
NOTHING: tuple[jobs.State, Said] = ("stopped", said("job.stopped", "it was stopped before it had anything"))
BROKE: tuple[jobs.State, Said] = (
    "broken",
    said("job.broke", "it broke off by a fault of the program; what it printed stands where the program was started"),
)


def _read_only(plain: dict[Any, Any]) -> "MappingProxyType[Any, Any]":
    return MappingProxyType(plain)


# What is shipped is kept in tables nobody can write in, which Python does not send to another process by itself.
ForkingPickler.register(MappingProxyType, lambda table: (_read_only, (dict(table),)))
THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of long work. ``keep`` returns what the card of the work shows of the result."""

    name: str
    gather: Callable[[Reading, datetime, Mapping[str, Any]], Any]
    compute: Callable[[Any, Report], Any]
    keep: Callable[[Writing, datetime, Any, Any], Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class _Heard:
    share: float
    words: Said
    so_far: Any


@dataclass(frozen=True, slots=True)
class _Ended:
    result: Any = None
    refused: Said | None = None


def _in_a_process(pipe: Connection, compute: Callable[[Any, Report], Any], gathered: Any) -> None:
    """Do the work and say what came of it; anything that is not raised on purpose ends the process, loudly."""

    def report(share: float, words: Said, so_far: Any) -> None:
        pipe.send(_Heard(share, words, so_far))

    try:
        pipe.send(_Ended(compute(gathered, report)))
    except BonebenchError as fault:
        pipe.send(_Ended(refused=fault.said))


def _loudly(done: "Future[None]") -> None:
    """Print a fault of the thread itself, which nobody waits for; its row is shown as broken off once it is silent."""
    fault = None if done.cancelled() else done.exception()
    if fault is not None:
        traceback.print_exception(fault)


def _queue() -> ThreadPoolExecutor:
    return ThreadPoolExecutor(max_workers=1, thread_name_prefix="long-work")


class Work:
    """What does long work for one open book."""

    def __init__(self, door: "Door", kinds: Mapping[str, Kind]) -> None:
        self._door = door
        self._kinds = kinds
        self._closing = Event()
        self._queue = _queue()
        self._waiting: set[str] = set()

    def start(self, kind: str, asked: Mapping[str, Any]) -> JobCard:
        """Begin a piece of work; while one of its kind goes on, that one is returned instead."""
        door, pen = self._door, self._door.pen()
        with door.book.reading() as tx:
            going = jobs.live(tx, pen.now, kind)
            if going is not None:
                return going
            gathered = self._kinds[kind].gather(tx, pen.now, asked)
        job = pen.new_id()
        with door.book.writing() as tx:
            jobs.begin(tx, job, kind, asked, pen.now)
            card = jobs.job(tx, job, pen.now)
        self._waiting.add(job)
        self._queue.submit(self._do, job, self._kinds[kind], gathered).add_done_callback(_loudly)
        return card

    def close(self) -> None:
        """Stop what goes on and wait for it; what is started afterwards goes on as ever."""
        self._closing.set()
        self._queue.shutdown(wait=True, cancel_futures=True)
        self._waiting.clear()
        self._queue, self._closing = _queue(), Event()

    def _do(self, job: str, kind: Kind, gathered: Any) -> None:
        if job not in self._waiting:
            return  # it was stopped before its turn came
        self._waiting.discard(job)
        # One thread of linear algebra for each process; the variables are read when the new process loads its libraries.
        for name in THREADS:
            os.environ.setdefault(name, "1")
        context = get_context("spawn")
        ours, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_in_a_process, args=(theirs, kind.compute, gathered), daemon=True)
        process.start()
        theirs.close()
        try:
            ended, so_far, stopped = self._listen(job, ours)
        finally:
            process.terminate()
            process.join()
            ours.close()
        self._settle(job, kind, gathered, ended if ended is not None or so_far is None else _Ended(so_far), stopped)

    def _listen(self, job: str, pipe: Connection) -> tuple[_Ended | None, Any, bool]:
        """Follow the work until it ends, is stopped or breaks: how it ended, the best so far, and whether it was stopped."""
        so_far, share, words = None, 0.0, said("job.running", "it has begun")
        written = -LISTEN_S
        while True:
            try:
                message = pipe.recv() if pipe.poll(LISTEN_S) else None
            except EOFError:
                return None, None, False
            if isinstance(message, _Ended):
                return message, so_far, False
            if message is not None:
                share, words, so_far = message.share, message.words, message.so_far or so_far
            if monotonic() - written < LISTEN_S:
                continue
            with self._door.book.writing() as tx:
                stop = jobs.heard(tx, job, share, words, self._door.now())
                self._let_wait(tx)
            if stop or self._closing.is_set():
                return None, so_far, True
            written = monotonic()

    def _let_wait(self, tx: Writing) -> None:
        """Say of those behind that they wait, or nobody would know them from work whose program has ended; stop who should stop."""
        waiting = tuple(self._waiting)
        for job in jobs.still_waiting(tx, waiting, self._door.now()) if waiting else ():
            self._waiting.discard(job)
            jobs.end(tx, job, *NOTHING, now=self._door.now())

    def _settle(self, job: str, kind: Kind, gathered: Any, ended: _Ended | None, stopped: bool) -> None:
        with self._door.book.writing() as tx:
            now = self._door.now()
            if ended is None:
                jobs.end(tx, job, *(NOTHING if stopped else BROKE), now=now)
            elif ended.refused is not None:
                jobs.end(tx, job, "refused", ended.refused, now=now)
            else:
                result = kind.keep(tx, now, gathered, ended.result)
                words = said("job.kept", "it was stopped; the best so far was kept") if stopped else said("job.done", "it is done")
                jobs.end(tx, job, "stopped" if stopped else "done", words, result, now=now)
