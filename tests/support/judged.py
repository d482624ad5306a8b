"""Answers to the small set, right and judged."""

from __future__ import annotations

from collections.abc import Callable

from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.verdict import PartResult, StudentResult

__all__ = ["RIGHT", "Judge", "Key", "Keys", "parts", "verdicts"]

Judge = Callable[..., StudentResult]
Key = tuple[KeyHead, StudentKey]
Keys = Callable[[str], Key]

RIGHT = {
    "1a": "2.500 mmol",
    "1b": "2.000 mmol",
    "1c": "1.250 mmol",
    "1d": "2.000 mmol",
    "1e": "silver nitrate",
    "1f": "414.7 mg",
    "1g": "0.750 mmol",
    "2a": "4.05 g",
    "2b": "0.0459 mol",
    "2c": "5.98 g",
    "2d": "70.2 %",
}
"""The right answers to the small set, by column."""


def parts(result: StudentResult) -> dict[str, PartResult]:
    """The results by column."""
    return {part.label: part for part in result.parts}


def verdicts(result: StudentResult, labels: str) -> str:
    """The verdicts of some columns, in order."""
    found = parts(result)
    return " ".join(found[label].verdict for label in labels.split())
