"""Which quantity of a gas a line of a printed problem means: mixtures, gases over water, two states."""

from __future__ import annotations

import pytest

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.load.gas_roles import gas_quantity
from problemgen.load.rows import Entry, Row
from problemgen.model.problem import Species
from problemgen.model.quantity import Role


def species(equation: str, names: tuple[str, ...]) -> dict[str, Species]:
    found: dict[str, Species] = {}
    if equation:
        read = read_equation(equation)
        for sign, side in ((-1, read.left), (1, read.right)):
            for term in side:
                found[term.formula.text] = Species(term.formula.text, "", term.formula, sign * term.coefficient)
    for name in names:
        found.setdefault(name, Species(name, name, read_formula(name) if name[0].isupper() else None))
    return found


def quantities(equation: str, lines: str) -> str:
    """The quantities of lines "of quantity [role]"; "?" in front marks what is asked, "-" is a line left to others."""
    entries = []
    for line in lines.split("; "):
        of, quantity, *role = line.removeprefix("?").split(" ")
        entries.append(Entry(of, quantity, Role(role[0] if role else ""), line.startswith("?"), of[0].isupper()))
    row = Row(species(equation, tuple(entry.of for entry in entries)), tuple(entries))
    found = (gas_quantity(entry.quantity, entry.role, entry, row) for entry in entries)
    return " ".join(quantity.id if quantity else "-" for quantity in found)


@pytest.mark.parametrize(
    ("equation", "lines", "expected"),
    [
        ("", "H2 amount; He amount; mixture volume; mixture temperature; ?mixture pressure; ?H2 pressure",
         "- - volume(,mixed) temperature(,mixed) pressure(,mixed) -"),
        ("", "H2 amount; He amount; vessel volume; vessel temperature; ?mixture pressure",
         "- - volume(,mixed) temperature(,mixed) pressure(,mixed)"),
        ("", "mixture pressure; H2O pressure; ?Ar pressure",
         "pressure(Ar,total) pressure(Ar,vapour) -"),
        ("", "mixture pressure; H2O pressure; O2 volume; ?O2 volume",
         "pressure(O2,total) pressure(O2,vapour) volume(O2) volume(O2,dry)"),
        ("", "mixture pressure; H2O pressure; mixture temperature; N2 pressure; ?O2 pressure",
         "pressure(,mixed) - temperature(,mixed) - -"),
        ("2 KClO3 -> 2 KCl + 3 O2", "mixture pressure; H2O pressure; mixture volume; mixture temperature; ?KClO3 mass",
         "pressure(O2,total) pressure(O2,vapour) volume(O2,theoretical) temperature(O2) -"),
        ("Zn + 2 HCl -> ZnCl2 + H2", "Zn mass; mixture pressure; H2O pressure; H2 temperature; ?H2 volume",
         "- pressure(H2,total) pressure(H2,vapour) - volume(H2,theoretical)"),
        # two states: what is told without one is of the state that is not told otherwise, or of both
        ("", "gas pressure initial; gas temperature initial; gas temperature final; ?gas pressure",
         "pressure(gas,initial) temperature(gas,initial) temperature(gas,final) pressure(gas,final)"),
        ("", "N2 volume; N2 pressure final; N2 temperature initial; N2 temperature final; ?N2 pressure",
         "volume(N2) pressure(N2,final) temperature(N2,initial) temperature(N2,final) pressure(N2,initial)"),
        ("", "He volume initial; He amount initial; He amount final; ?He volume",
         "volume(He,initial) amount(He,initial) amount(He,final) volume(He,final)"),
        # not about gases
        ("", "NaCl concentration initial; NaCl volume initial; ?NaCl volume final", "- - -"),
        ("", "NaCl mass; solution temperature; ?NaCl amount", "- - -"),
        ("2 C2H2 + 5 O2 -> 4 CO2 + 2 H2O", "C2H2 volume; tank volume; ?O2 volume", "- - -"),
    ],
)  # fmt: skip
def test_a_line_means(equation: str, lines: str, expected: str) -> None:
    assert quantities(equation, lines) == expected
