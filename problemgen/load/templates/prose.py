"""An author's prose: CommonMark with placeholders for given values. Checked when a template is read."""

from __future__ import annotations

from collections.abc import Iterable

from problemgen.load.fault_log import FaultLog
from problemgen.model.quantity import Quantity
from problemgen.model.story import StoryError, check_story

__all__ = ["check_prose"]

_HINT = "Only placeholders for given values are filled in; loops, conditions and sums are not."


def check_prose(faults: FaultLog, story: str, given: Iterable[Quantity] = ()) -> None:
    """Keep a fault for prose that is too long, or has a placeholder that stands for no given value."""
    try:
        check_story(story, given)
    except StoryError as error:
        faults.add("story", f"line {error.line}: {error.found}", error.expected, _HINT)
