"""Which species a problem's words mean."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.load.documents import as_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.problems.documents import ProblemDocument
from problemgen.load.problems.named_species import NamedSpecies

EQUATION = "2 Al + 3 Cl2 -> 2 AlCl3"


def named(*, balanced: bool = True, **about: Any) -> tuple[NamedSpecies, FaultLog]:
    log = FaultLog("")
    document = as_document({"asked": [{"quantity": "mass"}], **about}, ProblemDocument, log)
    return NamedSpecies(document, log, balanced=balanced), log


@pytest.mark.parametrize(
    ("word", "own", "name"),
    [
        ("Al", "Al", "aluminium"),
        ("aluminium", "Al", "aluminium"),
        ("Cl2", "Cl2", "Cl2"),
        ("CuSO4*5H2O", "CuSO4.5H2O", "CuSO4.5H2O"),
        ("brine", "brine", "brine"),
        ("glucose", "glucose", "glucose"),
        ("acid", "HCl", "acid"),
    ],
)
def test_a_word_means_a_formula_or_a_name(word: str, own: str, name: str) -> None:
    substances = {"aluminium": "Al", "brine": None, "glucose": "C6H12O6", "fructose": "C6H12O6", "acid": "HCl"}
    names, log = named(equation=EQUATION, substances=substances)
    assert names.id_of("k", word) == own
    assert names.found[own].name == name
    assert log.faults == ()


def test_the_species_of_the_equation_have_signed_coefficients_and_come_first() -> None:
    names, _ = named(equation=EQUATION, substances={"brine": None, "chlorine": "Cl2"})
    assert [(one.id, one.coefficient) for one in names.found.values()] == [
        ("Al", -2),
        ("Cl2", -3),
        ("AlCl3", 2),
        ("brine", 0),
    ]


def test_an_equation_without_coefficients_is_balanced_where_it_may_be() -> None:
    names, log = named(equation="Al + Cl2 -> AlCl3", balanced=False)
    assert [one.coefficient for one in names.found.values()] == [-2, -3, 2]
    assert log.faults == ()


@pytest.mark.parametrize(
    ("words", "stands_for"),
    [
        (["CuSO4.5H2O", "CuSO4"], {"CuSO4.5H2O": "CuSO4", "CuSO4": ""}),
        (["CuSO4.5H2O"], {"CuSO4.5H2O": ""}),
    ],
)
def test_a_hydrate_stands_for_its_salt_where_both_are_named(words: list[str], stands_for: dict[str, str]) -> None:
    names, _ = named()
    for word in words:
        names.id_of("k", word)
    assert {one.id: one.stands_for for one in names.weighed().values()} == stands_for


def test_a_hydrate_of_the_equation_is_itself() -> None:
    names, _ = named(equation="CuSO4.5H2O -> CuSO4 + 5 H2O")
    assert {one.stands_for for one in names.weighed().values()} == {""}


@pytest.mark.parametrize(
    ("about", "word", "fault"),
    [
        ({"substances": {"glucose": "C6H12O6", "fructose": "C6H12O6"}}, "C6H12O6",
         "k: found 'C6H12O6'; expected a name: glucose or fructose have this formula"),
        ({"substances": {"brine": None}}, "brime",
         "k: found 'brime'; expected a formula, brine; other names stand in `substances`. Did you mean 'brine'?"),
        ({}, "Xx2", ("k: found 'Xx2'; expected a formula: no element has the symbol 'Xx'; other names stand in "
         "`substances`")),
        ({}, "compound", "k: found 'compound'; expected a formula: "),
        ({"substances": {"brine": "Qq"}}, "NaCl", "substances.brine: found 'Qq'; expected a formula: no element has"),
        ({"substances": {"sample": None}}, "NaCl",
         ("substances.sample: found 'sample'; expected another name than mixture, solution, sample, batch, "
          "product, compound, atoms")),
        ({"equation": "H2O + Na -> NaOH + H2O"}, "Na", "equation: found 'H2O + Na -> NaOH + H2O'; expected a balanced"),
        ({"equation": "H2O(l) -> H2O(g)"}, "H2O", "equation: found 'H2O(l) -> H2O(g)'; expected H2O once, on one side"),
    ],
)  # fmt: skip
def test_a_fault_tells_what_was_expected(about: dict[str, Any], word: str, fault: str) -> None:
    names, log = named(**about)
    names.id_of("k", word)
    assert [str(one)[: len(fault)] for one in log.faults] == [fault]
