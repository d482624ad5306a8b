"""Processes that work for this one, and end with it, however it ends."""

from __future__ import annotations

import multiprocessing
import os
import pickle
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import lru_cache
from importlib import import_module
from importlib.util import find_spec
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from types import TracebackType
from typing import Any, ParamSpec, Self, TypeVar, cast

from problemgen.errors import OutputError
from problemgen.write.endings import ENDINGS, undisturbed

__all__ = ["CallFailed", "Helpers", "Watched", "helpers", "packed_once", "unpacked"]

P = ParamSpec("P")
T = TypeVar("T")


class Helpers:
    """Other processes, to which work is handed."""

    def __init__(self, pool: ProcessPoolExecutor) -> None:
        """Take the pool; `helpers` makes it."""
        self._pool = pool

    def submit(self, function: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Have a function called in one of them. Raises BrokenProcessPool where one was ended from outside."""
        with _held_back():
            return self._pool.submit(function, *args, **kwargs)


def packed_once(data: Any) -> bytes:
    """What all helpers need, packed by this process, to be handed to each call."""
    return pickle.dumps(data)


@lru_cache(maxsize=1)
def unpacked(packed: bytes) -> Any:
    """What `packed_once` packed, in a helper: unpacked with its first call, and kept."""
    return pickle.loads(packed)  # noqa: S301 - from the parent process, and from no file


@contextmanager
def helpers(count: int, start: Callable[..., None] | None = None, arguments: tuple[Any, ...] = ()) -> Iterator[Helpers]:
    """So many processes, in each of which `start` is called first. At the end what is in work is waited for.

    They are spawned, not forked: a process that is forked after Typst ran hangs. They hear no signal that asks for an
    end, which a terminal sends to all of them at once: this process hears it, and they end when it does.

    Raises:
        OutputError: where one of them was ended all the same.
    """
    with _held_back():  # the process that keeps track of what they share is started here
        pool = ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begin, (start, arguments))
    try:
        yield Helpers(pool)
    except BrokenProcessPool as error:
        raise OutputError("a process that works for this run was ended from outside; start the run again") from error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


@contextmanager
def _held_back() -> Iterator[None]:
    """Start processes that are born deaf to signals; this one hears what came in the meantime afterwards."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    with undisturbed():  # another thread may take the signal
        before = signal.pthread_sigmask(signal.SIG_BLOCK, ENDINGS)
        try:
            yield
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin(start: Callable[..., None] | None, arguments: tuple[Any, ...]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    if start is not None:
        start(*arguments)


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


_LIMITS = "resource"
_START_SECONDS = 60
"""Within which a process has started: it takes one or two on a machine that has nothing else to do."""


class CallFailed(Exception):  # noqa: N818 - it says what became of a call
    """A call that was ended, or ended its process; the text says why."""


class Watched:
    """A process for calls that may take for ever or bring it down, as a context.

    One that takes longer than `seconds`, or more than `memory` bytes where the system can limit these, is ended; the
    call after it has a new process. What the calls take and give has to be such as can be handed over.
    """

    def __init__(self, seconds: float, memory: int) -> None:
        """Nothing starts before the first call."""
        self._seconds, self._memory = seconds, memory
        self._process: BaseProcess | None = None
        self._connection: Connection[Any, Any] | None = None

    def __enter__(self) -> Self:
        """The process to be."""
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        """End it."""
        self._end()

    def call(self, function: Callable[P, T], *args: P.args, **keywords: P.kwargs) -> T:
        """What a function gives there.

        Raises:
            CallFailed: where it takes too long or too much memory, or the process ends under it.
        """
        connection = self._connection or self._started()
        try:
            connection.send((function, args, keywords))
            reason, given = connection.recv() if connection.poll(self._seconds) else (self._too_long, None)
        except (EOFError, OSError):
            reason, given = "it ended the program that reads it", None
        if reason:
            self._end()
            raise CallFailed(reason)
        return cast("T", given)

    @property
    def _too_long(self) -> str:
        return f"it takes longer than {self._seconds:g} seconds"

    def _started(self) -> Connection[Any, Any]:
        context = multiprocessing.get_context("spawn")
        mine, theirs = context.Pipe()
        with _held_back():
            self._process = context.Process(target=_serve, args=(theirs, self._memory), daemon=True)
            self._process.start()
        theirs.close()
        self._connection = mine
        if not mine.poll(_START_SECONDS):
            self._end()
            raise OutputError("a process that works for this run did not start; start the run again")
        mine.recv()
        return mine

    def _end(self) -> None:
        if self._connection is not None:
            self._connection.close()
        if self._process is not None:
            self._process.kill()
            self._process.join()
        self._process = self._connection = None


def _serve(connection: Connection[Any, Any], memory: int) -> None:
    """Answer calls until the other end is closed."""
    _begin(None, ())
    _limit(memory)
    connection.send(True)
    while True:
        try:
            function, args, keywords = connection.recv()
        except EOFError:
            return
        try:
            told = "", function(*args, **keywords)
        except MemoryError:
            told = "it takes too much memory", None
        connection.send(told)


def _limit(memory: int) -> None:
    """Let this process have no more memory than that beside what its libraries have taken."""
    if find_spec(_LIMITS) is not None:  # Windows has no such limits
        system: Any = import_module(_LIMITS)
        system.setrlimit(system.RLIMIT_DATA, (memory, memory))
