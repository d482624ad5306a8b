"""Remarks on rows: those of a kind one by one while they are few, and the rest of the kind in one line."""

from __future__ import annotations

from collections.abc import Iterator

__all__ = ["RowRemarks"]

_FEW = 50
"""Remarks of one kind that are told in full: more, and the file as such is at fault, which the first ones show."""
_RUNS = 100
"""Runs of lines that one remark names."""


class RowRemarks:
    """The remarks on the rows of one file. `told` are those that stand by themselves, in order."""

    def __init__(self, file: str) -> None:
        """Start; `file` is what a remark begins with, "" where there is one file only."""
        self._file = file
        self._counts: dict[str, int] = {}
        self._runs: dict[str, list[list[int]]] = {}
        self.told: list[str] = []

    def add(self, kind: str, line: int, text: str) -> None:
        """Keep a remark on a row; `kind` says in few words what all remarks of its kind say."""
        self._counts[kind] = self._counts.get(kind, 0) + 1
        if self._counts[kind] <= _FEW:
            self.told.append(f"{self._file}line {line}: {text}")
            return
        runs = self._runs.setdefault(kind, [])
        if runs and line - runs[-1][1] <= 1:
            runs[-1][1] = line
        else:
            runs.append([line, line])

    def rest(self) -> Iterator[str]:
        """A line for each kind of which not all was told."""
        for kind, runs in self._runs.items():
            shown = ", ".join(f"{first}-{last}" if last > first else f"{first}" for first, last in runs[:_RUNS])
            more = ", …" if len(runs) > _RUNS else ""
            yield f"{self._file}lines {shown}{more}: {self._counts[kind] - _FEW:,} more remarks like these: {kind}"
