"""Strangers' files read in processes of their own, which may run out of time or memory, or crash, by themselves."""

from __future__ import annotations

import faulthandler
import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from importlib import import_module
from typing import Any, TypeAlias, TypeVar

from problemgen.write.processes import Helpers, helpers

__all__ = ["ENDED", "apart"]

R = TypeVar("R")
Job: TypeAlias = tuple[Any, ...]

ENDED = "it takes too long to read, too much memory, or breaks what reads it"
"""Why a job was ended, as it is told: which of the three, only the process could have said."""

_WORKERS = 2
_MEMORY = 1 << 32
"""Bytes that a process may ask for: the libraries map one or two thousand million before they read anything."""


def apart(work: Callable[..., R], jobs: Sequence[Job], seconds: float, ended: R) -> Iterator[R]:
    """What `work` makes of each job, its arguments, in the order of the jobs; `ended` for one that ended its process.

    So does every job that takes longer than so many seconds, or more memory than it may. Where a process ends, the jobs
    that were at work are done again, each alone, so that only the one at fault is lost. `work` and the jobs go to other
    processes: they are picklable, `work` raises nothing but MemoryError, and the less its module imports, the sooner a
    process is ready.
    """
    waiting = deque(jobs)
    while waiting:
        running: deque[tuple[Job, Future[R]]] = deque()
        with helpers(min(_WORKERS, len(waiting)), _limit) as pool:
            try:
                while running or waiting:
                    while waiting and len(running) < 3 * _WORKERS:
                        _hand_over(pool, work, waiting, running, seconds)
                    result = running[0][1].result()
                    running.popleft()
                    yield result
            except BrokenProcessPool:
                pass
        for job, _future in running:
            yield _alone(work, job, seconds, ended)


def _hand_over(
    pool: Helpers, work: Callable[..., R], waiting: deque[Job], running: deque[tuple[Job, Future[R]]], seconds: float
) -> None:
    running.append((waiting[0], pool.submit(_timed, work, waiting[0], seconds)))
    waiting.popleft()


def _alone(work: Callable[..., R], job: Job, seconds: float, ended: R) -> R:
    with helpers(1, _limit) as pool:
        try:
            return pool.submit(_timed, work, job, seconds).result()
        except BrokenProcessPool:
            return ended


def _timed(work: Callable[..., R], job: Job, seconds: float) -> R:
    """A process that takes too long ends itself: the clock runs beside Python, which a library may hold up."""
    faulthandler.dump_traceback_later(seconds, exit=True, file=_ERRORS)
    try:
        return work(*job)
    except MemoryError:
        os._exit(1)
    finally:
        faulthandler.cancel_dump_traceback_later()


_ERRORS = 2  # standard error


def _limit() -> None:
    """What a library or the clock says as the process ends is for nobody."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), _ERRORS)
    with suppress(ImportError):  # Windows has no such limits
        resource = import_module("resource")
        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
