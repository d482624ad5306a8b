"""What ends a run from outside: the keyboard, the system, a terminal that is closed."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

__all__ = ["ENDINGS", "HEARD", "WRITTEN", "undisturbed"]

ENDINGS = tuple(
    getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)
)  # Windows has no SIGHUP
"""The signals that ask a process to end, and can be heard; SIGKILL cannot."""

HEARD: list[int] = []
"""The signals that have interrupted this run. Nothing is put into place after one, even where an exception is lost."""

WRITTEN: list[Path] = []
"""The folders that this run has written as a whole: what is told where it is ended behind that."""


@contextmanager
def undisturbed() -> Iterator[None]:
    """Do something short to its end: a signal that asks for the end of the run is heard behind it.

    Only the main thread hears signals; in another one, nothing has to be held back.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in ENDINGS}
    heard: list[int] = []
    try:
        for number, handler in before.items():
            if handler not in (None, signal.SIG_IGN):  # None: not ours to put back
                signal.signal(number, lambda came, _: heard.append(came))
        yield
    finally:
        for number, handler in before.items():
            if handler is not None:
                signal.signal(number, handler)
        for number in dict.fromkeys(heard):
            signal.raise_signal(number)
