from __future__ import annotations

from typing import Any

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.fixed import ATOMS, Datum, FixedProblem, Question, Ranking
from problemgen.model.problem import Asked, Scene
from problemgen.plan.constants import constants
from problemgen.plan.solve import SolvedQuestion, solve

AMMONIA = "N2 + 3 H2 -> 2 NH3"


def problem(
    problems: Any, given: dict[str, str], questions: list[Question], equation: str = "", **about: Any
) -> FixedProblem:
    scene: Scene = problems.scene(given, equation, **about)
    data = {quantity: problems.data(given)[quantity.id] for quantity in scene.given}
    return FixedProblem("p1", "made-up", scene, data, tuple(questions))


def ask(problems: Any, name: str, unit: str, answer: str | None = None, form: str = "number") -> Question:
    (quantity,) = problems.scene([name]).given
    return Question(quantity.kind, quantity.of, unit, Asked(quantity, unit, form), answer)


def answer_to(
    problems: Any, given: dict[str, str], question: Question, equation: str = "", **about: Any
) -> SolvedQuestion:
    solution = solve(problem(problems, given, [question], equation, **about), constants())
    assert solution.error is None
    (answer,) = solution.answers
    return answer


def test_a_value_with_its_window_as_text(problems: Any) -> None:
    question = ask(problems, "mass(C4H6O3)", "g")
    given = {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"}
    answer = answer_to(problems, given, question, others=["C4H6O3"])
    assert answer == SolvedQuestion(question, value="2.70500000000", low="2.6995", high="2.7105")


@pytest.mark.parametrize(
    ("published", "accepted"),
    [
        ("2.71", True),
        ("2.70", True),
        ("2.705", True),
        ("2.72", False),
        ("2.31", False),
        ("about 2.7", False),
        (None, None),
    ],
)
def test_a_published_answer_is_accepted_inside_the_window(
    problems: Any, published: str | None, accepted: bool | None
) -> None:
    question = ask(problems, "mass(C4H6O3)", "g", published)
    given = {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"}
    assert answer_to(problems, given, question, others=["C4H6O3"]).accepted is accepted


@pytest.mark.parametrize(("published", "accepted"), [("H2", True), ("N2", False), (None, None)])
def test_the_limiting_reagent_is_named(problems: Any, published: str | None, accepted: bool | None) -> None:
    question = ask(problems, "extent()", "mol", published, "species")
    answer = answer_to(problems, {"mass(N2)": "28.0 g", "mass(H2)": "5.00 g"}, question, AMMONIA)
    assert (answer.text, answer.accepted) == ("H2", accepted)


@pytest.mark.parametrize(
    ("published", "accepted"),
    [("N2 + 3H2 -> 2NH3", True), ("3 H2 + N2 -> 2 NH3", True), ("N2 + H2 -> NH3", False), (None, None)],
)
def test_an_equation_is_balanced(problems: Any, published: str | None, accepted: bool | None) -> None:
    question = Question("equation", None, None, "N2 + H2 -> NH3", published)
    answer = answer_to(problems, {}, question)
    assert (answer.text, answer.accepted) == (AMMONIA, accepted)


# 18.0 g of water is 0.999 mol, 32.0 g of methanol is 0.999 mol with twice the hydrogen atoms
COMPARED = {"mass(H2O)": "18.0 g", "mass(CH4O)": "31.0 g", "mass(C6H6)": "39.0 g"}


@pytest.mark.parametrize(
    ("ranking", "picked"),
    [
        (Ranking(most=True, part=""), "H2O"),
        (Ranking(most=False, part=""), "C6H6"),
        (Ranking(most=True, part="H"), "CH4O"),
        (Ranking(most=True, part="C"), "C6H6"),
        (Ranking(most=False, part="C"), "H2O"),
        (Ranking(most=True, part=ATOMS), "C6H6"),
        (Ranking(most=False, part=ATOMS), "H2O"),
    ],
)
def test_substances_are_ranked_by_what_they_hold(problems: Any, ranking: Ranking, picked: str) -> None:
    question = Question("ranking", None, None, ranking, picked)
    answer = answer_to(problems, COMPARED, question, others=["H2O", "CH4O", "C6H6"])
    assert (answer.text, answer.accepted) == (picked, True)


def test_several_questions_are_answered_in_order(problems: Any) -> None:
    questions = [ask(problems, "amount(NaCl)", "mmol"), ask(problems, "molar_mass(NaCl)", "g/mol")]
    solution = solve(problem(problems, {"mass(NaCl)": "2.922 g"}, questions, others=["NaCl"]), constants())
    assert [answer.question for answer in solution.answers] == questions
    assert [answer.value for answer in solution.answers] == ["50.0000000000", "58.4400000000"]


def test_what_cannot_be_derived_is_told(problems: Any) -> None:
    question = ask(problems, "amount(HCl)", "mol", "1")
    solution = solve(problem(problems, {"volume(HCl,solution)": "5.00 mL"}, [question], others=["HCl"]), constants())
    assert solution.error == (
        "the amount of HCl cannot be derived from what is given; missing: the mass of HCl or the number of "
        "particles of HCl or the amount concentration of HCl"
    )
    assert solution.answers == (SolvedQuestion(question, accepted=False),)


def test_a_division_by_zero_is_told(problems: Any) -> None:
    question = ask(problems, "concentration(HCl)", "mol/L")
    given = {"amount(HCl)": "1.00 mol", "volume(HCl,solution)": "0 mL"}
    solution = solve(problem(problems, given, [question], others=["HCl"]), constants())
    assert solution.error == "a division by zero"


def test_a_problem_that_cannot_be_expressed_keeps_its_reason() -> None:
    questions = (
        Question("mass", "gold", "g", Ranking(most=True, part=""), "2"),
        Question("mass", None, None, "", None),
    )
    told = FixedProblem("p1", "made-up", None, {}, questions, error="an unknown quantity")
    solution = solve(told, constants())
    assert solution.error == "an unknown quantity"
    assert [answer.accepted for answer in solution.answers] == [False, None]


def test_with_nothing_to_compare_a_ranking_is_refused(problems: Any) -> None:
    question = Question("ranking", None, None, Ranking(most=True, part=""), None)
    solution = solve(problem(problems, {}, [question], others=["H2O"]), constants())
    assert solution.error == "there is nothing to compare: no substance has a formula and a given quantity"


def test_given_values_are_windows_of_their_written_digits(problems: Any) -> None:
    """25 °C is known to three figures of kelvin, and may have been converted with 273 and rounded."""
    question = ask(problems, "temperature(H2)", "K")
    told = {"temperature(H2)": Datum(read_written("25"), "°C")}
    scene = problems.scene(told, others=["H2"])
    solution = solve(
        FixedProblem("p1", "made-up", scene, {q: told[q.id] for q in scene.given}, (question,)), constants()
    )
    assert (solution.answers[0].low, solution.answers[0].high) == ("297", "299.15")
