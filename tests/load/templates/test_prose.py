"""Prose is looked at when a template is read."""

from __future__ import annotations

import pytest

from problemgen.errors import Fault
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.prose import check_prose
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


HINT = "Only placeholders for given values are filled in; loops, conditions and sums are not."


@pytest.mark.parametrize(
    ("story", "found"),
    [
        ("{{ x", "line 1: '{{ x'"),
        ("one\n{% if %}\nthree", "line 2: '{% if %}'"),
        ("{# remark #}", "line 1: '{# remark #}'"),
        ("{{ given.salt.mass }} {{ given.salt.volume }}", "line 1: '{{ given.salt.volume }}'"),
        ("{{ given.salt }}", "line 1: '{{ given.salt }}'"),
        ("{{ given.salt.mass.real }}", "line 1: '{{ given.salt.mass.real }}'"),
        ("{{ given['salt']['mass'] }}", "line 1: \"{{ given['salt']['mass'] }}\""),
        ("{{ given.salt.mass | upper }}", "line 1: '{{ given.salt.mass | upper }}'"),
        ("{% for i in range(99999) %}{% for j in range(99999) %}x{% endfor %}{% endfor %}",
         "line 1: '{% for i in range(99999) %}{% for j in r'"),
        ("{{ range(10**9) | list }}", "line 1: '{{ range(10**9) | list }}'"),
        ("{{ 'x' * 10**10 }}", "line 1: \"{{ 'x' * 10**10 }}\""),
        ("{% macro f() %}{{ f() }}{% endmacro %}{{ f() }}", "line 1: '{% macro f() %}{{ f() }}{% endmacro %}{{'"),
        ("{{ " + "(" * 5000, "line 1: '{{ " + "(" * 37 + "'"),
        ("{{" * 5000, "line 1: '" + "{{" * 20 + "'"),
    ],
)  # fmt: skip
def test_what_is_no_placeholder_is_one_fault_with_its_line(story: str, found: str) -> None:
    expected = Fault("t.toml", "story", found, "{{ given.salt.mass }}", HINT)
    assert faults(story, Quantity("mass", "salt")) == (expected,)


def test_a_story_ends_somewhere() -> None:
    assert faults("a" * 10_000) == ()
    assert faults("a" * 10_001) == (
        Fault("t.toml", "story", "line 1: a story of 10,001 characters", "at most 10,000", HINT),
    )


def test_a_story_is_text() -> None:
    (fault,) = faults("one\ntwo\0")
    assert (fault.found, fault.expected) == ("line 2: the control character '\\x00'", "text")


def test_where_nothing_is_given_no_placeholder_is_expected() -> None:
    (fault,) = faults("{{ given.salt.mass }}")
    assert fault.expected == "no placeholder: nothing is given"
