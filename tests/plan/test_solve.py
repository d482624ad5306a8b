from __future__ import annotations

from typing import Any

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.fixed import ATOMS, Datum, FixedProblem, Question, Ranking
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.plan.constants import constants
from problemgen.plan.solve import Solution, SolvedQuestion, solve

AMMONIA = "N2 + 3 H2 -> 2 NH3"


def ask(problems: Any, name: str, unit: str, form: str = "number") -> Question:
    (quantity,) = problems.scene([name]).given
    return Question({"quantity": quantity.kind}, Asked(quantity, unit, form), None)


def compare(kind: str, part: str = "", *, greatest: bool = True) -> Question:
    return Question({}, Ranking(kind, greatest, part), None)


def solved(
    problems: Any, given: dict[str, str], questions: list[Question], equation: str = "", **about: Any
) -> Solution:
    scene = problems.scene(given, equation, **about)
    data = {quantity: problems.data(given)[quantity.id] for quantity in scene.given}
    words = {quantity: quantity.id for quantity in sorted(data)}
    return solve(FixedProblem("p1", scene, data, words, tuple(questions)), constants())


def answer_to(
    problems: Any, given: dict[str, str], question: Question, equation: str = "", **about: Any
) -> SolvedQuestion:
    solution = solved(problems, given, [question], equation, **about)
    assert solution.error is None
    (answer,) = solution.answers
    return answer


def test_a_value_with_its_window(problems: Any) -> None:
    given = {"volume(C4H6O3)": "2.50 mL", "density(C4H6O3)": "1.082 g/mL"}
    truth = answer_to(problems, given, ask(problems, "mass(C4H6O3)", "g"), others=["C4H6O3"]).truth
    assert truth is not None
    assert (float(truth.value), float(truth.low), float(truth.high)) == (2.705, 2.6995, 2.7105)
    assert (truth.figures, truth.printed) == (3, "2.71")


@pytest.mark.parametrize(("hydrogen", "also"), [("5.00 g", ()), ("6.04 g", ("N2",))])
def test_the_limiting_reagent_and_the_one_that_rounding_may_find(
    problems: Any, hydrogen: str, also: tuple[str, ...]
) -> None:
    given = {"mass(N2)": "28.0 g", "mass(H2)": hydrogen}
    answer = answer_to(problems, given, ask(problems, "extent()", "mol", "species"), AMMONIA)
    assert answer.truth is not None
    assert (answer.truth.choice, answer.truth.also) == ("H2", also)


def test_an_equation_is_balanced(problems: Any) -> None:
    answer = answer_to(problems, {}, ask(problems, "extent(,balanced)", "1", "equation"), AMMONIA)
    assert answer.truth is not None
    assert answer.truth.text == AMMONIA


# 18.0 g of water is 0.999 mol, 31.0 g of methanol is 0.967 mol with twice the hydrogen atoms
COMPARED = {"mass(H2O)": "18.0 g", "mass(CH4O)": "31.0 g", "mass(C6H6)": "39.0 g"}


@pytest.mark.parametrize(
    ("question", "picked"),
    [
        (compare("count"), "H2O"),
        (compare("amount", greatest=False), "C6H6"),
        (compare("mass"), "C6H6"),
        (compare("count", "H"), "CH4O"),
        (compare("mass", "H"), "CH4O"),
        (compare("amount", "C"), "C6H6"),
        (compare("count", "C", greatest=False), "H2O"),
        (compare("count", ATOMS), "C6H6"),
        (compare("count", ATOMS, greatest=False), "H2O"),
    ],
)
def test_substances_are_ranked_by_what_they_hold(problems: Any, question: Question, picked: str) -> None:
    answer = answer_to(problems, COMPARED, question, others=["H2O", "CH4O", "C6H6", "H", "C"])
    assert answer.truth is not None
    assert (answer.truth.choice, answer.truth.also, answer.ranked) == (picked, (), ("H2O", "CH4O", "C6H6"))


def test_substances_that_hold_as_much_are_all_right(problems: Any) -> None:
    given = {"amount(N2)": "1.00 mol", "amount(NO)": "1.00 mol", "amount(Ne)": "2.0 mol"}
    answer = answer_to(problems, given, compare("count", greatest=False), others=["N2", "NO", "Ne"])
    assert answer.truth is not None
    assert (answer.truth.choice, answer.truth.also) == ("N2", ("NO",))


def test_several_questions_are_answered_in_order(problems: Any) -> None:
    questions = [ask(problems, "amount(NaCl)", "mmol"), compare("mass"), ask(problems, "molar_mass(NaCl)", "g/mol")]
    solution = solved(problems, {"mass(NaCl)": "2.922 g"}, questions, others=["NaCl"])
    assert [answer.question for answer in solution.answers] == questions
    amount, most, mass = (answer.truth for answer in solution.answers)
    assert amount is not None
    assert most is not None
    assert mass is not None
    assert (amount.value, most.choice, mass.printed) == (50, "NaCl", "58.44")


GIVEN = {"mass(N2)": "28.0 g", "mass(H2)": "5.00 g", "mass(NH3,actual)": "20.0 g"}


@pytest.mark.parametrize(
    ("asked", "not_used"),
    [
        ([("percent_yield(NH3)", "%")], ()),
        ([("mass(NH3,theoretical)", "g")], ("mass(NH3,actual)",)),
        ([("amount(N2)", "mol")], ("mass(H2)", "mass(NH3,actual)")),
        ([("amount(N2)", "mol"), ("amount(H2)", "mol")], ("mass(NH3,actual)",)),
    ],
)
def test_given_values_that_no_answer_rests_on_are_told(
    problems: Any, asked: list[tuple[str, str]], not_used: tuple[str, ...]
) -> None:
    questions = [ask(problems, name, unit) for name, unit in asked]
    assert solved(problems, GIVEN, questions, AMMONIA, product="NH3").not_used == not_used


def test_a_ranking_uses_what_each_substance_is_measured_by(problems: Any) -> None:
    given = {"mass(H2O)": "18.0 g", "volume(CH4O)": "20.0 mL", "density(CH4O)": "0.79 g/mL", "pressure(CH4O)": "1 bar"}
    solution = solved(problems, given, [compare("count")], others=["H2O", "CH4O"])
    assert solution.not_used == ("pressure(CH4O)",)


REFUSED = [
    (
        {"volume(HCl,solution)": "5.00 mL"},
        [("amount(HCl)", "mol")],
        (
            "the amount of HCl cannot be derived from what is given; missing: the mass of HCl or the number of "
            "particles of HCl or the amount concentration of HCl"
        ),
    ),
    (
        {"amount(HCl)": "1.00 mol", "volume(HCl,solution)": "0 mL"},
        [("concentration(HCl)", "mol/L")],
        "these values lead to a division by zero",
    ),
]


@pytest.mark.parametrize(("given", "asked", "error"), REFUSED)
def test_what_cannot_be_derived_is_told(
    problems: Any, given: dict[str, str], asked: list[tuple[str, str]], error: str
) -> None:
    questions = [ask(problems, name, unit) for name, unit in asked]
    solution = solved(problems, given, questions, others=["HCl"])
    assert (solution.error, solution.plan, solution.not_used) == (error, None, ())
    assert solution.answers == tuple(map(SolvedQuestion, questions))


def test_a_problem_that_cannot_be_expressed_keeps_its_reason() -> None:
    questions = (Question({"quantity": "mass"}, None, "2"), Question({}, None, None))
    solution = solve(FixedProblem("p1", None, {}, {}, questions, error="an unknown quantity"), constants())
    assert solution.error == "an unknown quantity"
    assert [answer.question for answer in solution.answers] == list(questions)
    assert {answer.truth for answer in solution.answers} == {None}


def test_with_nothing_to_compare_a_ranking_is_refused(problems: Any) -> None:
    solution = solved(problems, {}, [compare("count")], others=["H2O"])
    assert solution.error == "there is nothing to compare: of no substance is anything given"


def test_what_a_substance_without_a_formula_holds_cannot_be_told(problems: Any) -> None:
    scene = problems.scene({"mass(H2O)": "1 g"}, others=["H2O", "H"])
    brine = Quantity("amount", "brine")
    species = {**scene.species, "brine": type(scene.species["H2O"])("brine", "brine")}
    scene = type(scene)(species, frozenset({brine}), scene.weights)
    given = {brine: Datum(read_written("1"), "mol")}
    solution = solve(FixedProblem("p", scene, given, {}, (compare("count", "H"),)), constants())
    assert solution.error == "what brine holds cannot be told without its formula"


def test_given_values_are_windows_of_their_written_digits(problems: Any) -> None:
    """25 °C is known to three figures of kelvin, and may have been converted with 273 and rounded."""
    told = {"temperature(H2)": Datum(read_written("25"), "°C")}
    scene = problems.scene(told, others=["H2"])
    question = ask(problems, "temperature(H2)", "K")
    problem = FixedProblem("p1", scene, {q: told[q.id] for q in scene.given}, {}, (question,))
    (answer,) = solve(problem, constants()).answers
    assert answer.truth is not None
    assert (float(answer.truth.low), float(answer.truth.high)) == (297, 299.15)
