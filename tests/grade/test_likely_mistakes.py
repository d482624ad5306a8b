"""The first look rules out no mistake that an answer shows, and lets no pair through that is likely by chance."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.grade.bench import EXACT, Bench
from problemgen.grade.findings import Said
from problemgen.grade.likely_mistakes import likely_pairs, likely_singles, reached_from
from problemgen.plan.evaluate import mistaken_windows
from tests.support.judged import Keys


def _bench(keys: Keys, number: int) -> Bench:
    head, key = keys("")
    problem = key.problems[number]
    return Bench(head.templates[problem.template], problem, head.policy, head.decimal_mark)


@pytest.mark.parametrize("number", [0, 1])
def test_what_a_mistake_leads_to_is_looked_at(keys: Keys, number: int) -> None:
    bench = _bench(keys, number)
    plan, looked_at = bench.template.plan, 0
    for mistake in plan.mistakes:
        wrong = mistaken_windows(plan, [mistake], bench.right, bench.least_figures, EXACT)
        for part in bench.template.parts:
            if part.asked.form != "number" or wrong[part.asked.quantity.id] == bench.right[part.asked.quantity.id]:
                continue
            window = bench.answer(Said(part.asked, Fraction(1), 99, 4), wrong)
            for value in (window.value, window.low, window.high):
                if window.value and window.value != bench.answer(Said(part.asked, value, 99, 4), bench.right).value:
                    likely = likely_singles(bench.reached, plan, Said(part.asked, value, 99, 4), [])
                    assert mistake in likely
                    looked_at += 1
    assert looked_at > 30


def _said(bench: Bench, label: str, value: str, written: int) -> Said:
    part = next(part for part in bench.template.parts if part.label == label)
    return Said(part.asked, Fraction(value), 99, written)


@pytest.mark.parametrize(
    ("label", "value", "written", "found"),
    [
        ("b", "0.0474", 3, 1),  # what a pair leads to
        ("b", "0.04", 1, 0),  # with one figure it may be anything
        ("b", "0.0459", 3, 0),  # the right value
        ("b", "0", 1, 0),
        ("b", "1e400", 3, 0),
    ],
)
def test_pairs_are_let_through_where_chance_is_small(
    keys: Keys, label: str, value: str, written: int, found: int
) -> None:
    bench = _bench(keys, 1)
    assert len(likely_pairs(bench.reached, _said(bench, label, value, written), [])) == found


def test_a_pair_has_to_agree_with_what_was_answered_before(keys: Keys) -> None:
    bench = _bench(keys, 1)
    said = _said(bench, "b", "0.0474", 3)
    assert likely_pairs(bench.reached, said, [_said(bench, "a", "6.17", 3)]) != []
    assert likely_pairs(bench.reached, said, [_said(bench, "a", "4.05", 3)]) == []


def test_pairs_of_one_value_stand_together(keys: Keys) -> None:
    bench = _bench(keys, 1)
    ((first, *others),) = likely_pairs(reached_from(bench.template.plan, bench.right), _said(bench, "d", "84.0", 3), [])
    assert len(others) == 2
    assert {mistake.id.partition(":")[0] for mistake in first} == {"density-forgotten", "other-molar-mass"}
