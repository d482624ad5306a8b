"""What is kept of each result: points and truths side by side, mistakes by title, and nothing of those who are away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import permutations

import pytest

from problemgen.grade.classes.record import ClassRecord
from problemgen.model.policy import Attempts, Counts
from tests.support.invented_class import Invented, head, record_of, result_of


def test_points_and_truths_stand_side_by_side() -> None:
    record = record_of([Invented("s1", (1, 0.5, 0, 1, 1), size=3), Invented("s2", (0, 1, 1, 0, 0), limiting="oxide")])
    salts = record.variants["p1", "salts"]
    assert list(salts.rows) == [0, 1]
    assert list(salts.parts["b"].points) == [1, 2]
    assert list(salts.parts["b"].of) == [2, 2]
    assert list(salts.parts["b"].values) == [3, 1]
    assert salts.parts["b"].answers == ["", ""]
    assert salts.parts["c"].answers == ["salt", "oxide"]
    assert [math.isnan(value) for value in salts.parts["c"].values] == [True, True]
    assert (list(record.earned), list(record.of)) == ([5, 3], [7, 7])


def test_a_part_without_a_truth_has_no_number() -> None:
    record = ClassRecord(head())
    key, result = result_of(Invented("s1", [1] * 5))
    record.take(replace(key, problems=tuple(replace(one, truths={}) for one in key.problems)), result)
    salts = record.variants["p1", "salts"]
    assert math.isnan(salts.parts["a"].values[0])
    assert salts.parts["c"].answers == [""]


def test_who_handed_nothing_in_is_only_listed() -> None:
    record = record_of([Invented("s1", [0] * 5, handed_in=False, verdicts={"1a": "unread"})])
    assert [person.student for person in record.absent] == ["s1"]
    assert (record.people, list(record.earned), record.variants, record.unread) == ([], [], {}, [])


@pytest.mark.parametrize(
    ("verdict", "reason", "title"),
    [
        ("slip", "power-of-ten:-3", "Slip of a unit or a power of ten"),
        ("slip", "sign", "Wrong sign"),
        ("unit", "wrong_dimension", "A unit of another kind of quantity"),
        ("rounded", "rounded-too-far", "Rounded too early or too far"),
        ("wrong", "no-match", None),
        ("right", "in-window", None),
        ("follows", "follow-through", None),
    ],
)
def test_slips_have_titles_of_their_own(verdict: str, reason: str, title: str | None) -> None:
    record = ClassRecord(head())
    key, result = result_of(Invented("s1", [1] * 5))
    changed = replace(result.parts[0], verdict=verdict, reason=reason)
    record.take(key, replace(result, parts=(changed, *result.parts[1:])))
    assert record.mistakes == ({title: [(0, "1a")]} if title else {})


def attempts(record: ClassRecord, order: Sequence[int]) -> None:
    """Two students with three attempts each: the second is the best; of the third, one is as good and one is unread."""
    shares = {1: [0] * 5, 2: [1] * 5, 3: [1, 1, 1, 0, 1]}
    for number in order:
        for student in ("s1", "s2"):
            again = student == "s1" and number == 3
            one = Invented(
                student,
                [1] * 5 if again else shares[number],
                template="second" if number == 1 else "first",
                verdicts={"2a": "unread"} if number == 3 and not again else {},
                mistakes={"1a": ("ratio",)} if number == 1 else {},
                size=number,
            )
            key, result = result_of(one)
            record.take(replace(key, attempt=number), replace(result, attempt=number))


@pytest.mark.parametrize("order", list(permutations((1, 2, 3))))
@pytest.mark.parametrize(("counts", "of_each"), [("last", (3, 3)), ("best", (2, 2)), ("mean", (3, 3))])
def test_the_attempt_that_counts_is_kept_in_whatever_order_they_come(
    order: tuple[int, ...], counts: Counts, of_each: tuple[int, int]
) -> None:
    record = ClassRecord(replace(head(), attempts=Attempts(3, counts)))
    attempts(record, order)
    record.settle()
    record.settle()
    assert [person.student for person in record.people] == ["s1", "s2"]
    assert list(record.variants) == [("p1", "salts"), ("p2", "first")]
    for variant in record.variants.values():
        assert list(variant.rows) == [0, 1]
        assert list(variant.parts["a"].values) == list(of_each)
        assert len(variant.parts["b"].points) == len(variant.parts["b"].blank) == 2
    assert list(record.earned) == ([7, 6] if counts != "best" else [7, 7])
    assert record.mistakes == {}
    assert [(row, one.person.student) for row, one in record.unread] == ([] if counts == "best" else [(1, "s2")])


def test_mistakes_go_by_what_they_are_called() -> None:
    record = record_of([Invented("s1", [0] * 5, mistakes={"1a": ("ratio", "density"), "1b": ("ratio", "ratio")})])
    assert record.mistakes == {"the ratio forgotten": [(0, "1a"), (0, "1b")], "the density forgotten": [(0, "1a")]}
