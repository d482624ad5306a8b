"""The faults of a file, kept while it is read, so that all of them are shown at once.

A reader takes a log and nothing else to say what is wrong. It goes on reading where it can, and stops where what is
left to read would only repeat a fault.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from typing import NoReturn, TypeVar

from problemgen.errors import Fault, FaultsError

__all__ = ["FaultLog", "nearest"]

T = TypeVar("T")

_NEAR = 0.6
"""The least likeness of a name that is suggested: difflib's own default, which finds two letters wrong in six."""


class FaultLog:
    """The faults found so far, those of other files that this one names among them.

    >>> log = FaultLog("set.toml")
    >>> log.at("problem", 1).unknown("template", "gasses/burning", ["gases/burning", "gases/mixing"])
    >>> for fault in log.faults:
    ...     print(fault)
    set.toml: problem.1.template: found 'gasses/burning'; expected one of gases/burning, gases/mixing. \
Did you mean 'gases/burning'?
    """

    def __init__(self, file: str, place: str = "", kept: dict[Fault, None] | None = None) -> None:
        """An empty log for a file; `place` is put before each key, `kept` is what the log shares with others."""
        self.file = file
        self._place = place
        self._kept: dict[Fault, None] = {} if kept is None else kept

    def __len__(self) -> int:
        """How many faults there are."""
        return len(self._kept)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """The faults, each once, in the order in which they were found."""
        return tuple(self._kept)

    def at(self, *keys: str | int) -> FaultLog:
        """The same log for what stands below a key."""
        return FaultLog(self.file, self._path(*keys), self._kept)

    def of(self, file: str) -> FaultLog:
        """The same log for another file."""
        return FaultLog(file, "", self._kept)

    def add(self, key: str, found: str, expected: str, hint: str = "") -> None:
        """Keep a fault; the key "" is the place itself."""
        self._kept[self._fault(key, found, expected, hint)] = None

    def unknown(self, key: str, name: str, known: Iterable[str], expected: str = "") -> None:
        """Keep the fault that a name is none of the known; the nearest is suggested, `expected` describes them."""
        names = list(known)
        self.add(key, repr(name), expected or f"one of {', '.join(names)}", nearest(name, names))

    def keep(self, faults: Iterable[Fault]) -> None:
        """Keep faults that somebody else has told."""
        self._kept |= dict.fromkeys(faults)

    def tried(self, read: Callable[[], T]) -> T | None:
        """What a reader returns; None where it raises FaultsError, whose faults are kept."""
        try:
            return read()
        except FaultsError as error:
            self.keep(error.faults)
            return None

    def stop(self) -> None:
        """Raise FaultsError with all faults, if there are any."""
        if self._kept:
            raise FaultsError(self.faults)

    def refuse(self, key: str, found: str, expected: str, hint: str = "") -> NoReturn:
        """Raise FaultsError with all faults and this one."""
        raise FaultsError([*self._kept, self._fault(key, found, expected, hint)])

    def _fault(self, key: str, found: str, expected: str, hint: str) -> Fault:
        return Fault(self.file, self._path(key), found, expected, hint)

    def _path(self, *keys: str | int) -> str:
        return ".".join(str(key) for key in (self._place, *keys) if key != "")


def nearest(found: str, known: Iterable[str]) -> str:
    """A hint that names the nearest known word; "" where none is near."""
    close = difflib.get_close_matches(found, list(known), n=1, cutoff=_NEAR)
    return f"Did you mean {close[0]!r}?" if close else ""
