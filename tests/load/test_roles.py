"""Which quantity of which substance a line of a printed problem means."""

from __future__ import annotations

import pytest

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.errors import UnderivableError
from problemgen.load.roles import placed
from problemgen.load.rows import Entry, Row
from problemgen.model.problem import Species
from problemgen.model.quantity import Quantity, Role


def species(equation: str, others: tuple[str, ...]) -> dict[str, Species]:
    found: dict[str, Species] = {}
    if equation:
        read = read_equation(equation)
        for sign, side in ((-1, read.left), (1, read.right)):
            for term in side:
                name = term.formula.text
                found[name] = Species(name, name, term.formula, sign * term.coefficient)
    for name in others:
        formula = read_formula(name) if name[0].isupper() else None
        found.setdefault(name, Species(name, name, formula))
    return found


def quantities(equation: str, lines: str) -> list[str]:
    """The quantities of lines "of quantity [role]"; a "?" in front marks what is asked."""
    entries = []
    for line in lines.split("; "):
        of, quantity, *role = line.removeprefix("?").split(" ")
        entries.append(Entry(of, quantity, Role(role[0] if role else ""), line.startswith("?"), of[0].isupper()))
    row = Row(species(equation, tuple(entry.of for entry in entries)), tuple(entries))
    return [placed(entry, row).id for entry in entries]


@pytest.mark.parametrize(
    ("equation", "lines", "expected"),
    [
        ("", "NaCl mass; ?NaCl amount", "mass(NaCl) amount(NaCl)"),
        ("", "NaCl mass; NaCl volume; ?NaCl concentration", "mass(NaCl) volume(NaCl,solution) concentration(NaCl)"),
        ("", "NaCl mass; brine volume solution; ?NaCl concentration",
         "mass(NaCl) volume(NaCl,solution) concentration(NaCl)"),
        ("", "NaCl mass; ?NaCl mass_concentration; NaCl volume",
         "mass(NaCl) mass_concentration(NaCl) volume(NaCl,solution)"),
        ("", "C2H6O volume; C2H6O density; C2H6O volume solution; ?C2H6O concentration",
         "volume(C2H6O) density(C2H6O) volume(C2H6O,solution) concentration(C2H6O)"),
        ("", "HCl mass_fraction; HCl density; HCl volume; ?HCl mass",
         "mass_fraction(HCl) density(HCl,solution) volume(HCl,solution) mass(HCl)"),
        ("", "HCl volume; HCl concentration; HCl pressure; HCl temperature",
         "volume(HCl) concentration(HCl) pressure(HCl) temperature(HCl)"),
        ("", "C6H12O6 mass; H2O mass solvent; ?C6H12O6 mass_fraction",
         "mass(C6H12O6) mass(C6H12O6,solvent) mass_fraction(C6H12O6)"),
        ("", "C6H12O6 mass; syrup mass solution; ?C6H12O6 mass_fraction",
         "mass(C6H12O6) mass(C6H12O6,solution) mass_fraction(C6H12O6)"),
        # dilutions: what is told without a stage is of the stage that is not told otherwise
        ("", "HCl concentration initial; HCl volume initial; HCl volume final; ?HCl concentration",
         "concentration(HCl,initial) volume(HCl,initial) volume(HCl,final) concentration(HCl,final)"),
        ("", "HCl concentration initial; HCl concentration final; HCl volume final; ?HCl volume",
         "concentration(HCl,initial) concentration(HCl,final) volume(HCl,final) volume(HCl,initial)"),
        ("", "HNO3 mass_fraction initial; HNO3 mass_fraction final; mixture mass final; ?stock mass",
         ("mass_fraction(HNO3,initial) mass_fraction(HNO3,final) mass(HNO3,final solution) "
         "mass(HNO3,initial solution)")),
        ("", "HCl concentration initial; HCl volume initial; H2O volume added; ?HCl volume",
         "concentration(HCl,initial) volume(HCl,initial) volume(HCl,added) volume(HCl,final)"),
        # reactions
        ("2 H2 + O2 -> 2 H2O", "H2 mass; ?H2O mass; ?O2 amount", "mass(H2) mass(H2O,theoretical) amount(O2)"),
        ("2 H2 + O2 -> 2 H2O", "H2 mass; H2O mass actual; ?H2O percent_yield; ?H2O theoretical_mass",
         "mass(H2) mass(H2O,actual) percent_yield(H2O) mass(H2O,theoretical)"),
        ("2 H2 + O2 -> 2 H2O", "H2O mass left; ?H2O theoretical_amount; ?H2O count",
         "mass(H2O,left) amount(H2O,theoretical) count(H2O,theoretical)"),
        ("HCl + NaOH -> NaCl + H2O", "HCl volume sample; NaOH volume; NaOH concentration; ?HCl concentration",
         "volume(HCl,solution) volume(NaOH,solution) concentration(NaOH) concentration(HCl)"),
        ("HCl + NaOH -> NaCl + H2O", "vinegar volume sample; NaOH volume; NaOH concentration; ?HCl amount",
         "volume(vinegar) volume(NaOH,solution) concentration(NaOH) amount(HCl)"),
        ("HCl + NaOH -> NaCl + H2O", "HCl concentration; HCl volume; ?OH- concentration",
         "concentration(HCl) volume(HCl,solution) concentration(OH-,mixed)"),
        # samples and purity
        ("CaCO3 -> CaO + CO2", "limestone mass sample; CO2 mass; ?CaCO3 mass_fraction purity",
         "mass(CaCO3,impure) mass(CO2,theoretical) mass_fraction(CaCO3)"),
        ("CaCO3 -> CaO + CO2", "CaCO3 mass impure; CaCO3 mass_fraction impure; ?CO2 mass",
         "mass(CaCO3,impure) mass_fraction(CaCO3) mass(CO2,theoretical)"),
        ("Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2", "soda mass sample; HCl concentration; ?Na2CO3 mass_fraction",
         "mass(Na2CO3,impure) concentration(HCl) mass_fraction(Na2CO3)"),
        ("", "NaOH mass_fraction purity; NaOH mass_fraction; ?NaOH mass impure",
         "mass_fraction(NaOH,purity) mass_fraction(NaOH) mass(NaOH,impure)"),
        ("", "CH4 element_mass_contribution", "molar_mass(CH4)"),
    ],
)  # fmt: skip
def test_a_line_is_placed(equation: str, lines: str, expected: str) -> None:
    assert " ".join(quantities(equation, lines)) == expected


def test_an_unknown_quantity_is_refused() -> None:
    with pytest.raises(UnderivableError, match=r"^no law leads to the quantity 'warmth'$"):
        quantities("", "NaCl warmth")


def test_without_a_solution_there_is_no_solute() -> None:
    row = Row(species("", ("NaCl",)), (Entry("NaCl", "mass", "", False, True),))
    assert (row.solute, row.analyte, row.staged, row.shares("NaCl")) == ("", "", False, 0)
    assert placed(row.entries[0], row) == Quantity("mass", "NaCl")
