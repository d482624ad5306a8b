"""Cells in doubt: alike ones together, those that were read apart from those that were not."""

from __future__ import annotations

from fractions import Fraction

from problemgen.grade.classes.doubtful import DoubtfulCells
from problemgen.model.verdict import PartResult, StudentResult

ONE = Fraction(1)


def result(student: str, *parts: tuple[str, str, str, str, str, str]) -> StudentResult:
    """A student's parts: label, verdict, what was written, what was read, the doubt, the decision."""
    results = tuple(
        PartResult("p1", label, label, verdict, "r", f"No number in {wrote}.", (), ONE, ONE, wrote, read,
                   doubt=doubt, decision=decision)
        for label, verdict, wrote, read, doubt, decision in parts
    )  # fmt: skip
    return StudentResult(student, student, "", "", results)


def test_what_is_written_alike_is_one() -> None:
    cells = DoubtfulCells()
    cells.take(result("s1", ("1a", "unread", "see  B", "", "", ""), ("1b", "unread", "see b", "", "", "")))
    cells.take(result("s2", ("1b", "unread", "See b ", "", "", ""), ("1a", "right", "5 g", "5 g", "", "")))
    (one,) = cells.unread
    assert (one.written, one.key, one.times, one.is_read) == ("see B", "see b", 3, False)
    assert (one.columns, one.students, one.why) == ({"1a": 1, "1b": 2}, ("s1", "s2"), "No number in see  B.")
    assert cells.doubted == ()


def test_what_was_read_with_a_doubt_is_told_apart_and_grouped_by_its_reason() -> None:
    doubt = "{} can mean {} or {}; it is read as {}."
    cells = DoubtfulCells()
    for student, text in (("s1", "1,234"), ("s2", "5,678"), ("s3", "5,678")):
        other = text.replace(",", "")
        cells.take(result(student, ("1a", "right", text, text, doubt.format(text, text, other, text), "")))
    assert [(one.written, one.times, one.read) for one in cells.doubted] == [
        ("5,678", 2, {"1a": "5,678"}), ("1,234", 1, {"1a": "1,234"}),
    ]  # fmt: skip
    assert len({one.alike for one in cells.doubted}) == 1
    assert cells.unread == ()


def test_what_somebody_has_decided_is_in_doubt_no_more() -> None:
    cells = DoubtfulCells()
    cells.take(result("s1", ("1a", "unread", "x", "", "", "Shown on paper"), ("1b", "right", "1", "1", "d", "Yes")))
    assert (cells.unread, cells.doubted) == ((), ())
