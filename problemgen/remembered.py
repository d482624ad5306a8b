"""Results of pure functions that one run leaves to the next: a run that finds them there loads no library for them.

A table knows nothing of files. Who runs a command says where the tables' lines come from (`begin`), and keeps what is
new at its end (`problemgen.pipeline.keeping`); without that nothing is remembered. What stands in a line is data, never
code: JSON.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from functools import wraps
from typing import Any, Generic, ParamSpec, TypeAlias, TypeVar

__all__ = ["Lines", "Table", "begin", "end", "learn", "news"]

Lines: TypeAlias = Mapping[str, str]
"""What a table remembers, JSON by key, the oldest first."""

P = ParamSpec("P")
R = TypeVar("R")

_TABLES: dict[str, Table[Any]] = {}
_SOURCES: list[Callable[[str], Lines]] = []
"""Where the lines of a table come from, by its name: one, or none while nothing is remembered."""

_DAMAGES = (ValueError, TypeError, KeyError, IndexError, AttributeError)
"""What reading a line may raise that another program has written."""


def begin(source: Callable[[str], Lines]) -> None:
    """Forget all; each table takes its lines from there when it is first asked for one."""
    end()
    _SOURCES.append(source)


def end() -> None:
    """Forget all, and remember nothing from now on."""
    _SOURCES.clear()
    for table in _TABLES.values():
        table.forget()


def news() -> dict[str, Lines]:
    """The lines of each table to which some were added; they count as known from now on."""
    return {name: table.told() for name, table in _TABLES.items() if table.is_new}


def learn(lines: Mapping[str, Lines]) -> None:
    """Take in what another process has told by `news`."""
    for name, found in lines.items():
        _TABLES[name].learn(found)


class Table(Generic[R]):
    """Results by what they are results of: `plain` makes data of a result, `read` the result again; `most` bounds the
    lines, of which the oldest go first.
    """

    def __init__(self, name: str, plain: Callable[[R], Any], read: Callable[[Any], R], most: int) -> None:
        """Take a place among the tables."""
        self._name, self._plain, self._read, self._most = name, plain, read, most
        self._lines: dict[str, str] | None = None
        self.is_new = False
        _TABLES[name] = self

    def forget(self) -> None:
        """Ask the source again for the lines."""
        self._lines, self.is_new = None, False

    def told(self) -> Lines:
        """The lines, which count as known from now on."""
        self.is_new = False
        return dict(self._known)

    def learn(self, lines: Lines) -> None:
        """Take in lines that are not there yet."""
        more = {key: line for key, line in lines.items() if key not in self._known}
        self._known.update(more)
        self.is_new = self.is_new or bool(more)
        while len(self._known) > self._most:
            del self._known[next(iter(self._known))]

    def found(self, key: str, make: Callable[[], R], key_now: Callable[[], str] | None = None) -> R:
        """The result at a key: remembered, or made now. Raises what `make` raises, which is not remembered.

        Nor is a result whose key has changed while it was made, as `key_now` tells: a file was written meanwhile. An
        empty key is that of nothing.
        """
        if self.has(key):
            try:
                return self._read(json.loads(self._known[key]))
            except _DAMAGES:
                del self._known[key]
        made = make()
        if _SOURCES and key and (key_now is None or key_now() == key):
            self.learn({key: json.dumps(self._plain(made), separators=(",", ":"))})
        return made

    def has(self, key: str) -> bool:
        """Whether there is a line at a key."""
        return key in self._known

    def remembering(self, function: Callable[P, R]) -> Callable[P, R]:
        """The function, asked once for the same arguments by place: texts, whole numbers, and tuples of these."""

        @wraps(function)
        def asked(*args: P.args, **kwargs: P.kwargs) -> R:
            return self.found(json.dumps(args), lambda: function(*args, **kwargs))

        return asked

    @property
    def _known(self) -> dict[str, str]:
        if self._lines is None:
            self._lines = dict(_SOURCES[0](self._name)) if _SOURCES else {}
        return self._lines
