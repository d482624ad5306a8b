"""Answers in chemical notation: a formula worked from a combustion, and an equation balanced."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.grade.judging.judge import judge_student
from problemgen.grade.judging.notation import (
    Notation,
    equation_finding,
    formula_mass,
    read_equation_answer,
    read_formula_answer,
    subscripts,
)
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.template import Template
from problemgen.model.verdict import PartResult
from tests.support.contract import read_back

ROOT = Path(__file__).parents[3]
F = Fraction

LACTIC = """title = "Lactic acid, burnt"
topic = "t"
difficulty = 3
[unknown]
formulas = ["C3H6O3"]
analysis = "combustion"
rest = "O"
sample = { from = 0.2500, to = 0.3000, unit = "g", read = "balance-0.0001" }
read = "balance-0.0001"
molar_mass = 1
[[part]]
quantity = "empirical_formula"
points = 2
[[part]]
quantity = "molecular_formula"
"""

PERMANGANATE = "2 KMnO4 + 5 Na2C2O4 + 8 H2SO4 -> 2 MnSO4 + K2SO4 + 5 Na2SO4 + 10 CO2 + 8 H2O"

Marked = Callable[[Mapping[str, str]], dict[str, PartResult]]


def loaded(folder: Path, text: str) -> Template:
    path = folder / "t.toml"
    path.write_text(text, encoding="utf-8")
    return load_template(path, "t", load_banks(ROOT / "banks"))


def marker(template: Template) -> Marked:
    """Marks one student's cells, by part letter."""
    variants = list(Maker(template, Stream(b"notation", "notation", "p1")).variants(["s1"]))
    head, (key,) = read_back(template, variants)

    def marked(cells: Mapping[str, str]) -> dict[str, PartResult]:
        result = judge_student(head, key, {f"1{label}": text for label, text in cells.items()})
        return {part.label[1:]: part for part in result.parts}

    return marked


@pytest.fixture(scope="module")
def lactic(tmp_path_factory: pytest.TempPathFactory) -> Template:
    return loaded(tmp_path_factory.mktemp("t"), LACTIC)


@pytest.fixture(scope="module")
def burnt(lactic: Template) -> Marked:
    return marker(lactic)


@pytest.fixture(scope="module")
def oxalate() -> Marked:
    path = ROOT / "templates/equations/oxalate-and-permanganate.toml"
    return marker(load_template(path, "t", load_banks(ROOT / "banks")))


# formulas


@pytest.mark.parametrize("wrote", ["CH2O", "HCHO", "C H2 O", "= CH2O.", "CH₂O", "OCH2"])
def test_a_formula_with_the_right_atoms_is_right(burnt: Marked, wrote: str) -> None:
    part = burnt({"a": wrote, "b": "C3H6O3"})["a"]
    assert (part.verdict, part.points, part.sentence) == ("right", F(2), "Right.")


@pytest.mark.parametrize(
    ("cells", "label", "verdict", "reason", "points"),
    [
        ({"a": "CH2O", "b": "C3H6O3"}, "b", "right", "in-window", F(1)),
        ({"a": "CH2O", "b": "C2H4O2"}, "b", "wrong", "no-match", F(0)),  # another formula
        ({"a": "CH3O"}, "a", "wrong", "no-match", F(0)),
        ({"a": "CH2S"}, "a", "wrong", "no-match", F(0)),  # an element that nobody analysed
        ({"a": "CH2O", "b": "CH2O"}, "b", "mistake", "multiple-left-out", F(0)),
        ({"a": "CH3O", "b": "C3H9O3"}, "b", "follows", "follow-through", F(1)),
        ({"a": "-"}, "a", "blank", "blank", F(0)),
        ({"a": "  "}, "a", "blank", "blank", F(0)),
        ({}, "a", "blank", "blank", F(0)),
        ({"a": "ch2o"}, "a", "unread", "unreadable", F(0)),
        ({"a": "30.03 g/mol"}, "a", "unread", "unreadable", F(0)),
        ({"a": "C" * 300}, "a", "unread", "unreadable", F(0)),
    ],
)
def test_a_formula_is_marked(
    burnt: Marked, cells: Mapping[str, str], label: str, verdict: str, reason: str, points: Fraction
) -> None:
    part = burnt(cells)[label]
    assert (part.verdict, part.reason.split(":")[0], part.points) == (verdict, reason, points)


def test_a_formula_that_is_not_read_says_why(burnt: Marked) -> None:
    sentence = burnt({"a": "Xx2"})["a"].sentence
    assert sentence.startswith('"Xx2" is not read as a formula: ')


def test_a_mistake_is_named_with_a_hint_that_does_not_give_the_formula(burnt: Marked) -> None:
    part = burnt({"a": "CH2O", "b": "CH2O"})["b"]
    assert part.sentence == (
        "This looks like: the empirical formula taken for the molecule's. "
        "Does the mass of your formula agree with the molar mass of the compound?"
    )


def test_masses_compared_instead_of_amounts_are_named(burnt: Marked) -> None:
    part = burnt({"a": "C6HO8"})["a"]  # 40.0 : 6.71 : 53.3 grams of C, H and O, over the least: 5.96 : 1 : 7.94
    assert (part.verdict, part.reason) == ("mistake", "masses-compared")


def test_a_formulas_mass_has_the_weights_of_the_plan(lactic: Template) -> None:
    assert formula_mass(read_formula("C3H6O3"), lactic.plan) == 3 * F("12.011") + 6 * F("1.008") + 3 * F("15.999")
    assert formula_mass(read_formula("NaCl"), lactic.plan) is None


def test_a_formula_as_subscripts_of_the_plan(lactic: Template) -> None:
    counts = subscripts(read_formula("CH2O"), lactic.plan, "empirical")
    assert counts == {"subscript(C,empirical)": 1, "subscript(H,empirical)": 2, "subscript(O,empirical)": 1}
    assert subscripts(read_formula("CH4"), lactic.plan, "molecular")["subscript(O,molecular)"] == 0


# equations


@pytest.mark.parametrize(
    ("wrote", "verdict", "reason", "remarks"),
    [
        (PERMANGANATE, "right", "in-window", 0),
        (PERMANGANATE.replace("->", "="), "right", "in-window", 0),
        (PERMANGANATE.replace("->", "→") + ".", "right", "in-window", 0),
        (
            "5 Na2C2O4 + 8 H2SO4 + 2 KMnO4 -> 10 CO2 + 8 H2O + 2 MnSO4 + K2SO4 + 5 Na2SO4",  # in another order
            "right",
            "in-window",
            0,
        ),
        (
            "4 KMnO4 + 10 Na2C2O4 + 16 H2SO4 -> 4 MnSO4 + 2 K2SO4 + 10 Na2SO4 + 20 CO2 + 16 H2O",
            "right",
            "in-window",
            1,
        ),
        (PERMANGANATE.replace("10 CO2", "5 CO2"), "wrong", "unbalanced", 0),
        (PERMANGANATE.replace("8 H2SO4", "8 HCl"), "wrong", "other-substances", 0),
        (PERMANGANATE.replace(" + 8 H2O", ""), "wrong", "other-substances", 0),
        ("2, 5, 8, 2, 1, 5, 10, 8", "unread", "unreadable", 0),
        ("KMnO4 + -> CO2", "unread", "unreadable", 0),
        ("", "blank", "blank", 0),
        ("?", "blank", "blank", 0),
    ],
)
def test_an_equation_is_marked(oxalate: Marked, wrote: str, verdict: str, reason: str, remarks: int) -> None:
    part = oxalate({"a": wrote})["a"]
    assert (part.verdict, part.reason, len(part.remarks)) == (verdict, reason, remarks)
    assert part.points == (2 if verdict == "right" else 0)


def test_an_unbalanced_equation_is_told_which_elements_to_count() -> None:
    key = read_equation("C3H8 + 5 O2 -> 3 CO2 + 4 H2O")
    finding, remark = equation_finding(read_equation("C3H8 + 4 O2 -> 3 CO2 + 4 H2O"), key)
    assert (finding.sentence, remark) == ("Not balanced: count O on both sides.", "")
    finding, _ = equation_finding(read_equation("C3H8 + 5 O2 -> CO2 + H2O"), key)
    assert finding.sentence == "Not balanced: count C, H, O on both sides."


def test_a_balanced_equation_of_the_same_substances_may_be_another_reaction() -> None:
    key = read_equation("2 KMnO4 + 5 H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 5 O2 + 8 H2O")
    other = read_equation("2 KMnO4 + 7 H2O2 + 3 H2SO4 -> 2 MnSO4 + K2SO4 + 6 O2 + 10 H2O")  # more peroxide decays
    finding, _ = equation_finding(other, key)
    assert (finding.verdict, finding.reason) == ("wrong", "other-reaction")


def test_charge_has_to_balance_too() -> None:
    key = read_equation("2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+")
    finding, _ = equation_finding(read_equation("Fe^3+ + Sn^2+ -> Fe^2+ + Sn^4+"), key)
    assert finding.sentence == "Not balanced: count charge on both sides."


@pytest.mark.parametrize(
    ("wrote", "text"),
    [
        ("Ag+ + Cl-->AgCl", "Ag+ + Cl- -> AgCl"),
        ("Ba^2+ + SO4^2-->BaSO4.", "Ba^2+ + SO4^2- -> BaSO4"),
        ("MnO4- + 8H+ + 5e-->Mn^2+ + 4H2O", "MnO4- + 8 H+ + 5 e- -> Mn^2+ + 4 H2O"),
        ("2H2 + O2-->2H2O", "2 H2 + O2 -> 2 H2O"),
        ("N2 + H2-->NH3", "N2 + H2 -> NH3"),
        ("2 H2 + O2 --> 2 H2O", "2 H2 + O2 -> 2 H2O"),
    ],
)
def test_a_charge_before_an_arrow_or_a_long_arrow(wrote: str, text: str) -> None:
    equation = read_equation_answer(wrote).equation
    assert equation is not None
    assert equation.text == text


@pytest.mark.parametrize("read", [read_formula_answer, read_equation_answer])
@pytest.mark.parametrize("wrote", ["=" * 100_000, "(" * 201, " -> " * 100])
def test_what_is_too_long_is_said_at_once(read: Callable[[str], Notation], wrote: str) -> None:
    unread = read(wrote).unread
    assert unread is not None
    assert unread.sentence == "This is too long for an answer."


@given(st.text(max_size=250))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (read_formula_answer, read_equation_answer):
        notation = read(text)
        found = [one for one in (notation.formula, notation.equation, notation.unread) if one is not None]
        assert len(found) == 1
