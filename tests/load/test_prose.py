"""Prose is looked at when a template is read."""

from __future__ import annotations

import pytest

from problemgen.errors import Fault
from problemgen.load.fault_log import FaultLog
from problemgen.load.prose import check_prose
from problemgen.model.quantity import Quantity


def faults(story: str, *given: Quantity) -> tuple[Fault, ...]:
    log = FaultLog("t.toml")
    check_prose(log, story, given)
    return log.faults


@pytest.mark.parametrize(
    "story", ["", "Plain words.", "Two *lines*\nand {{ given.salt.mass }}.", "100 % { } { not a tag }"]
)
def test_readable_prose_has_no_fault(story: str) -> None:
    assert faults(story, Quantity("mass", "salt")) == ()


@pytest.mark.parametrize(
    ("story", "found"),
    [
        ("{{ x", "line 1: unexpected end of template, expected 'end of print statement'."),
        ("one\n{% if %}", "line 2: Expected an expression, got 'end of statement block'"),
        ("{% nonsense %}", "line 1: Encountered unknown tag 'nonsense'."),
    ],
)
def test_prose_with_a_slip_has_one_fault_with_its_line(story: str, found: str) -> None:
    assert faults(story) == (Fault("t.toml", "story", found, "CommonMark with Jinja2 placeholders"),)


def test_a_placeholder_without_a_value_is_a_fault() -> None:
    (fault,) = faults("Take {{ given.salt.volume }}.", Quantity("mass", "salt"))
    assert str(fault) == (
        "t.toml: story: found 'dict object' has no attribute 'volume'; "
        "expected placeholders for given values, such as {{ given.acetic_anhydride.volume }}"
    )
