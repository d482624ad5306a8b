"""Problems with fixed numbers are read in the terms of templates, and strictly.

A line is written "quantity of [role [stage]] = [value] [unit]"; "-" for no substance.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks.banks import load_weights
from problemgen.load.problems.fixed_problems import load_problems, read_problems
from problemgen.model.fixed import FixedProblem, Ranking
from problemgen.model.problem import Asked
from problemgen.model.quantity import TEMPLATE_ROLES

WEIGHTS = load_weights(Path(__file__).parents[3] / "banks")[0]
ALUMINIUM = "2 Al + 3 Cl2 -> 2 AlCl3"
ALL_ROLES = ", ".join(TEMPLATE_ROLES)


def line(text: str) -> dict[str, Any]:
    told, _, amount = text.partition(" = ")
    quantity, of, *role = told.split(" ")
    value, _, unit = amount.partition(" ")
    value, unit = ("", value) if value.isalpha() else (value, unit)
    return {
        "quantity": quantity,
        **({"of": of} if of != "-" else {}),
        **({"role": role[0].strip('"')} if role else {}),
        **({"stage": int(role[1])} if len(role) > 1 else {}),
        **({"value": value} if value else {}),
        **({"unit": unit} if unit else {}),
    }


def read(given: str, asked: str, **more: Any) -> FixedProblem:
    lines = {key: [line(one) for one in text.split("; ") if one] for key, text in (("given", given), ("asked", asked))}
    (problem,) = read_problems({**lines, **more}, WEIGHTS)
    return problem


def ids(problem: FixedProblem) -> list[str]:
    assert problem.error is None
    return [quantity.id for quantity in problem.given]


def targets(problem: FixedProblem) -> list[str]:
    assert problem.error is None
    assert all(isinstance(question.target, Asked) for question in problem.questions)
    return [question.target.quantity.id for question in problem.questions if isinstance(question.target, Asked)]


@pytest.mark.parametrize(
    ("given", "quantities"),
    [
        ("mass NaCl = 1 g", ["mass(NaCl)"]),
        ("mass AlCl3 = 1 g", ["mass(AlCl3,theoretical)"]),
        ("mass AlCl3 = 1 g; percent_yield AlCl3 = 80 %", ["mass(AlCl3,actual)", "percent_yield(AlCl3)"]),
        ("mass AlCl3 actual = 1 g", ["mass(AlCl3,actual)"]),
        ('mass AlCl3 "" = 1 g', ["mass(AlCl3)"]),
        ("volume HCl = 1 mL; concentration HCl = 1 mol/L", ["volume(HCl,solution)", "concentration(HCl)"]),
        ('volume HCl "" = 1 mL; concentration HCl = 1 mol/L', ["volume(HCl)", "concentration(HCl)"]),
        ("volume HCl = 1 mL; density HCl = 1.1 g/mL", ["volume(HCl)", "density(HCl)"]),
        (
            "volume HCl = 1 mL; density HCl = 1.1 g/mL; mass_fraction HCl = 9 %",
            ["volume(HCl,solution)", "density(HCl,solution)", "mass_fraction(HCl)"],
        ),
        ("mass NaOH = 1 g; purity NaOH = 97 %", ["mass(NaOH,impure)", "mass_fraction(NaOH)"]),
        (
            "purity NaOH = 97 %; mass_fraction NaOH = 10 %",
            ["mass_fraction(NaOH,purity)", "mass_fraction(NaOH)"],
        ),
        ("volume HCl initial = 1 mL; mass HCl final = 2 g", ["volume(HCl,initial)", "mass(HCl,final solution)"]),
        (
            "mass O2 initial = 1 g; temperature O2 initial = 20 °C",
            ["mass(O2,initial)", "temperature(O2,initial)"],
        ),
        ("volume HCl diluted 2 = 250 mL", ["volume(HCl,step_two)"]),
        ("pressure mixture = 1 atm; volume mixture = 1 L", ["pressure(,mixed)", "volume(,mixed)"]),
        ("mass sample = 1 g; mass sample heated = 1 g", ["mass(,sample)", "mass(,heated)"]),
        ("mass Cu sample = 1 g", ["mass(,sample)"]),
        ("mole_fraction O2 = 0.2", ["mole_fraction(O2)"]),
        ("amount CuSO4*5H2O = 1 mol", ["amount(CuSO4.5H2O)"]),
    ],
)
def test_what_is_given_is_what_a_template_takes_it_for(given: str, quantities: list[str]) -> None:
    assert ids(read(given, "molar_mass NaCl", equation=ALUMINIUM)) == quantities


@pytest.mark.parametrize(
    ("asked", "target"),
    [
        ("mass Al", "mass(Al)"),
        ("mass AlCl3", "mass(AlCl3,theoretical)"),
        ("mass product", "mass(AlCl3,theoretical)"),
        ("mass -", "mass(AlCl3,theoretical)"),
        ("mass AlCl3 actual", "mass(AlCl3,actual)"),
        ('mass AlCl3 ""', "mass(AlCl3)"),
        ("mass Al left", "mass(Al,left)"),
        ("volume HCl", "volume(HCl,solution)"),
        ("mass HCl initial", "mass(HCl,initial solution)"),
        ("concentration HCl diluted 3", "concentration(HCl,step_three)"),
        ("volume mixture", "volume(,mixed)"),
        ("mass sample", "mass(,sample)"),
        ("limiting_reagent -", "extent()"),
        ("atom_economy product", "atom_economy(AlCl3)"),
    ],
)
def test_what_is_asked_is_what_a_template_takes_it_for(asked: str, target: str) -> None:
    assert targets(read("concentration HCl = 1 mol/L", asked, equation=ALUMINIUM)) == [target]


def test_without_an_equation_a_product_is_whatever_was_made() -> None:
    given = "mass product theoretical = 12.5 g; mass product actual = 9.85 g"
    problem = read(given, "percent_yield product; percent_yield -")
    assert ids(problem) == ["mass(product,theoretical)", "mass(product,actual)"]
    assert targets(problem) == ["percent_yield(product)"] * 2


def test_a_solution_of_several_substances_has_one_volume() -> None:
    problem = read("mass NaCl = 1 g; mass KCl = 1 g; volume solution = 1 L", "concentration Cl-")
    assert ids(problem) == ["mass(NaCl)", "mass(KCl)", "volume(,common)"]


def test_a_product_as_far_as_a_reagent_allows() -> None:
    question = {"quantity": "amount", "of": "product", "from": "aluminium", "unit": "mmol"}
    data = {"equation": ALUMINIUM, "substances": {"aluminium": "Al"}, "asked": [question]}
    (problem,) = read_problems(data, WEIGHTS)
    assert targets(problem) == ["amount(AlCl3,from:Al)"]


def test_a_volume_of_what_a_concentration_is_asked_of_is_its_solutions() -> None:
    assert ids(read("mass KOH = 5.61 g; volume KOH = 0.250 L", "concentration KOH")) == [
        "mass(KOH)",
        "volume(KOH,solution)",
    ]


def test_an_unknown_compound_has_its_elements_and_the_one_by_difference() -> None:
    unknown = {"elements": ["C", "H", "O"], "rest": "O"}
    given = "mass_fraction C = 40.00 %; mass_fraction H = 6.71 %; molar_mass compound = 90.1 g/mol"
    problem = read(given, "empirical_formula -; molecular_formula -", unknown=unknown)
    assert problem.scene is not None
    assert (problem.scene.unknown, problem.scene.unknown_rest) == (("C", "H", "O"), "O")
    assert targets(problem) == ["molar_mass(compound,empirical)", "molar_mass(compound,molecular)"]


def test_what_a_scene_holds_beside_its_lines() -> None:
    equation = "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> K2SO4 + 2 MnSO4 + 5 Fe2(SO4)3 + 8 H2O"
    more = {"equation": equation, "product": "MnSO4", "in_excess": ["H2SO4"], "solvent": "water"}
    problem = read("mass KMnO4 = 1 g", "mass product", substances={"water": "H2O"}, **more)
    assert problem.scene is not None
    assert targets(problem) == ["mass(MnSO4,theoretical)"]
    assert problem.scene.in_excess == {"H2SO4"}
    assert (problem.scene.solvent, problem.scene.species["H2O"].name) == ("H2O", "water")


def test_values_keep_their_written_digits_as_text_or_as_numbers_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "p.json"
    path.write_text(
        '[{"given": [{"quantity": "mass", "of": "NaCl", "value": "5.00", "unit": "g"},'
        ' {"quantity": "volume", "of": "NaCl", "value": 2.50, "unit": "mL"},'
        ' {"quantity": "count", "of": "NaCl", "value": 6.0e23, "unit": "molecules"},'
        ' {"quantity": "amount", "of": "NaCl", "value": 5, "unit": "mol"}],'
        ' "asked": [{"quantity": "density", "of": "NaCl", "answer": 2.170}]}]',
        encoding="utf-8",
    )
    (problem,) = load_problems(path, WEIGHTS)
    assert [(one.written.figures, one.written.text) for one in problem.given.values()] == [
        (3, "5.00"),
        (3, "2.50"),
        (2, "6.0e23"),
        (1, "5"),
    ]
    assert problem.questions[0].answer == "2.170"


def test_a_question_keeps_its_line_with_the_unit_of_its_answer() -> None:
    asked = [{"quantity": "mass", "of": "salt", "answer": "1"}, {"which": "least", "quantity": "count", "of": "atoms"}]
    given = [line("amount salt = 1 mol")]
    (problem,) = read_problems([{"substances": {"salt": "NaCl"}, "given": given, "asked": asked}], WEIGHTS)
    plain = dict.fromkeys(("role", "stage", "from"))
    assert [question.line for question in problem.questions] == [
        {"quantity": "mass", "of": "salt", **plain, "unit": "g", "which": None},
        {"quantity": "count", "of": "atoms", **plain, "unit": None, "which": "least"},
    ]
    assert problem.questions[1].target == Ranking("count", greatest=False, part="atoms")
    assert list(problem.words.values()) == ["amount of salt"]


def test_given_values_are_told_in_the_words_of_their_lines() -> None:
    given = "purity limestone = 90 %; volume HCl diluted 2 = 1 L; mass sample = 1 g; molar_mass NaCl = 58 g/mol"
    problem = read(given, "molar_mass NaCl", substances={"limestone": "CaCO3"})
    assert list(problem.words.values()) == [
        "purity of limestone",
        "volume of HCl (diluted 2)",
        "mass of sample",
        "molar mass of NaCl",
    ]


def test_all_faults_of_a_problem_are_its_error() -> None:
    problem = read(
        "massx NaCl = 1 g; mass salt = 1 g; mass Al lefft = 1 g; mass Al left 2 = 1 g; volume Al = 1 g; mass Al = 1",
        "happiness Al; mass aluminum; mass Al = mL; volume HCl diluted 7; empirical_formula -",
        substances={"aluminium": "Al", "product": "Ar"},
        in_excess=["argon", "NaCl"],
    )
    assert problem.scene is None
    assert problem.error is not None
    faults = problem.error.splitlines()
    assert [fault.partition(": ")[0] for fault in faults] == [
        "asked.1.quantity",
        "asked.2.of",
        "asked.3.unit",
        "asked.4.stage",
        "asked.5.quantity",
        "given.1.quantity",
        "given.2.of",
        "given.3.role",
        "given.4.stage",
        "given.5.unit",
        "given.6.unit",
        "in_excess.1",
        "in_excess.2",
        "substances.product",
    ]
    assert faults[1] == (
        "asked.2.of: found 'aluminum'; expected a formula, aluminium, product; other names stand in `substances`. "
        "Did you mean 'aluminium'?"
    )
    assert faults[3] == "asked.4.stage: found 7; expected one of 1, 2, 3, 4, 5, 6"
    assert faults[4] == "asked.5.quantity: found 'empirical_formula'; expected `unknown`, with the elements"
    assert faults[5].endswith(". Did you mean 'mass'?")
    assert faults[7] == f"given.3.role: found 'lefft'; expected one of {ALL_ROLES}. Did you mean 'left'?"
    assert faults[12] == "in_excess.2: found 'NaCl'; expected a reagent of the equation"
    assert faults[9:11] == [
        "given.5.unit: found 'g'; expected a unit of volume, such as mL",
        "given.6.unit: found nothing; expected a unit of mass, such as g",
    ]


@pytest.mark.parametrize(
    ("change", "error"),
    [
        ({"given": [line("mass H2 = 1 g"), line("mass H2 = 2 g")]},
         "given.2.quantity: found the mass of H2 again; expected each quantity once, or a `role`"),
        ({"given": [line("mass H2 = 1,5 g")]},
         "given.1.value: found '1,5'; expected a number: '1,5' is not a number; write 1.5"),
        ({"given": [line("mass H2 = 0 g")]}, "given.1: found 0 g; expected a number above 0"),
        ({"given": [line("percent_yield H2 = 110 %")]}, "given.1: found 110 %; expected at most 100 %"),
        ({"given": [{**line("mass H2 = 1 g"), "rolle": "left"}]},
         ("given.1.rolle: found an unknown key; expected one of of, quantity, role, stage, unit, value. "
         "Did you mean 'role'?")),
        ({"given": [{"quantity": "mass", "of": "H2"}]}, "given.1.value: found nothing; expected a value for this key"),
        ({"asked": []}, "asked: found an empty list; expected one entry or more"),
        ({"asked": [{"quantity": "mass", "of": "H2", "which": "most"}]},
         "asked.1.which: found 'most'; expected 'greatest' or 'least'"),
        ({"asked": [{"quantity": "volume", "which": "least"}]},
         "asked.1.quantity: found 'volume'; expected one of mass, amount, count"),
        ({"asked": [{"quantity": "balanced_equation"}]},
         "equation: found nothing; expected the equation that is to be balanced"),
        ({"equation": "2 H2 + O2 -> 3 H2O"},
         ("equation: found '2 H2 + O2 -> 3 H2O'; expected a balanced equation: 2 H2 + O2 -> 3 H2O is not balanced: H 4 "
         "on the left, 6 on the right; O 2, 3. Balanced: 2 H2 + O2 -> 2 H2O")),
        ({"equation": "H2 -> O2", "asked": [{"quantity": "balanced_equation"}]},
         ("equation: found 'H2 -> O2'; expected a balanced equation: no positive coefficients balance H2 -> O2: H, O "
         "stand on one side only")),
        ({"unknown": {"elements": ["C", "Xx"], "rest": "O"}},
         ("unknown.elements.2: found 'Xx'; expected the symbol of an element\n"
         "unknown.rest: found 'O'; expected one of C, Xx")),
        ({"unknown": {"elements": []}}, "unknown.elements: found an empty list; expected one entry or more"),
        ({"kind": "molar_mass"},
         ("kind: found an unknown key; expected one of asked, equation, given, id, in_excess, note, product, solvent, "
         "source, substances, unknown. Did you mean 'id'?")),
        ({"given": [line("mass Og = 1 g")]}, "banks/elements.toml has no atomic weight of Og"),
    ],
)  # fmt: skip
def test_a_fault_tells_where_it_is_what_was_found_and_what_to_do(change: dict[str, Any], error: str) -> None:
    problem = {"asked": [{"quantity": "molar_mass", "of": "H2", "answer": "2.016"}], **change}
    (read_problem,) = read_problems(problem, WEIGHTS)
    assert read_problem.error == error


def test_one_bad_problem_leaves_the_others_and_keeps_its_lines() -> None:
    good = {"asked": [{"quantity": "molar_mass", "of": "H2"}]}
    odd: list[Any] = [{"quantity": 3.5, "of": ["H2"], "answer": 2}, "molar_mass", None]
    one, two, three, four = read_problems(
        [good, {"id": "bad", "asked": odd}, {"id": 7, "asked": "mass"}, {**good, "id": "good"}], WEIGHTS
    )
    assert [problem.id for problem in (one, two, three, four)] == ["1", "bad", "7", "good"]
    assert [problem.error is None for problem in (one, two, three, four)] == [True, False, False, True]
    assert [(question.line["quantity"], question.line["of"], question.answer) for question in two.questions] == [
        ("3.5", "['H2']", "2"),
        (None, None, None),
        (None, None, None),
    ]
    assert three.questions == ()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("[", "found a slip in the notation: Expecting value: line 1 column 2 (char 1); expected valid JSON"),
        ("3", "found 3; expected a list of problems, or one"),
        ('"mass"', "found 'mass'; expected a list of problems, or one"),
        ("[3]", "1: found 3; expected a problem: an object"),
        ('[{"id": "a"}, {}, {"id": "a"}]', "3.id: found 'a' again; expected each problem by a name of its own"),
        ('[{"id": "a", "id": "b"}]',
         "found a slip in the notation: one key twice among id, id; expected valid JSON"),
        ("[" * 100_000, "found tables or lists nested more than 32 deep; expected at most 32 levels"),
    ],
)  # fmt: skip
def test_a_file_that_is_no_list_of_problems_is_refused(tmp_path: Path, text: str, expected: str) -> None:
    path = tmp_path / "p.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        load_problems(path, WEIGHTS)
    assert str(caught.value).startswith(f"{path}: {expected}")


def test_all_faults_of_a_list_are_told_at_once() -> None:
    with pytest.raises(FaultsError) as caught:
        read_problems([{}, 3, None, {"id": "1"}], WEIGHTS, "notebook")
    assert str(caught.value).splitlines() == [
        "notebook: 2: found 3; expected a problem: an object",
        "notebook: 3: found None; expected a problem: an object",
        "notebook: 4.id: found '1' again; expected each problem by a name of its own",
    ]


def test_a_file_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="found no such file or directory; expected a readable JSON file"):
        load_problems(tmp_path / "none.json", WEIGHTS)
    (tmp_path / "p.json").write_bytes(b"[\xff]")
    with pytest.raises(FaultsError, match="found bytes that are not UTF-8; expected text in UTF-8"):
        load_problems(tmp_path / "p.json", WEIGHTS)


def test_a_value_of_a_huge_power_is_a_fault_and_no_burden() -> None:
    text = json.loads(
        '[{"given": [{"quantity": "mass", "of": "H2", "value": "1e999999999", "unit": "g"}], "asked": []}]'
    )
    (problem,) = read_problems(text, WEIGHTS)
    assert "the power of ten of '1e999999999' is beyond 999" in (problem.error or "")
