"""How usual mistakes are named: one, two together, several that cannot be told apart."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.grade.naming import code_of, hint_of, named
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.quantity import Quantity

A, B = Quantity("mass", "a"), Quantity("mass", "b")
LEFT_OUT = Mistake("left-out:a", "ratio left out", "Read the equation.", ((A.id, "x"),))
ELSEWHERE = Mistake("left-out:b", "ratio left out", "Read the equation.", ((B.id, "x"),))
INVERTED = Mistake("inverted:b", "ratio upside down", "Which is more?", ((B.id, "y"),))
PLAN = Plan((), (), (Step(A, "", "", "x", "figures"), Step(B, "", "", "x", "figures")), (), ())


@pytest.mark.parametrize(
    ("explanations", "code", "sentence"),
    [
        ([(INVERTED,)], "inverted:b", "This looks like: ratio upside down. Which is more?"),
        (
            [(LEFT_OUT, INVERTED)],
            "left-out:a+inverted:b",
            (
                "This looks like two mistakes at once: ratio left out together with ratio upside down. "
                "Read the equation. Which is more?"
            ),
        ),
        (
            [(LEFT_OUT,), (INVERTED,)],
            "left-out:a|inverted:b",
            "This looks like one of: ratio left out; ratio upside down. Read the equation. Which is more?",
        ),
        # the same words are said once: at one step or another, or at both
        ([(LEFT_OUT,), (ELSEWHERE,)], "left-out:a|left-out:b", "This looks like: ratio left out. Read the equation."),
        ([(LEFT_OUT, ELSEWHERE)], "left-out:a+left-out:b", "This looks like: ratio left out. Read the equation."),
        (
            [(LEFT_OUT, INVERTED), (ELSEWHERE,)],
            "left-out:a+inverted:b|left-out:b",
            (
                "This looks like one of: ratio left out together with ratio upside down; ratio left out. "
                "Read the equation. Which is more?"
            ),
        ),
    ],
)
def test_code_and_sentence(explanations: list[tuple[Mistake, ...]], code: str, sentence: str) -> None:
    assert (code_of(explanations), hint_of(explanations)) == (code, sentence)


def test_a_finding_tells_each_mistake_once_and_the_steps_in_order() -> None:
    finding = named([(INVERTED, LEFT_OUT), (INVERTED,)], PLAN, Fraction(1, 4))
    assert (finding.verdict, finding.share) == ("mistake", Fraction(1, 4))
    assert finding.mistakes == ("inverted:b", "left-out:a")
    assert finding.at == (A.id, B.id)
