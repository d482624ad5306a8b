"""The shape of an outlet."""

from __future__ import annotations

from typing import Protocol

from problemgen.model.answers import StudentKey
from problemgen.model.verdict import StudentResult

__all__ = ["Outlet"]


class Outlet(Protocol):
    """Takes the results of a class one by one, and closes when all have been taken."""

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Take one student's result."""

    def close(self) -> None:
        """Write what needs the whole class."""
