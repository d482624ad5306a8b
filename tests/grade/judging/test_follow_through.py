"""Following a student's own wrong answers: over parts and sheets, through choices, once paid and never a copy."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.model.verdict import PartResult
from tests.support.benzhydrol import BENZHYDROL, TWO_SHEETS
from tests.support.judged import RIGHT, Judge, parts, verdicts
from tests.support.small_set import small_set, write_answers

Marked = Callable[..., dict[str, PartResult]]


@pytest.fixture(scope="module")
def benzhydrol(tmp_path_factory: pytest.TempPathFactory) -> Marked:
    """Judges cells of the problem on two sheets."""
    known = {}
    for share in ("0", "1"):
        folder = tmp_path_factory.mktemp("two")
        lines = f"[policy]\nnamed_mistake = {share}\n"
        templates = {"benzhydrol": BENZHYDROL}
        with Answers(write_answers(folder, small_set(folder, lines, templates, TWO_SHEETS))) as answers:
            known[share] = (answers.head, answers.student("s1"))

    def judged(cells: Mapping[str, str], named_mistake: str = "0") -> dict[str, PartResult]:
        return parts(judge_student(*known[named_mistake], cells))

    return judged


def test_an_error_on_the_first_sheet_is_followed_on_the_second(benzhydrol: Marked) -> None:
    right = benzhydrol({"1a": "1.822 g", "1b": "1.842 g", "1c": "81.4 %"})
    assert [part.verdict for part in right.values()] == ["right"] * 3
    # 1.500 g of 1.900 g; of 1.600 g, 1.618 g of product, 92.7 %
    assert benzhydrol({"1b": "1.900 g", "1c": "78.9 %"})["1c"].verdict == "follows"
    followed = benzhydrol({"1a": "1.600 g", "1b": "1.618 g", "1c": "92.7 %"})
    assert [followed[label].verdict for label in ("1a", "1b", "1c")] == ["wrong", "follows", "follows"]
    assert [followed[label].points for label in ("1a", "1b", "1c")] == [0, 2, 2]
    later = benzhydrol({"1a": "1.600 g", "1c": "92.7 %"})
    assert later["1c"].verdict == "follows"


@pytest.mark.parametrize("wrote", ["1.6", "1.60", "1.5", "2.1"])
def test_a_wrong_number_written_once_more_earns_nothing(benzhydrol: Marked, wrote: str) -> None:
    # Rounded to two figures what follows would be the same number: the masses are 1 % apart.
    for share in ("0", "1"):
        copied = benzhydrol({"1a": f"{wrote} g", "1b": f"{wrote} g"}, share)["1b"]
        assert (copied.verdict in ("wrong", "mistake"), copied.points) == (True, 0)


def test_what_is_equal_by_the_plan_is_no_copy(judge: Judge) -> None:
    # 2.000 - 1.000 mmol: what is left is as much as what was used up, for this student
    result = judge({"1c": "1.000 mmol", "1g": "1.000 mmol"})
    assert verdicts(result, "1g") == "follows"


@pytest.mark.parametrize(
    ("cells", "labels", "expected"),
    [
        # a slip by a power of ten is charged once
        ({"1a": "2500", "1c": "1250"}, "1a 1c", "mistake follows"),
        ({"2b": "45.9 mol", "2c": "5980 g", "2d": "0.0702 %"}, "2b 2c 2d", "mistake follows follows"),
        ({"2b": "45.9 mol", "2c": "5.98 g"}, "2b 2c", "mistake right"),
        # and another slip once more
        ({"2b": "45.9 mol", "2c": "59.8 g"}, "2b 2c", "mistake slip"),
        # a yield from the reagent wrongly chosen
        ({**RIGHT, "1e": "potassium chromate", "1f": "663.5"}, "1e 1f", "mistake follows"),
        # an answer with one figure counts as one with two
        ({"2a": "1", "2b": "0.0113"}, "2a 2b", "wrong follows"),
        ({"2a": "1", "2b": "0.0149"}, "2a 2b", "wrong wrong"),
        # as strictly as the right answer: two figures where three are due earn what rounding earns
        ({"2b": "0.0520", "2c": "6.77"}, "2b 2c", "wrong follows"),
        ({"2b": "0.0520", "2c": "6.9"}, "2b 2c", "wrong wrong"),
    ],
)
def test_what_follows(judge: Judge, cells: dict[str, str], labels: str, expected: str) -> None:
    assert verdicts(judge(cells), labels) == expected


@pytest.mark.parametrize(
    ("policy", "verdict", "share"),
    [
        ("", "follows", Fraction(1)),
        ("follow_through = 0.4", "slip", Fraction(1, 2)),
        ("follow_through = 0.4\nunit_slip = 0.3", "follows", Fraction(2, 5)),
        ("follow_through = 0\nunit_slip = 0", "follows", Fraction(0)),
    ],
)
def test_of_slip_and_follow_through_the_one_that_pays_more_counts(
    judge: Judge, policy: str, verdict: str, share: Fraction
) -> None:
    part = parts(judge({"1a": "2500", "1c": "1250"}, policy))["1c"]
    assert (part.verdict, part.points) == (verdict, share * part.of)


NUMBERS = (0, 1, 2, 5, 0.05, 1.25, 2.5, 2500, 2.2, 0.0459, 4.05, 5.98, 6.17, 70.2, 142, 414.7, 663.5, 415, 0.75)
WRONG = st.one_of(
    st.sampled_from([str(number) for number in NUMBERS]),
    st.sampled_from(["K2CrO4", "AgNO3", "", "5 g", "0.1 mol", "12.3 mg", "1.250 mmol", "see notes"]),
)


@given(st.fixed_dictionaries(dict.fromkeys(RIGHT, WRONG)), st.sampled_from(list(RIGHT)))
def test_an_error_is_never_paid_in_full(judge: Judge, cells: dict[str, str], first: str) -> None:
    """All parts before the first error right, any answers from there on, all that follows paid in full."""
    labels = list(RIGHT)
    before = labels[: labels.index(first)]
    result = judge({**cells, **{label: RIGHT[label] for label in before}})
    found = parts(result)
    wrong = next((part for part in result.parts if part.verdict != "right"), None)
    assert (result.points == result.of) == (wrong is None)
    if wrong is not None:
        assert wrong.verdict != "follows"
        assert wrong.points < wrong.of
    assert all(found[label].verdict == "right" for label in before)
