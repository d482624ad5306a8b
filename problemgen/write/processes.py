"""Processes that work for this one, and end with it, however it ends."""

from __future__ import annotations

import gc
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
from multiprocessing.connection import wait
from typing import Any, ParamSpec, TypeVar

from problemgen.errors import OutputError
from problemgen.write.endings import ENDINGS, undisturbed

__all__ = [
    "Helpers",
    "end_with_parent",
    "held_back",
    "helpers",
    "packed_once",
    "processors",
    "rarely_collected",
    "rarely_collecting",
    "unpacked",
]

P = ParamSpec("P")
T = TypeVar("T")

_RARELY = 100_000
"""Records made between two looks for garbage; Python's own number is 700."""


class Helpers:
    """Other processes, to which work is handed."""

    def __init__(self, pool: ProcessPoolExecutor) -> None:
        """Take the pool; `helpers` makes it."""
        self._pool = pool

    def begin(self, count: int) -> None:
        """Start so many of them, which otherwise start as work is handed to them. Raises as `submit` does."""
        for _ in range(count):
            self.submit(_idle)

    def submit(self, function: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Have a function called in one of them. Raises BrokenProcessPool where one was ended from outside."""
        with held_back():
            return self._pool.submit(function, *args, **kwargs)


def processors() -> int:
    """How many processes share the work where nobody says."""
    return os.cpu_count() or 1


def packed_once(data: Any) -> bytes:
    """What all helpers need, packed by this process, to be handed to each call."""
    return pickle.dumps(data)


@lru_cache(maxsize=1)
def unpacked(packed: bytes) -> Any:
    """What `packed_once` packed, in a helper: unpacked with its first call, and kept."""
    return pickle.loads(packed)  # noqa: S301 - from the parent process, and from no file


def rarely_collecting() -> None:
    """Have this process look rarely for garbage that refers to itself: records do not, and looking takes a tenth."""
    gc.set_threshold(_RARELY)


@contextmanager
def rarely_collected() -> Iterator[None]:
    """The same for a while: a caller's process is as it was behind it."""
    before = gc.get_threshold()
    gc.set_threshold(_RARELY)
    try:
        yield
    finally:
        gc.set_threshold(*before)


@contextmanager
def helpers(count: int, start: Callable[..., None] | None = None, arguments: tuple[Any, ...] = ()) -> Iterator[Helpers]:
    """So many processes, in each of which `start` is called first. At the end what is in work is waited for.

    They are spawned, not forked: a process that is forked after Typst ran hangs. They hear no signal that asks for an
    end, which a terminal sends to all of them at once: this process hears it, and they end when it does.

    Raises:
        OutputError: where one of them was ended all the same.
    """
    with held_back():  # the process that keeps track of what they share is started here
        pool = ProcessPoolExecutor(count, multiprocessing.get_context("spawn"), _begin, (start, arguments))
    try:
        yield Helpers(pool)
    except BrokenProcessPool as error:
        raise OutputError("a process that works for this run was ended from outside; start the run again") from error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


@contextmanager
def held_back() -> Iterator[None]:
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


def _idle() -> None:
    """Nothing: a process starts for it."""


def _begin(start: Callable[..., None] | None, arguments: tuple[Any, ...]) -> None:
    end_with_parent()
    if start is not None:
        start(*arguments)


def end_with_parent() -> None:
    """Have this process end when the one that started it does."""
    threading.Thread(target=_wait_for_parent, daemon=True).start()


def _wait_for_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
