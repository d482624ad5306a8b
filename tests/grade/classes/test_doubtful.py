"""Cells in doubt: alike ones together, those that were read apart from those that were not."""

from __future__ import annotations

from fractions import Fraction

from problemgen.exact.digits import read_written
from problemgen.grade.classes.doubtful import DoubtfulCells
from problemgen.model.answers import ProblemKey, StudentKey
from problemgen.model.fixed import Datum
from problemgen.model.own_data import Flag, OwnKey, OwnReading, OwnValue
from problemgen.model.quantity import Quantity
from problemgen.model.verdict import PartResult, StudentResult

ONE = Fraction(1)
KEY = StudentKey("s", "S", "", "", ())


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
    cells.take(KEY, result("s1", ("1a", "unread", "see  B", "", "", ""), ("1b", "unread", "see b", "", "", "")))
    cells.take(KEY, result("s2", ("1b", "unread", "See b ", "", "", ""), ("1a", "right", "5 g", "5 g", "", "")))
    (one,) = cells.unread
    assert (one.written, one.key, one.times, one.is_read) == ("see B", "see b", 3, False)
    assert (one.columns, one.students, one.why) == ({"1a": 1, "1b": 2}, ("s1", "s2"), "No number in see  B.")
    assert cells.doubted == ()


def test_what_was_read_with_a_doubt_is_told_apart_and_grouped_by_its_reason() -> None:
    doubt = "{} can mean {} or {}; it is read as {}."
    cells = DoubtfulCells()
    for student, text in (("s1", "1,234"), ("s2", "5,678"), ("s3", "5,678")):
        other = text.replace(",", "")
        cells.take(KEY, result(student, ("1a", "right", text, text, doubt.format(text, text, other, text), "")))
    assert [(one.written, one.times, one.read) for one in cells.doubted] == [
        ("5,678", 2, {"1a": "5,678"}), ("1,234", 1, {"1a": "1,234"}),
    ]  # fmt: skip
    assert len({one.alike for one in cells.doubted}) == 1
    assert cells.unread == ()


def test_what_somebody_has_decided_is_in_doubt_no_more() -> None:
    cells = DoubtfulCells()
    told = (("1a", "unread", "x", "", "", "Shown on paper"), ("1b", "right", "1", "1", "d", "Yes"))
    cells.take(KEY, result("s1", *told))
    assert (cells.unread, cells.doubted) == ((), ())


def own(wrote: str, datum: Datum | None, reason: str = "", flag: str = "") -> OwnReading:
    """A mass that a student has weighed."""
    key = OwnKey("1.salt.mass", "the mass of salt", "", OwnValue("salt.mass", Quantity("mass", "salt"), "g", ONE, ONE))
    return OwnReading(key, wrote, datum, reason, (Flag("odd", flag),) if flag else ())


def test_a_value_of_ones_own_is_in_doubt_and_not_the_answers_that_wait_for_it() -> None:
    cells = DoubtfulCells()
    weighed = Datum(read_written("1234"), "g")
    for student, reading in (
        ("s1", own("lost it", None, "No number is found.")),
        ("s2", own("1,234", weighed, flag="Look again.")),
        ("s3", own("2.1 g", weighed)),
        ("s4", own("-", None)),
    ):
        key = StudentKey(student, "S", "", "", (ProblemKey("p1", "t", {}, {}, (reading,)),))
        waits = PartResult("p1", "1a", "1a", "unread", "own-data-unread", "Waits.", (), ONE, ONE, "5 g", "")
        cells.take(key, StudentResult(student, student, "", "", (waits,)))
    (unread,), (doubted,) = cells.unread, cells.doubted
    assert (unread.written, unread.columns, unread.students) == ("lost it", {"1.salt.mass": 1}, ("s1",))
    assert (unread.is_own, doubted.is_own) == (True, True)
    assert (doubted.written, doubted.read, doubted.why) == ("1,234", {"1.salt.mass": "1234 g"}, "Look again.")
