"""Long work in a process of its own, which tells how far it is, and can be asked to give up."""

from __future__ import annotations

import multiprocessing
import os
import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal, TypeAlias

from problemgen.errors import OutputError, ProblemgenError
from problemgen.write.processes import end_with_parent, held_back

__all__ = ["Background", "Message"]

Message: TypeAlias = tuple[Literal["progress", "done", "refused", "cancelled"], Any]
"""What comes of it: (what, done, total); in the end what the work gave, or a ProblemgenError, or None."""

_OFTEN = 0.1
"""Seconds between two messages of progress: nobody reads faster."""

_GRACE = 5.0
"""Seconds that work has to give up by itself. What a killed run leaves behind, the next one clears (`files.settle`)."""


class Background:
    """A function at work, in a folder, with what it is given and `progress` behind; all of it can be pickled."""

    def __init__(self, folder: Path, work: Callable[..., Any], *given: Any) -> None:
        """Start. The process hears no signal of the terminal's, and ends when this one does."""
        spawned = multiprocessing.get_context("spawn")  # a process that is forked after Typst ran hangs
        self._pipe, theirs = spawned.Pipe()
        self._process = spawned.Process(target=_begin, args=(theirs, str(folder), work, given))
        with held_back():
            self._process.start()
        theirs.close()
        self._until: float | None = None

    def cancel(self) -> None:
        """Ask it to give up; it is ended where it does not listen."""
        if self._until is None:
            self._until = time.monotonic() + _GRACE
            with suppress(OSError):
                self._pipe.send("give up")

    def messages(self) -> Iterator[Message]:
        """What it tells, to its end, which is the last message."""
        told: Message = ("progress", ("", 0, 0))
        while told[0] == "progress":
            told = self._next()
            yield told
        self._process.join(_GRACE)
        self._end()

    def _next(self) -> Message:
        while not self._pipe.poll(_OFTEN):
            if self._until is not None and time.monotonic() > self._until:
                return ("cancelled", None)
        try:
            told: Message = self._pipe.recv()
        except (EOFError, OSError):
            reason = "a process that works for the desk was ended from outside; start the work again"
            return ("cancelled", None) if self._until is not None else ("refused", OutputError(reason))
        return told

    def _end(self) -> None:
        if self._process.is_alive():
            self._process.kill()
            self._process.join()
        self._pipe.close()


class _GivenUp(BaseException):
    """Somebody has asked the work to give up."""


def _begin(pipe: Connection, folder: str, work: Callable[..., Any], given: tuple[Any, ...]) -> None:
    end_with_parent()
    os.chdir(folder)
    last = 0.0

    def progress(what: str, done: int, total: int) -> None:
        nonlocal last
        if pipe.poll():
            raise _GivenUp
        if done in (0, total) or time.monotonic() - last > _OFTEN:
            last = time.monotonic()
            pipe.send(("progress", (what, done, total)))

    try:
        pipe.send(("done", work(*given, progress)))
    except _GivenUp:
        pipe.send(("cancelled", None))
    except ProblemgenError as error:
        pipe.send(("refused", error))
    except OSError as error:  # the system's refusal, where nobody else had more to say of it
        pipe.send(
            ("refused", OutputError(f"{error.filename or 'the system'}: {(error.strerror or str(error)).lower()}"))
        )
