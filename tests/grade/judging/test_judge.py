"""Judging against the keys alone: a small set worked by hand, and every kind of answer to it.

Silver chromate: 2.500 mmol of silver nitrate and 2.000 mmol of potassium chromate could give 1.250 and 2.000 mmol of
product; 414.7 mg can form, and 0.750 mmol of chromate is left. Isopentyl acetate: 4.05 g or 0.0459 mol of the alcohol
could give 5.98 g, of which 4.20 g was obtained: 70.2 %.
"""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import VERDICTS
from tests.support.judged import RIGHT, Judge, Keys, parts, verdicts
from tests.support.small_set import small_set, write_answers

ALL = Fraction(14)
LIMITS = {
    "1e": ("least-amount-taken:extent()", "least-mass-taken:extent()"),
    "1f": ("excess-taken:extent()", "least-amount-taken:extent()"),
}
NOTHING = Fraction(0)


def test_right_answers_earn_all_points(judge: Judge) -> None:
    result = judge(RIGHT)
    assert {part.verdict for part in result.parts} == {"right"}
    assert (result.points, result.of) == (ALL, ALL)
    assert all(part.remarks == () for part in result.parts)
    assert (result.student, result.name, result.section) == ("s1", "Ada", "A")


def test_without_answers_every_part_is_blank_and_counted(judge: Judge) -> None:
    result = judge({})
    assert [part.label for part in result.parts] == list(RIGHT)
    assert {(part.verdict, part.points, part.sentence) for part in result.parts} == {
        ("blank", Fraction(0), "No answer.")
    }
    assert (result.points, result.of) == (NOTHING, ALL)


@pytest.mark.parametrize(
    ("label", "wrote", "read"),
    [
        ("1a", "2,500", "2.500 mmol"),
        ("1a", "0.002500 mol", "0.002500 mol"),
        ("1a", "2500 µmol", "2500 µmol"),
        ("1a", "n = 2.5 x 10^-3 mol", "2.5e-3 mol"),
        ("1a", "2.500 mmol AgNO3", "2.500 mmol"),
        ("1f", "414.7", "414.7 mg"),
        ("1f", "0.4147 g", "0.4147 g"),
        ("1f", "415 mg", "415 mg"),
        ("1f", "4,147e2 mg", "4.147e2 mg"),
        ("1e", "AgNO3", "silver nitrate"),
        ("1e", "Silver Nitrate is the limiting reagent", "silver nitrate"),
        ("1e", "silver nitrat", "silver nitrate"),
        ("2a", "4050 mg", "4050 mg"),
        ("2b", "45.9 mmol", "45.9 mmol"),
        ("2d", "70.2", "70.2 %"),
        ("2d", "70 %", "70 %"),
    ],
)
def test_what_means_the_same_is_right(judge: Judge, label: str, wrote: str, read: str) -> None:
    part = parts(judge({label: wrote}))[label]
    assert (part.verdict, part.reason, part.sentence) == ("right", "in-window", "Right.")
    assert (part.points, part.wrote, part.read) == (part.of, wrote, read)


@pytest.mark.parametrize(
    ("label", "wrote", "verdict", "reason", "sentence"),
    [
        ("1a", "2.5 g", "unit", "wrong_dimension", "The answer is given in g (mass); mmol (amount) is asked for."),
        ("2d", "70.2 g", "unit", "wrong_dimension",
         "The answer is given in g (mass); % (a plain number) is asked for."),
        ("1a", "see notes", "unread", "unreadable", 'No number is found in "see notes".'),
        ("1a", "2.4 or 2.5", "unread", "unreadable", "More than one number stands in the answer; write one only."),
        ("1a", "=SUM(A1)", "unread", "unreadable", "A spreadsheet's formula is not read; write its result."),
        ("1e", "copper", "unread", "unreadable",
         '"copper" is not clear; name one of: silver nitrate, potassium chromate.'),
        ("1a", "-", "blank", "blank", "No answer."),
        ("1a", "  ", "blank", "blank", "No answer."),
        ("1e", "n/a", "blank", "blank", "No answer."),
    ],
)  # fmt: skip
def test_what_is_no_answer_is_a_verdict_with_a_reason(
    judge: Judge, label: str, wrote: str, verdict: str, reason: str, sentence: str
) -> None:
    part = parts(judge({label: wrote}))[label]
    assert (part.verdict, part.reason, part.sentence, part.points) == (verdict, reason, sentence, NOTHING)


@pytest.mark.parametrize(
    ("label", "wrote", "reason", "size"),
    [
        ("1f", "4147", "power-of-ten:1", "too large by a factor of 10"),
        ("2b", "0.459", "power-of-ten:1", "too large by a factor of 10"),
        ("2b", "45900", "power-of-ten:6", "too large by a factor of 10^6"),
    ],
)
def test_a_slip_by_a_power_of_ten_is_called_so(judge: Judge, label: str, wrote: str, reason: str, size: str) -> None:
    part = parts(judge({label: wrote}))[label]
    assert (part.verdict, part.reason, part.points) == ("slip", reason, part.of / 2)
    assert part.sentence == (f"The digits are right, but the value is {size}: look at units and powers of ten.")


@pytest.mark.parametrize(
    ("label", "wrote", "mistake"),
    [
        ("1c", "2.500 mmol", "ratio-left-out"),
        ("1e", "K2CrO4", "excess-taken:extent()"),
        ("1f", "663.5 mg", "excess-taken:extent()"),
        ("1g", "1.250 mmol", "consumed-for-left:amount(potassium-chromate,left)"),
        ("2a", "6.17 g", "density-divided:mass(isopentyl-alcohol)"),
        ("2a", "5.00 g", "density-forgotten:mass(isopentyl-alcohol)"),
        ("2b", "357 mol", "molar-mass-inverted:amount(isopentyl-alcohol)"),
        ("2d", "142 %", "yield-inverted:percent_yield(isopentyl-acetate)"),
    ],
)
def test_a_usual_mistake_is_named(judge: Judge, label: str, wrote: str, mistake: str) -> None:
    # Right numbers before it leave only mistakes that come later; a right choice would leave none of the limit.
    before = {one: text for one, text in RIGHT.items() if one < label and one != "1e"}
    part = parts(judge({**before, label: wrote}))[label]
    assert (part.verdict, part.points) == ("mistake", NOTHING)
    kind = mistake.split(":")[0]
    assert part.reason == "|".join(part.mistakes)
    # Of two reagents the other one: what was compared is told, where that can be told.
    assert part.mistakes == (LIMITS[label] if kind == "excess-taken" else (mistake,))
    assert part.sentence.startswith("This looks like one of: " if len(part.mistakes) > 1 else "This looks like: ")
    assert part.sentence.endswith(("?", "."))


def test_an_answer_without_any_explanation_is_wrong(judge: Judge) -> None:
    part = parts(judge({"1a": "3.111 mmol"}))["1a"]
    assert (part.verdict, part.reason, part.points) == ("wrong", "no-match", NOTHING)
    assert part.sentence == "Not right. Go through the steps again, with the unit of each number beside it."


# follow-through


@pytest.mark.parametrize(
    ("cells", "labels", "expected"),
    [
        # an amount that is wrong, carried over one, two and three parts
        ({"1a": "2.200", "1c": "1.100"}, "1a 1c", "wrong follows"),
        ({"1a": "2.200", "1c": "1.100", "1f": "364.9"}, "1a 1c 1f", "wrong follows follows"),
        ({"1a": "2.200", "1c": "1.100", "1f": "364.9", "1g": "0.900"}, "1a 1c 1f 1g", "wrong follows follows follows"),
        ({"2a": "3.50", "2b": "0.0397", "2c": "5.17", "2d": "81.2"}, "2a 2b 2c 2d", "wrong follows follows follows"),
        # parts in between left blank
        ({"1a": "2.200", "1g": "0.900"}, "1a 1b 1g", "wrong blank follows"),
        ({"2a": "3.50", "2d": "81.2"}, "2a 2d", "wrong follows"),
        # a usual mistake, then the right way from there
        ({"2a": "6.17", "2b": "0.0700", "2c": "9.11", "2d": "46.1"}, "2a 2b 2c 2d", "mistake follows follows follows"),
        # from a wrong theoretical yield only
        ({"2a": "4.05", "2b": "0.0459", "2c": "5.40", "2d": "77.8"}, "2a 2b 2c 2d", "right right wrong follows"),
        # a product's amount that is wrong, and the right amount after it all the same
        ({"1c": "1.111", "1f": "414.7"}, "1c 1f", "wrong right"),
        # a wrong choice, and what follows from it
        ({**RIGHT, "1e": "potassium chromate", "1f": "663.5", "1g": "0"}, "1d 1e 1f 1g",
         "right mistake follows follows"),
        # amounts that make the other reagent limit: the choice is consistent with them
        ({"1a": "4.700", "1e": "potassium chromate", "1f": "663.5"}, "1a 1e 1f", "wrong follows follows"),
        # a second error, not paid for yet
        ({"1a": "2.200", "1c": "1.100", "1f": "300.0"}, "1a 1c 1f", "wrong follows wrong"),
        ({"2a": "3.50", "2b": "0.0397", "2c": "5.17", "2d": "123"}, "2a 2b 2c 2d", "wrong follows follows mistake"),
        # nothing is carried over from what could not be read, or from another kind of unit
        ({"1a": "2.200 g", "1c": "1.100"}, "1a 1c", "unit wrong"),
        # nor from 0 or less: else a student could answer 0 throughout
        ({"2b": "0", "2c": "0", "2d": "0"}, "2b 2c 2d", "wrong wrong wrong"),
        ({"2b": "-0.0500", "2c": "-6.51"}, "2b 2c", "wrong wrong"),
    ],
)  # fmt: skip
def test_what_follows_from_an_earlier_error_is_paid_once(
    judge: Judge, cells: dict[str, str], labels: str, expected: str
) -> None:
    result = judge(cells)
    assert verdicts(result, labels) == expected
    for part in result.parts:
        if part.verdict == "follows":
            assert part.reason == "follow-through"
            assert part.points == part.of


def test_problems_do_not_touch_each_other(judge: Judge) -> None:
    wrong = judge({**RIGHT, "1a": "3.000"})
    assert verdicts(wrong, "2a 2b 2c 2d") == "right right right right"


# policies


@pytest.mark.parametrize(
    ("policy", "cells", "label", "points"),
    [
        ("unit_slip = 0.25", {"1f": "0.4147"}, "1f", Fraction(1, 2)),
        ("unit_slip = 0", {"1f": "0.4147"}, "1f", Fraction(0)),
        ("unit_slip = 1", {"1f": "0.4147"}, "1f", Fraction(2)),
        ("follow_through = 0.5", {"2b": "0.0500", "2c": "6.51"}, "2c", Fraction(1)),
        ("follow_through = 0", {"2b": "0.0500", "2c": "6.51"}, "2c", Fraction(0)),
        ("named_mistake = 0.2", {"2a": "5.00"}, "2a", Fraction(1, 5)),
        ("named_mistake = 0.2", {"1e": "K2CrO4"}, "1e", Fraction(1, 5)),
        ('missing_unit = "accept"', {"1f": "414.7"}, "1f", Fraction(2)),
        ('missing_unit = "remark"', {"1f": "414.7"}, "1f", Fraction(2)),
        ('missing_unit = "deduct"', {"1f": "414.7"}, "1f", Fraction(3, 2)),
        ('missing_unit = "deduct"\ndeduction = 0.5', {"1f": "414.7"}, "1f", Fraction(1)),
        ('missing_unit = "deduct"', {"1f": "414.7 mg"}, "1f", Fraction(2)),
        ('missing_unit = "deduct"', {"2d": "70.2"}, "2d", Fraction(3, 2)),
        ('figures = "ignore"', {"1f": "415 mg"}, "1f", Fraction(2)),
        ('figures = "remark"', {"1f": "415 mg"}, "1f", Fraction(2)),
        ('figures = "deduct"', {"1f": "415 mg"}, "1f", Fraction(3, 2)),
        ('figures = "deduct"', {"1f": "414.7 mg"}, "1f", Fraction(2)),
        ('figures = "deduct"', {"1f": "414.67 mg"}, "1f", Fraction(2)),
        ('figures = "deduct"', {"1f": "414.670 mg"}, "1f", Fraction(3, 2)),
        ('figures = "deduct"\nmissing_unit = "deduct"', {"1f": "415"}, "1f", Fraction(1)),
        ('figures = "deduct"\nmissing_unit = "deduct"\ndeduction = 0.75', {"1f": "415"}, "1f", Fraction(0)),
        ('figures = "deduct"', {"1f": "41467/100 mg"}, "1f", Fraction(2)),
        ('missing_unit = "deduct"', {"1e": "AgNO3"}, "1e", Fraction(1)),
        ('missing_unit = "deduct"\nfollow_through = 0.5', {"2b": "0.0500", "2c": "6.51"}, "2c", Fraction(3, 4)),
    ],
)  # fmt: skip
def test_points_under_a_policy(judge: Judge, policy: str, cells: dict[str, str], label: str, points: Fraction) -> None:
    assert parts(judge(cells, policy))[label].points == points


@pytest.mark.parametrize(
    ("policy", "wrote", "remarks"),
    [
        ('figures = "ignore"', "415 mg", ()),
        ('figures = "remark"', "415 mg", ("Written with 3 significant figures; the data support 4.",)),
        ('figures = "deduct"', "415 mg", ("Written with 3 significant figures; the data support 4.",)),
        ('figures = "remark"', "414.700 mg",
         ("Written with 6 significant figures, more than the data support (4).",)),
        ('missing_unit = "accept"', "414.7", ()),
        ('missing_unit = "remark"', "414.7", ("No unit was written.",)),
        ('missing_unit = "deduct"', "414.7", ("No unit was written.",)),
        ('figures = "remark"\nmissing_unit = "remark"', "415",
         ("Written with 3 significant figures; the data support 4.", "No unit was written.")),
    ],
)  # fmt: skip
def test_remarks_under_a_policy(judge: Judge, policy: str, wrote: str, remarks: tuple[str, ...]) -> None:
    assert parts(judge({"1f": wrote}, policy))["1f"].remarks == remarks


# whatever is written

SOMETHING = st.one_of(
    st.sampled_from(
        ["", "0", "-1", "0 g", "1e300", "NaCl", "silver nitrate", "K2CrO4", "2.5", "1/3", "?", "45.9 mmol"]
    ),
    st.sampled_from(list(RIGHT.values())),
    st.floats(allow_nan=False, allow_infinity=False).map("{:.4g}".format),
    st.text(max_size=12),
)
CELLS = st.fixed_dictionaries({}, optional=dict.fromkeys(RIGHT, SOMETHING))


@given(CELLS)
def test_whatever_is_written_every_part_is_accounted_for(judge: Judge, cells: dict[str, str]) -> None:
    result = judge(cells)
    assert [part.label for part in result.parts] == list(RIGHT)
    assert result.of == ALL
    for part in result.parts:
        assert part.verdict in VERDICTS
        assert 0 <= part.points <= part.of
        assert (part.points == part.of) == (part.verdict in ("right", "follows"))
        assert part.reason
        assert part.sentence
        assert part.wrote == cells.get(part.label, "")
    assert judge(cells) == result


@given(CELLS)
def test_no_sentence_gives_the_answer_away(judge: Judge, keys: Keys, cells: dict[str, str]) -> None:
    _, key = keys("")
    answers = {
        f"{problem.problem.removeprefix('p')}{'abcdefg'[int(part) - 1]}": truth.printed
        for problem in key.problems
        for part, truth in problem.truths.items()
        if isinstance(truth, NumberTruth)
    }
    for part in judge(cells).parts:
        if part.label in answers and part.verdict != "right":
            told = " ".join((part.sentence, *part.remarks)).replace(part.wrote.strip() or "\0", "")
            assert answers[part.label] not in re.findall(r"[0-9][0-9.]*", told)


def test_no_hint_holds_a_number_of_the_key(keys: Keys) -> None:
    head, _ = keys("")
    hints = [f"{m.title} {m.hint}" for template in head.templates.values() for m in template.plan.mistakes]
    assert len(hints) > 10
    assert not any(re.search("[0-9]", hint) for hint in hints)


def test_a_key_is_read_for_this_problem_only(keys: Keys, tmp_path: Path) -> None:
    head, key = keys("")
    other = small_set(tmp_path, head='title = "S"\ncourse = "C"\n[[sheet]]\nsession = 1\ntitle = "x"\n'
                      '[[problem]]\ntemplate = "ester"\n')  # fmt: skip
    with Answers(write_answers(tmp_path, other)) as answers:
        alone = judge_student(answers.head, answers.student("s1"), {"1d": "70.2 %", "2d": "70.2 %"})
    assert [part.label for part in alone.parts] == ["1a", "1b", "1c", "1d"]
    assert parts(alone)["1d"].verdict == "right"
    assert len(judge_student(head, key, {}).parts) == len(RIGHT)


@pytest.mark.parametrize(
    ("beside", "doubted"),
    [
        ({}, True),
        ({"2a": "4,05 g"}, False),
        ({"2a": "4,05 g", "2c": "5.98 g"}, True),
        ({"1e": "1,5-silver"}, True),  # names have commas of their own
    ],
)
def test_a_comma_is_in_no_doubt_where_the_paper_shows_what_it_is(
    judge: Judge, beside: dict[str, str], *, doubted: bool
) -> None:
    part = parts(judge({"1a": "2,500 mmol", **beside}))["1a"]
    assert (part.verdict, part.wrote, part.read) == ("right", "2,500 mmol", "2.500 mmol")
    assert part.doubt == ('"2,500" can mean 2.500 or 2500; it is read as 2.500.' if doubted else "")
