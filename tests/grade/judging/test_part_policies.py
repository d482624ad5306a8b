"""Marking by the policy of each part: shares, windows that are widened or replaced, and what follows from them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.load.answers.answers import Answers
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.truths import Truth
from problemgen.model.verdict import PartResult
from tests.support.small_set import HEAD, small_set, write_answers

F = Fraction

Keys = tuple[KeyHead, StudentKey]
KeysOf = Callable[..., Keys]
FIRST = 'template = "chromate"\n'


@pytest.fixture(scope="module")
def keys_of(tmp_path_factory: pytest.TempPathFactory) -> KeysOf:
    """The keys of the small set, with lines for its last problem and the set, or for its first problem."""
    known: dict[tuple[str, str], Keys] = {}

    def keys(more: str = "", first: str = "") -> Keys:
        if (more, first) not in known:
            folder = tmp_path_factory.mktemp("set")
            loaded = small_set(folder, more, head=HEAD.replace(FIRST, FIRST + first))
            with Answers(write_answers(folder, loaded)) as answers:
                known[more, first] = (answers.head, answers.student("s1"))
        return known[more, first]

    return keys


def marked(keys: Keys, column: str, **cells: str) -> PartResult:
    head, key = keys
    wrote = {name.removeprefix("_"): text for name, text in cells.items()}
    return next(part for part in judge_student(head, key, wrote).parts if part.label == column)


def truth(keys: Keys, problem: int, part: str) -> Truth:
    return keys[1].problems[problem - 1].truths[part]


def test_every_part_has_its_policy_in_the_key(keys_of: KeysOf) -> None:
    head, _ = keys_of('[problem.part.b]\nfigures = "deduct"\n')
    assert list(head.policies) == list(head.columns)
    assert {column for column in head.columns if head.policy_of(column).figures == "deduct"} == {"2b"}
    assert head.policy_of("9z") == head.policy


def test_a_part_deducts_while_the_others_remark(keys_of: KeysOf) -> None:
    keys = keys_of('[problem.part.b]\nfigures = "deduct"\ndeduction = 0.4\n[problem.part.a]\nmissing_unit = "deduct"\n')
    assert marked(keys, "2b", _2b="0.0459 mol").points == 1
    fewer = marked(keys, "2b", _2b="0.045939 mol")
    assert (fewer.verdict, fewer.points) == ("right", F(3, 5))
    assert marked(keys, "2a", _2a="4.05").points == F(3, 4)
    assert marked(keys, "2c", _2c="5.98").points == 2


def test_follow_through_slip_and_mistake_are_those_of_the_part(keys_of: KeysOf) -> None:
    more = "[problem.part.b]\nfollow_through = 0.25\nunit_slip = 0.75\n[problem.part.a.named_mistakes]\n"
    keys = keys_of(more + '"density-forgotten" = 0.4\n')
    assert marked(keys, "2b", _2a="5.00 g", _2b="0.0567 mol").points == F(1, 4)
    assert marked(keys, "2b", _2b="45.9 mol").points == F(3, 4)
    assert marked(keys, "2a", _2a="4050 g").points == F(1, 2)
    assert marked(keys, "2a", _2a="5.00 g").points == F(2, 5)
    divided = marked(keys, "2a", _2a="6.17 g")
    assert (divided.verdict, divided.points) == ("mistake", 0)


def test_points_of_the_set_are_those_of_the_marking(keys_of: KeysOf) -> None:
    keys = keys_of("[problem.part.b]\npoints = 3.5\n")
    assert (marked(keys, "2b", _2b="0.0459").points, marked(keys, "2b").of) == (F(7, 2), F(7, 2))


def test_the_same_template_may_have_other_points_in_another_problem(tmp_path: Path) -> None:
    again = '[[problem]]\ntemplate = "ester"\n[problem.part.a]\npoints = 4\n[[problem]]\ntemplate = "ester"\n'
    loaded = small_set(tmp_path, again)
    with Answers(write_answers(tmp_path, loaded)) as answers:
        head, key = answers.head, answers.student("s1")
    assert list(head.templates) == ["chromate", "ester", "ester (p3)"]
    assert [one.template for one in key.problems] == ["chromate", "ester", "ester (p3)", "ester"]
    assert [part.of for part in judge_student(head, key, {}).parts if part.label in ("2a", "3a", "4a")] == [1, 4, 1]


@pytest.mark.parametrize(
    ("more", "kind"), [("widen_percent = 2", "widened by 2 %"), ("replace_percent = 3", "replaced by ± 3 %")]
)
def test_a_wider_window_accepts_what_is_outside_the_derived_one(keys_of: KeysOf, more: str, kind: str) -> None:
    derived, wide = keys_of(), keys_of(f"[problem.part.a]\n{more}\n")
    right, wider = truth(derived, 2, "01"), truth(wide, 2, "01")
    assert wider.low < right.low < right.value < right.high < wider.high
    near = float(right.value * F(1019, 1000))
    assert marked(derived, "2a", _2a=f"{near:.4f} g").verdict != "right"
    assert marked(wide, "2a", _2a=f"{near:.4f} g").verdict == "right"
    (told,) = [one for one in explain_student(*wide, {"2a": "4.05 g"}) if one.result.label == "2a"]
    assert told.trials[0].what == f"the acceptance window, {kind}"
    assert truth(wide, 2, "02") == truth(derived, 2, "02")


def test_what_follows_from_an_answer_that_only_the_tolerance_accepts_is_right_too(keys_of: KeysOf) -> None:
    keys = keys_of("[problem.part.a]\nwiden_percent = 3\n[policy]\nfollow_through = 0.5\n")
    mass = float(truth(keys, 2, "01").value * F(1027, 1000))
    cells = {"_2a": f"{mass:.4f} g", "_2b": f"{mass / 88.15:.6f} mol"}
    assert marked(keys, "2a", **cells).reason == "in-window"
    amount = marked(keys, "2b", **cells)
    assert (amount.verdict, amount.reason, amount.points) == ("right", "follows-accepted", 1)
    alone = marked(keys, "2b", _2b=cells["_2b"])
    assert alone.verdict != "right"
    wrong = marked(keys, "2b", _2a="5.00 g", _2b="0.05672 mol")
    assert (wrong.verdict, wrong.points) == ("follows", F(1, 2))


def test_a_followed_answer_has_the_tolerance_of_its_part(keys_of: KeysOf) -> None:
    cells = {"_2a": "5.00 g", "_2b": "0.05785 mol"}  # 2 % above what follows
    assert marked(keys_of(), "2b", **cells).verdict != "follows"
    assert marked(keys_of("[problem.part.b]\nwiden_percent = 3\n"), "2b", **cells).verdict == "follows"


def test_a_limiting_reagent_by_accepted_amounts_is_right(keys_of: KeysOf) -> None:
    keys = keys_of(first="[problem.part.a]\nreplace_percent = 70\n[problem.part.c]\nreplace_percent = 70\n")
    cells = {"_1a": "4.20 mmol", "_1c": "2.10 mmol", "_1e": "potassium chromate"}
    assert [marked(keys, column, **cells).verdict for column in ("1a", "1c")] == ["right", "right"]
    chosen = marked(keys, "1e", **cells)
    assert (chosen.verdict, chosen.reason) == ("right", "follows-accepted")


def test_a_mistake_inside_the_window_is_simply_right(keys_of: KeysOf) -> None:
    assert marked(keys_of(), "2a", _2a="5.00 g").verdict == "mistake"
    assert marked(keys_of("[problem.part.a]\nreplace_percent = 30\n"), "2a", _2a="5.00 g").points == 1


SHARES = st.integers(min_value=0, max_value=100).map(lambda percent: percent / 100)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    shares=st.tuples(SHARES, SHARES, SHARES, SHARES, SHARES),
    widen=st.integers(min_value=0, max_value=100),
    wrote=st.sampled_from(["4.05", "4.1", "5.00 g", "4050 g", "-4.05 g", "6.17 g", "4.2 g", "x", ""]),
)
def test_no_part_earns_more_than_its_points_or_less_than_none(
    tmp_path: Path, shares: tuple[float, ...], widen: int, wrote: str
) -> None:
    names = ("follow_through", "unit_slip", "named_mistake", "rounded_early", "deduction")
    lines = [f"{name} = {share}" for name, share in zip(names, shares, strict=True)]
    lines += [
        "[problem.part.a]",
        'figures = "deduct"',
        'missing_unit = "deduct"',
        f"widen_percent = {widen}",
        "points = 3",
    ]
    loaded = small_set(tmp_path, "\n".join(["[problem.policy]", *lines, ""]))
    with Answers(write_answers(tmp_path, loaded)) as answers:
        result = judge_student(answers.head, answers.student("s1"), {"2a": wrote, "2b": "0.0567", "2c": "7.38 g"})
    assert all(0 <= part.points <= part.of for part in result.parts)
    assert result.parts[7].of == 3
