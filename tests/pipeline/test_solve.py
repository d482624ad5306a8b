"""Problems as people would type them, solved and judged: our own, worked by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from problemgen.pipeline.solve import solve_problems
from problemgen.pipeline.solve import solved as told_of
from problemgen.plan.solve import Solution

ALUMINIUM = "2 Al + 3 Cl2 -> 2 AlCl3"
NEUTRAL = "CH3CO2H + NaOH -> CH3CO2Na + H2O"


def line(text: str, key: str) -> dict[str, Any]:
    """A line from "quantity of role: value unit"; "-" for no substance."""
    told, _, amount = text.partition(": ")
    quantity, of, *role = told.split(" ")
    value, _, unit = amount.partition(" ")
    about = {"quantity": quantity, **({"of": of} if of != "-" else {}), **({"role": role[0]} if role else {})}
    return {**about, **({key: value} if value else {}), **({"unit": unit} if unit else {})}


def problem(given: str, asked: str, **more: Any) -> dict[str, Any]:
    told = {"given": [line(one, "value") for one in given.split("; ") if one]}
    return {**more, **told, "asked": [line(one, "answer") for one in asked.split("; ")]}


def solved(data: Any) -> Solution:
    (solution,) = solve_problems(data)
    return solution


def verdicts(solution: Solution) -> list[bool | None]:
    assert solution.error is None
    return [answer.accepted for answer in solution.answers]


@pytest.mark.parametrize(
    ("given", "asked", "more"),
    [
        ("mass NaCl: 250 mg", "amount NaCl: 4.28 mmol", {}),
        ("volume HCl: 10.0 mL; mass_fraction HCl: 37.0 %; density HCl: 1.18 g/mL", "amount HCl: 0.120 mol", {}),
        (
            ("purity NaOH: 97.0 %; mass_fraction NaOH: 10.0 %; density NaOH solution: 1.109 g/mL; "
            "volume NaOH solution: 1.00 L"),
            "mass NaOH impure: 114 g",
            {},
        ),
        (
            "concentration HCl initial: 12.0 mol/L; concentration HCl final: 0.500 mol/L; volume HCl final: 250 mL",
            "volume HCl initial: 10.4 mL",
            {},
        ),
        (
            "mass aluminium: 2.70 g; mass Cl2: 4.05 g",
            "limiting_reagent -: chlorine; mass product: 5.08 g; mass Al left: 1.67 g; amount -: 38.1 mmol",
            {"equation": ALUMINIUM, "substances": {"aluminium": "Al", "chlorine": "Cl2"}},
        ),
        (
            ("volume CH3CO2H: 25.00 mL; concentration CH3CO2H: 0.1000 mol/L; volume NaOH: 30.00 mL; "
            "concentration NaOH: 0.1000 mol/L"),
            "excess NaOH: 20.0 %; concentration NaOH mixed: 9.09e-3 mol/L; amount NaOH left: 0.500 mmol",
            {"equation": NEUTRAL},
        ),
        (
            "mass CO2: 0.7847 g; mass H2O: 0.3213 g",
            "empirical_formula -: CH2",
            {"unknown": {"elements": ["C", "H"]}},
        ),
        ("mass CuSO4.5H2O: 2.50 g; volume CuSO4: 100.0 mL", "concentration CuSO4: 0.100 mol/L", {}),
        ("amount fat: 2.00 mol; molar_mass fat: 18.02 g/mol", "mass fat: 36.0 g", {"substances": {"fat": None}}),
        ("mass C8H18: 1.000 kg", "mass_fraction C: 84.1 %; mass C: 841 g", {}),
    ],
)  # fmt: skip
def test_a_problem_is_solved(given: str, asked: str, more: dict[str, Any]) -> None:
    solution = solved(problem(given, asked, **more))
    assert verdicts(solution) == [True] * len(asked.split("; "))
    assert solution.not_used == ()


def test_a_limestone_whose_purity_nobody_asked_for() -> None:
    told = problem("mass limestone: 12.5 g; purity limestone: 90 %; mass CO2: 4.95 g", "amount CO2: 0.112 mol")
    solution = solved({"id": "p", "substances": {"limestone": "CaCO3"}, **told})
    assert verdicts(solution) == [True]
    assert solution.not_used == ("mass of limestone", "purity of limestone")
    data = told_of(solution).data()
    assert data["not_used"] == ["mass of limestone", "purity of limestone"]


ONE_MOLAR = "volume {}: 25.00 mL; concentration {}: 0.1000 mol/L"


@pytest.mark.parametrize(
    ("given", "asked", "error"),
    [
        (
            ONE_MOLAR.format("NaOH", "NaOH"),
            "amount NaOH left: 0.000 mol",
            "the amount of NaOH (left) cannot be told from the equation; missing: the amount of CH3CO2H",
        ),
        (
            ONE_MOLAR.format("CH3CO2H", "CH3CO2H") + "; volume NaOH solution: 30.00 mL",
            "excess NaOH: 0.000 %",
            "the percent excess of NaOH cannot be told from the equation; missing: the amount of NaOH",
        ),
    ],
)
def test_an_excess_that_the_data_do_not_tell_is_an_error_and_never_0(given: str, asked: str, error: str) -> None:
    solution = solved(problem(given, asked, equation=NEUTRAL))
    assert solution.error == error
    assert [(answer.truth, answer.accepted) for answer in solution.answers] == [(None, False)]


@pytest.mark.parametrize(
    ("answer", "accepted"),
    [
        ("69.94", True),
        ("69.9", True),  # one figure fewer than the data support, and still three
        ("69.9 %", True),
        ("0.6994", False),  # a bare number is in the unit asked for
        ("about 69.94 percent", True),
        ("69,94", True),
        ("70", False),
        ("69.8", False),
        ("6.994", False),
        ("69.94 g", False),
        ("no idea", False),
        (None, None),
    ],
)
def test_an_answer_is_accepted_as_a_students_would_be(answer: str | None, accepted: bool | None) -> None:
    data = problem("mass Cu: 0.6994 g; mass sample: 1.000 g", "mass_fraction Cu")
    data["asked"][0]["answer"] = answer
    solution = solved(data)
    assert verdicts(solution) == [accepted]
    truth = solution.answers[0].truth
    assert truth is not None
    assert truth.printed == "69.94"


@pytest.mark.parametrize(
    ("answer", "accepted"),
    [
        ("N2 + 3 H2 -> 2 NH3", True),
        ("3H2 + N2 = 2NH3", True),
        ("2 N2 + 6 H2 -> 4 NH3", True),
        ("N2 + 3 H2 -> 3 NH3", False),
        ("H2 -> NH3", False),
    ],
)
def test_an_equation_is_balanced_and_judged(answer: str, accepted: bool) -> None:
    asked = [{"quantity": "balanced_equation", "answer": answer}]
    solution = solved({"equation": "N2 + H2 -> NH3", "asked": asked})
    assert verdicts(solution) == [accepted]
    data = told_of(solution).data()
    assert data["asked"][0]["text"] == "N2 + 3 H2 -> 2 NH3"


@pytest.mark.parametrize(
    ("answer", "accepted"),
    [("water", True), ("H2O", True), ("h2o", True), ("it is water", True), ("methanol", False), ("ethanol", False)],
)
def test_a_choice_is_read_as_a_students_is(answer: str, accepted: bool) -> None:
    data = problem(
        "mass water: 18.0 g; mass methanol: 31.0 g", "amount -", substances={"water": "H2O", "methanol": "CH4O"}
    )
    data["asked"] = [{"which": "greatest", "quantity": "amount", "answer": answer}]
    assert verdicts(solved(data)) == [accepted]


@pytest.mark.parametrize(("answer", "accepted"), [("CuO", True), ("Cu₂O", False), ("OCu", True), ("copper", False)])
def test_a_formula_is_judged_by_its_composition(answer: str, accepted: bool) -> None:
    data = problem("mass Cu: 3.995 g; mass O: 1.005 g", "empirical_formula -", unknown={"elements": ["Cu", "O"]})
    data["asked"][0]["answer"] = answer
    assert verdicts(solved(data)) == [accepted]


def test_a_wrong_answer_does_not_carry_over_to_the_next() -> None:
    """Each published answer stands by itself: nothing follows from an earlier one that is wrong."""
    asked = "amount Al: 0.200 mol; mass AlCl3: 26.7 g; mass AlCl3 theoretical: 13.34 g"
    assert verdicts(solved(problem("mass Al: 2.70 g", asked, equation=ALUMINIUM))) == [False, False, True]


def test_problems_come_from_a_file_a_list_or_one_mapping(tmp_path: Path) -> None:
    good = problem("mass NaCl: 5.844 g", "amount NaCl: 0.1000 mol", id="good")
    path = tmp_path / "p.json"
    path.write_text(json.dumps([good, {"id": "bad"}]), encoding="utf-8")
    from_file = solve_problems(path)
    assert [solution.problem.id for solution in from_file] == ["good", "bad"]
    assert from_file[1].error == "asked: found nothing; expected a value for this key"
    assert list(map(told_of, from_file)) == list(map(told_of, solve_problems([good, {"id": "bad"}])))
    assert list(map(told_of, from_file[:1])) == list(map(told_of, solve_problems(good)))


def test_json_keeps_the_line_and_has_numbers_as_text() -> None:
    (solution,) = solve_problems(problem("mass NaCl: 5.844 g", "amount NaCl: 0.1000 mmol", id="a"))
    data = told_of(solution).data()
    assert data == {
        "id": "a",
        "error": None,
        "asked": [
            {
                "quantity": "amount",
                "of": "NaCl",
                "role": None,
                "stage": None,
                "from": None,
                "unit": "mmol",
                "which": None,
                "value": "100.000000000",
                "low": "99.9859449482",
                "high": "100.063556516",
                "text": None,
                "accepted": False,
            }
        ],
        "not_used": [],
    }
