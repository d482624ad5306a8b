"""Which mistakes are named: alone, two together, several that cannot be told apart, and none by chance."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.exact.rounding import figures_text
from tests.support.judged import RIGHT, Judge, Keys, parts

DENSITY = "mass(isopentyl-alcohol)"
AMOUNT = "amount(isopentyl-alcohol)"
MASS = "mass(isopentyl-acetate,theoretical)"
YIELD = "percent_yield(isopentyl-acetate)"

PAIRS = [
    # 5.00 mL / 0.81 g/mL of the alcohol, with the molar mass of the ester: 6.17 / 130.18
    ("2b", "0.0474 mol", f"density-divided:{DENSITY}+other-molar-mass:{AMOUNT}", {DENSITY, AMOUNT}),
    # 5.00 g taken from 5.00 mL, with the molar mass of the ester
    ("2b", "0.0384 mol", f"density-forgotten:{DENSITY}+other-molar-mass:{AMOUNT}", {DENSITY, AMOUNT}),
    # the yield upside down, of what a density upside down leads to: 9.12 / 4.20
    ("2d", "217.1 %", f"density-divided:{DENSITY}+yield-inverted:{YIELD}", {DENSITY, YIELD}),
]


@pytest.mark.parametrize(("label", "wrote", "reason", "at"), PAIRS)
def test_two_mistakes_together_are_named(judge: Judge, label: str, wrote: str, reason: str, at: set[str]) -> None:
    part = parts(judge({label: wrote}))[label]
    assert (part.verdict, part.reason, part.points) == ("mistake", reason, 0)
    assert part.mistakes == tuple(reason.split("+"))
    assert set(part.at) == at
    assert part.sentence.startswith("This looks like two mistakes at once: ")
    assert " together with " in part.sentence


@pytest.mark.parametrize(("label", "wrote"), [(label, wrote) for label, wrote, _, _ in PAIRS])
def test_a_step_that_came_out_right_is_not_blamed(judge: Judge, label: str, wrote: str) -> None:
    before = {one: text for one, text in RIGHT.items() if one < label}
    part = parts(judge({**before, label: wrote}))[label]
    assert (part.verdict, part.mistakes) == ("wrong", ())


def test_a_mistake_after_one_that_was_named_is_named_alone(judge: Judge) -> None:
    found = parts(judge({"2a": "6.17 g", "2b": "0.0474 mol"}))
    assert found["2a"].mistakes == (f"density-divided:{DENSITY}",)
    assert found["2b"].mistakes == (f"other-molar-mass:{AMOUNT}",)


@pytest.mark.parametrize(
    ("cells", "label", "reason", "opening"),
    [
        # the molar masses cancel, or neither was used: 4.20 / 4.05
        (
            {},
            "2d",
            f"other-molar-mass:{AMOUNT}|other-molar-mass:{MASS}",
            "This looks like: another substance's molar mass. ",
        ),
        # one sentence where both have the same words
        ({}, "2c", f"other-molar-mass:{MASS}|other-molar-mass:{AMOUNT}", "This looks like: another substance's molar"),
        # only the last is left where the amount and the mass came out right
        (
            {"2b": RIGHT["2b"], "2c": RIGHT["2c"]},
            "2d",
            f"yield-against-reagent:{YIELD}",
            "This looks like: the product compared",
        ),
    ],
)
def test_mistakes_that_cannot_be_told_apart_are_all_named(
    judge: Judge, cells: dict[str, str], label: str, reason: str, opening: str
) -> None:
    wrote = {"2c": "4.05 g", "2d": "103.7 %"}[label]
    part = parts(judge({**cells, label: wrote}))[label]
    assert part.reason == reason
    assert part.mistakes == tuple(reason.split("|"))
    assert part.sentence.startswith(opening)


def test_a_single_mistake_goes_before_two_together(judge: Judge) -> None:
    # 103.7 % is also what several pairs lead to
    assert "+" not in parts(judge({"2d": "103.7 %"}))["2d"].reason


def test_no_mistake_is_named_where_the_answer_is_right(judge: Judge) -> None:
    for part in judge(RIGHT).parts:
        assert (part.mistakes, part.at) == ((), ())


@pytest.mark.parametrize(("label", "figures"), [("1f", 4), ("2b", 3), ("2c", 3), ("2d", 3)])
def test_numbers_of_no_relation_are_seldom_explained(judge: Judge, keys: Keys, label: str, figures: int) -> None:
    """120 numbers evenly on a scale of powers around the right one: few agree with mistakes by chance."""
    head, key = keys("")
    problem = key.problems[int(label[0]) - 1]
    part = next(p for p in head.templates[problem.template].parts if p.label == label[1])
    truth = problem.truths[part.id].value
    named, paired = 0, 0
    for step in range(120):
        value = truth * Fraction(str(round(0.4 * 1.016**step, 6)))
        found = parts(judge({label: f"{figures_text(value, figures)} {part.asked.unit}"}))[label]
        named += found.verdict == "mistake"
        paired += found.verdict == "mistake" and "+" in found.reason
    assert named <= 12
    assert paired <= 6


def test_where_it_went_wrong_is_between_the_answers_before_and_this_one(judge: Judge) -> None:
    alone = parts(judge({"2c": "7.77 g"}))["2c"]
    assert alone.at[0] == DENSITY
    assert alone.at[-1] == MASS
    after = parts(judge({"2b": RIGHT["2b"], "2c": "7.77 g"}))["2c"]
    assert AMOUNT not in after.at
    assert after.at[-1] == MASS
    assert parts(judge({"2b": "45.9 mol"}))["2b"].at == (AMOUNT,)


@pytest.mark.parametrize("wrote", ["5", "0.05", "400"])
def test_an_answer_with_one_figure_names_nothing(judge: Judge, wrote: str) -> None:
    assert all(part.mistakes == () for part in judge({"2c": wrote, "2d": wrote}).parts)


@pytest.mark.parametrize("wrote", ["0", "1e400", "1.00e400", "-1.00e400", "-1e400", "1e-400", "1.798e308"])
def test_numbers_beyond_floats_are_looked_at_quietly(judge: Judge, wrote: str) -> None:
    """Warnings are errors in tests: none comes of dividing by 0 or of infinite floats."""
    result = judge(dict.fromkeys(RIGHT, wrote))
    assert {part.verdict for part in result.parts}.isdisjoint({"right", "unjudged"})
    assert result.points < result.of / 2


def test_the_product_of_the_reagent_in_excess_is_called_that_however_much_was_left_blank(judge: Judge) -> None:
    """Any large error in the one reagent lets the other limit, and leads to this number too: the plain cause is told.

    2.000 mmol × 331.73 g/mol = 663.5 mg.
    """
    for before in ({}, {"1a": RIGHT["1a"], "1b": RIGHT["1b"]}):
        part = parts(judge({**before, "1f": "663.5 mg"}))["1f"]
        assert part.verdict == "mistake"
        assert part.mistakes[0] == "excess-taken:extent()"
        assert all(mistake.endswith(":extent()") for mistake in part.mistakes)
