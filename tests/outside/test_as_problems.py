"""Rows as books print them, made into problems: our own rows, worked by hand.

A line is written "quantity of [role] = value unit"; `of` is a formula, a name in small letters, or name:formula.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import read_formula
from problemgen.pipeline.solve import solve_problems
from problemgen.plan.solve import Solution
from tests.outside.as_problems import Line, Placed, Row, of_gas, placed, problem_of

SCRIPT = Path(__file__).parent / "as_problems.py"

ASPIRIN = "C7H6O3 + C4H6O3 -> C9H8O4 + C2H4O2"
ALUMINIUM = "2 Al + 3 Cl2 -> 2 AlCl3"
OXALATE = "2 KMnO4 + 5 Na2C2O4 + 8 H2SO4 -> 2 MnSO4 + 10 CO2 + K2SO4 + 5 Na2SO4 + 8 H2O"


def line(text: str, key: str) -> dict[str, Any]:
    told, _, amount = text.partition(" = ")
    quantity, of, *role = told.split(" ")
    name, _, formula = of.partition(":")
    value, _, unit = (amount, "", "") if quantity.endswith("equation") else amount.partition(" ")
    if not formula and name[:1] in "[(" + "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
        formula = name
    entry = {"of": name or None, "formula": formula or None, "quantity": quantity, "unit": unit or None}
    return {**entry, key: value or None, **({"role": role[0]} if role else {})}


def row(equation: str, given: str, asked: str) -> dict[str, Any]:
    lines = {key: [one for one in text.split("; ") if one] for key, text in (("given", given), ("asked", asked))}
    return {
        "id": "p",
        "kind": "k",
        "equation": equation or None,
        "given": [line(one, "value") for one in lines["given"]],
        "asked": [line(one, "answer") for one in lines["asked"]],
    }


def solved(data: dict[str, Any]) -> Solution:
    (solution,) = solve_problems(json.loads(json.dumps(problem_of(data))))
    return solution


def accepted(solution: Solution) -> list[bool | None]:
    assert solution.error is None
    return [answer.accepted for answer in solution.answers]


@pytest.mark.parametrize(
    ("equation", "given", "asked"),
    [
        # other units
        ("", "amount Fe2O3 = 12.5 kmol", "mass Fe2O3 = 1996 kg"),
        ("", "mass NaCl = 250 mg", "amount NaCl = 4.28 mmol"),
        ("", "volume ethanol = 350 µL; density ethanol = 0.789 g/mL", "mass ethanol = 276 mg"),
        ("", "mass Hg = 2.00 lb; density Hg = 13.6 g/cm3", "volume Hg = 66.7 mL"),
        ("", "mass Au = 1.00 oz; volume Au = 1.47 cm^3", "density Au = 19.3 g/mL"),
        ("", "density water = 62.4 lb/ft3", "density water = 1.00 g cm^-3"),
        ("", "concentration AgNO3 = 0.100 mol dm^-3; volume AgNO3 = 250 cm3", "mass AgNO3 = 4.25 g"),
        ("4 Fe(s) + 3 O2(g) -> 2 Fe2O3(s)", "mass Fe2O3 = 1.00 t", "mass Fe = 699 kg"),
        ("", "count ozone:O3 = 3.01e22 molecules", "mass ozone:O3 = 2.40 g"),
        # hydrates, however they are typed
        ("", "mass CuSO4*5H2O = 5.00 g", "amount CuSO4·5H2O = 0.0200 mol"),
        ("", "molecular_formula KAl(SO4)2·12H2O", "molar_mass KAl(SO4)2*12H2O = 474.4 g/mol"),
        ("CuSO4.5H2O -> CuSO4 + 5 H2O", "mass CuSO4•5H2O = 2.50 g", "mass CuSO4 = 1.60 g; mass H2O = 0.902 g"),
        ("2 HCl + Na2CO3 -> 2 NaCl + H2O + CO2", "mass Na2CO3.10H2O = 1.43 g; volume HCl = 50.0 mL",
         "concentration HCl = 0.200 M"),
        ("", "", "molar_mass [Fe(H2O)6]Cl3 = 270.3 g/mol; molar_mass Ca3(PO4)2 = 310.2 amu"),
        # without a formula
        ("", "amount brine = 2.00 mol; molar_mass brine = 18.02 g/mol", "mass brine = 36.0 g"),
        ("", "mass unknown = 4.60 g; amount unknown = 0.100 mol", "molar_mass unknown = 46.0 g/mol"),
        # solutions
        ("", "mass KMnO4 = 3.95 g; volume KMnO4 solution = 250.0 mL", "concentration KMnO4 = 0.100 mol/L"),
        ("", "mass KOH = 5.61 g; volume mixture solution = 0.250 L", "concentration KOH = 0.400 M"),
        ("", "volume CH3COOH = 5.00 mL; density CH3COOH = 1.049 g/mL; volume CH3COOH solution = 250.0 mL",
         "concentration CH3COOH = 0.349 M"),
        ("", "mass C6H12O6 = 15.0 g; mass H2O solvent = 285 g", "mass_fraction C6H12O6 = 5.00 %"),
        ("", "mass_fraction C6H12O6 = 5.00 %; mass syrup solution = 300 g",
         "mass C6H12O6 = 15.0 g; mass H2O solvent = 285 g"),
        ("", "mass_fraction HCl = 37.0 %; density HCl solution = 1.18 g/mL", "concentration HCl = 12.0 M"),
        ("", "mass_fraction HCl = 37.0 %; density HCl = 1.18 g/mL; volume HCl = 10.0 mL", "amount HCl = 0.120 mol"),
        ("", "mass_concentration NaCl = 9.00 g/L", "concentration NaCl = 0.154 M"),
        ("", ("mass_fraction NaOH purity = 97.0 %; mass_fraction NaOH = 10.0 %; density NaOH solution = 1.109 g/mL; "
         "volume NaOH solution = 1.00 L"), "mass NaOH impure = 114 g"),
        # dilutions
        ("", "concentration HCl initial = 12.0 M; concentration HCl final = 0.500 M; volume HCl final = 250 mL",
         "volume HCl = 10.4 mL"),
        ("", "concentration NaOH initial = 6.00 M; volume NaOH initial = 50.0 mL; concentration NaOH final = 0.750 M",
         "volume H2O added = 350 mL; volume NaOH = 400 mL"),
        ("", "concentration CuSO4 initial = 0.100 M; volume CuSO4 initial = 10.0 mL; volume H2O added = 90.0 mL",
         "concentration CuSO4 = 0.0100 M"),
        ("", ("mass_fraction HNO3 initial = 68.0 %; density HNO3 initial = 1.40 g/mL; mass_fraction HNO3 final = 10.0 "
         "%; mass HNO3 final = 400.0 g"), "volume HNO3 initial = 42.0 mL"),
        # impure samples
        ("CaCO3 -> CaO + CO2", "mass limestone sample = 12.5 g; mass CO2 = 4.95 g",
         "mass_fraction CaCO3 purity = 90.1 %"),
        ("CaCO3 -> CaO + CO2", "mass CaCO3 impure = 12.5 g; mass_fraction CaCO3 purity = 90.0 %", "mass CO2 = 4.95 g"),
        ("Na2CO3 + 2 HCl -> 2 NaCl + H2O + CO2", ("mass soda sample = 0.2500 g; volume HCl = 42.00 mL; "
         "concentration HCl = 0.1000 M"), "mass_fraction Na2CO3 = 89.03 %"),
        # forwards, backwards, several at once
        ("2 H2(g) + O2(g) -> 2 H2O(l)", "amount H2 = 3.00 mol", "amount O2 = 1.50 mol; amount H2O = 3.00 mol"),
        ("N2(g) + 3 H2(g) ⇌ 2 NH3(g)", "amount NH3 = 4.00 mol", "amount N2 = 2.00 mol; count H2 = 3.61e24 molecules"),
        ("Fe2O3 + 3 CO -> 2 Fe + 3 CO2", "mass Fe = 1.00 kg", "mass Fe2O3 = 1.43 kg; mass CO = 752 g"),
        (ALUMINIUM, "mass Al = 2.70 g; mass Cl2 = 4.05 g",
         "limiting_reactant  = Cl2; mass AlCl3 = 5.08 g; mass Al left = 1.67 g; amount AlCl3 = 38.1 mmol"),
        (ALUMINIUM, "mass aluminium:Al = 2.70 g; amount chlorine:Cl2 = 57.1 mmol", "limiting_reactant  = chlorine"),
        ("2 H2 + O2 -> 2 H2O", "count H2 = 10 molecules; count O2 = 7 molecules",
         "limiting_reactant  = H2; count H2O = 10 molecules"),
        (ASPIRIN, ("mass C7H6O3 = 2.00 g; volume C4H6O3 = 5.00 mL; density C4H6O3 = 1.08 g/mL; mass C9H8O4 actual = "
         "1.95 g"), "theoretical_mass C9H8O4 = 2.61 g; percent_yield C9H8O4 = 74.7 %"),
        (ASPIRIN, "mass C9H8O4 actual = 5.00 g; percent_yield C9H8O4 = 75.0 %", "mass C7H6O3 = 5.11 g"),
        (ASPIRIN, "mass C9H8O4 theoretical = 2.61 g; mass C9H8O4 actual = 1.95 g", "percent_yield C9H8O4 = 74.7 %"),
        (ASPIRIN, "mass C7H6O3 = 2.00 g; percent_yield C9H8O4 = 75.0 %", "mass C9H8O4 actual = 1.96 g"),
        # titrations
        ("H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O", ("volume H2SO4 sample = 25.00 mL; volume NaOH = 31.40 mL; "
         "concentration NaOH = 0.1020 mol/L"), "concentration H2SO4 = 0.06406 mol/L; mass H2SO4 = 157.1 mg"),
        (OXALATE, "mass Na2C2O4 = 0.1340 g; volume KMnO4 = 20.00 mL", "concentration KMnO4 = 0.02000 M"),
        ("Ca(OH)2 + 2 HCl -> CaCl2 + 2 H2O", ("volume HCl = 25.00 mL; concentration HCl = 0.1000 M; "
         "concentration Ca(OH)2 = 0.02000 M"), "volume Ca(OH)2 = 62.50 mL"),
        ("HC2H3O2 + NaOH -> NaC2H3O2 + H2O", ("volume HC2H3O2 = 5.00 mL; density HC2H3O2 solution = 1.005 g/mL; "
         "volume NaOH = 42.10 mL; concentration NaOH = 0.1000 M"), "mass_fraction HC2H3O2 = 5.03 %"),
        # equations
        ("", "unbalanced_equation  = MnO4^- + Fe^2+ + H+ -> Mn^2+ + Fe^3+ + H2O",
         "balanced_equation  = MnO4^- + 5 Fe^2+ + 8 H^+ -> Mn^2+ + 5 Fe^3+ + 4 H2O"),
    ],
)  # fmt: skip
def test_a_row_means_what_its_reader_takes_it_to_mean(equation: str, given: str, asked: str) -> None:
    assert accepted(solved(row(equation, given, asked))) == [True] * len(asked.split("; "))


def lines_of(equation: str, lines: str) -> tuple[Row, list[Line]]:
    """Lines "of quantity [role]", a "?" in front of what is asked."""
    found = []
    for line in lines.split("; "):
        of, quantity, *role = line.removeprefix("?").split(" ")
        formula = read_formula(of) if of[0].isupper() else None
        found.append(Line(of, quantity, role[0] if role else "", line.startswith("?"), formula, None, None))
    read = read_equation(equation) if equation else None
    sides = ((-1, read.left), (1, read.right)) if read else ()
    nu = {term.formula.text: sign * term.coefficient for sign, side in sides for term in side}
    given, asked = (tuple(one for one in found if one.asked is which) for which in (False, True))
    return Row(nu, given, asked), found


def told(means: Placed | None) -> str:
    if means is None:
        return "-"
    of = "" if means.is_word else means.of
    return f"{means.quantity}({of},{means.role})" if means.role else f"{means.quantity}({of})"


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
         "mass_fraction(HNO3,initial) mass_fraction(HNO3,final) mass(HNO3,final) mass(HNO3,initial)"),
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
         "purity(NaOH) mass_fraction(NaOH) mass(NaOH,impure)"),
        ("", "CH4 element_mass_contribution", "molar_mass(CH4)"),
    ],
)  # fmt: skip
def test_a_line_means(equation: str, lines: str, expected: str) -> None:
    row, found = lines_of(equation, lines)
    assert [told(placed(line, row, "")) for line in found] == expected.split(" ")


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
def test_a_line_about_gases_means(equation: str, lines: str, expected: str) -> None:
    row, found = lines_of(equation, lines)
    assert [told(of_gas(line, row)) for line in found] == expected.split(" ")


def cells(text: str, value: str) -> dict[str, Any]:
    """A line from "name | formula | quantity | number or answer | unit | role"."""
    of, formula, quantity, number, unit, role = [part.strip() or None for part in (text + "|" * 5).split("|")[:6]]
    return {"of": of, "formula": formula, "quantity": quantity, value: number, "unit": unit, "role": role}


CONTENTS = {
    "molality, the solvent without its role": (
        ["salt|NaCl|mass|11.7|g", "water|H2O|mass|250.0|g"],
        ["salt|NaCl|molality|0.801|mol/kg"],  # 11.7 / 58.44 / 0.2500
    ),
    "from concentration and density": (
        ["acid|H2SO4|concentration|3.75|M", "acid|H2SO4|density|1.230|g/mL|solution"],
        [
            "acid|H2SO4|mole_fraction|0.0727|",  # of 1 L: 3.75 mol, 367.8 g; 862.2 g, 47.86 mol of water
            "acid|H2SO4|molality|4.35|mol/kg",
            "acid|H2SO4|mass_fraction|29.9|%",
        ],
    ),
    "from mass percent and the density of the solution": (
        ["acid|HCl|mass_fraction|37.0|%", "solution||density|1.19|g/mL"],
        ["acid|HCl|concentration|12.1|M", "acid|HCl|molality|16.1|mol/kg", "acid|HCl|mole_fraction|0.225|"],
    ),
    "from molality": (
        ["glucose|C6H12O6|molality|1.50|mol/kg"],
        ["glucose|C6H12O6|mole_fraction|0.0263|", "glucose|C6H12O6|mass_fraction|21.3|%"],
    ),
    "from mole fraction": (["ethanol|C2H5OH|mole_fraction|0.250|"], ["ethanol|C2H5OH|mass_fraction|46.0|%"]),
    "mole fraction in another solvent": (
        ["iodine|I2|mole_fraction|0.100|", "hexane|C6H14|solvent_formula|C6H14|"],
        ["iodine|I2|molality|1.29|mol/kg"],  # 0.100 / (0.900 × 0.08618)
    ),
    "solute for a solvent": (
        ["salt|KCl|molality|0.500|mol/kg", "water|H2O|mass|250.0|g|solvent"],
        ["salt|KCl|mass|9.32|g"],
    ),
    "solvent by volume": (
        ["salt|KCl|mass|9.32|g", "water|H2O|volume|250.0|mL|solvent", "water|H2O|density|1.00|g/mL"],
        ["salt|KCl|molality|0.500|mol/kg"],
    ),
    "a mixture of two": (
        ["benzene|C6H6|mass|14.2|g", "toluene|C7H8|mass|36.6|g"],
        ["benzene|C6H6|mole_fraction|0.314|"],  # 0.1818 / (0.1818 + 0.3972)
    ),
    "mass per volume, from the solution": (
        ["salt|NaCl|mass_per_volume_percent|0.900|%", "solution||volume|500.0|mL|solution"],
        ["salt|NaCl|mass|4.50|g"],
    ),
    "mass per volume, without a portion": (
        ["salt|NaCl|mass_volume_percent|0.900|%"],
        ["salt|NaCl|concentration|0.154|M"],
    ),
    "parts per million as a concentration": (
        ["fluoride|F-|mass_fraction|1.20|ppm"],
        ["fluoride|F-|concentration|6.32e-5|M"],
    ),
    "parts per billion in water": (
        ["lead|Pb|mass_fraction|15.0|ppb", "water|H2O|volume|2.00|L"],
        ["lead|Pb|mass|30.0|ug"],
    ),
    "parts per million of a solid": (
        ["mercury|Hg|mass|0.120|mg", "fish||mass|250.0|g|sample"],
        ["mercury|Hg|mass_fraction|0.480|ppm"],
    ),
    "volume percent, the liquid": (
        ["propanol|C3H8O|volume_fraction|70.0|%", "rub||volume|250.0|mL"],
        ["propanol|C3H8O|volume|175|mL"],
    ),
    "volume percent to concentration": (
        ["ethanol|C2H6O|volume_fraction|40.0|%", "ethanol|C2H6O|density|0.789|g/mL"],
        ["ethanol|C2H6O|concentration|6.85|M"],
    ),
    "volume percent asked": (
        ["ethanol|C2H6O|volume|35.0|mL", "solution||volume|115.0|mL|solution"],
        ["ethanol|C2H6O|volume_fraction|30.4|%"],
    ),
    "one part of a sample": (["compound||mass|12.04|g", "C|C|mass|7.34|g"], ["C|C|mass_fraction|61.0|%"]),
    "several parts of a sample": (
        ["alloy||mass|12.50|g", "Cu|Cu|mass|8.000|g", "Zn|Zn|mass|4.500|g"],
        ["Cu|Cu|mass_fraction|64.00|%", "Zn|Zn|mass_fraction|36.00|%"],
    ),
    "a compound and a part of it, both weighed": (
        ["oxide|CuO|mass|4.000|g", "Cu|Cu|mass|3.196|g"],
        ["Cu|Cu|mass_fraction|79.90|%"],
    ),
    "an element in a compound": (
        ["urea|CO(NH2)2|mass|25.0|g"],
        ["N|N|mass_fraction|46.65|%", "N|N|mass|11.7|g"],
    ),
    "tablets": (
        ["aspirin|C9H8O4|amount|0.0500|mol", "aspirin|C9H8O4|mass_per_tablet|325.0|mg"],
        ["tablet||tablets|27.7|tablets"],  # 9.008 g / 0.3250 g
    ),
    "the fewest atoms": (
        ["water|H2O|amount|1.0|mol", "carbon monoxide|CO|amount|1.2|mol"],
        ["||fewest_atoms|CO|"],  # 2.4 mol of atoms against 3.0 mol
    ),
}


@pytest.mark.parametrize(
    ("given", "asked", "equation"),
    [
        *((given, asked, None) for given, asked in CONTENTS.values()),
        (
            ["mixture||mass|0.8870|g", "AgCl|AgCl|mass|1.913|g"],
            ["NaCl|NaCl|mass_fraction|87.94|%"],  # 1.913 / 143.32 × 58.44 / 0.8870
            "NaCl + AgNO3 -> AgCl + NaNO3",
        ),
        (
            # with a density no litre counts as a kilogram
            ["lead|Pb|mass_fraction|15.0|ppb", "brine||volume|2.00|L|solution", "brine||density|1.20|g/mL|solution"],
            ["lead|Pb|mass|36.0|ug"],
            None,
        ),
        # gases in a mixture have no solvent
        (["oxygen|O2|mole_fraction|0.209|", "air||pressure|99.5|kPa"], ["oxygen|O2|pressure|20.8|kPa"], None),
    ],
    ids=[*CONTENTS, "a salt from its precipitate", "a density that is told", "air"],
)
def test_a_row_on_contents_means_what_its_reader_takes_it_to_mean(
    given: list[str], asked: list[str], equation: str | None
) -> None:
    lines = {"given": [cells(text, "value") for text in given], "asked": [cells(text, "answer") for text in asked]}
    assert accepted(solved({"id": "p", "kind": "k", "equation": equation, **lines})) == [True] * len(asked)


def entry(quantity: str, formula: str = "", value: str = "", unit: str = "", **more: Any) -> dict[str, Any]:
    base = {"of": None, "formula": formula or None, "quantity": quantity, "unit": unit or None}
    return {**base, **({"value": value} if value else {}), **more}


def empirical(answer: str, formula: str | None = None) -> dict[str, Any]:
    return entry("empirical_formula", formula or answer, answer=answer)


def molecular(answer: str) -> dict[str, Any]:
    return entry("molecular_formula", answer, answer=answer)


@pytest.mark.parametrize(
    ("given", "asked"),
    [
        # an oxide weighed before and after reduction
        ([entry("mass", "Cu", "3.995", "g"), entry("mass", "O", "1.005", "g")], [empirical("CuO")]),
        # percentages, the whole of them
        (
            [
                entry("mass_fraction", "K", "26.58", "%"),
                entry("mass_fraction", "Cr", "35.35", "%"),
                entry("mass_fraction", "O", "38.07", "%"),
            ],
            [empirical("K2Cr2O7")],
        ),
        # oxygen by difference, and the molecule
        (
            [
                entry("mass_fraction", "C", "40.00", "%"),
                entry("mass_fraction", "H", "6.71", "%"),
                entry("molar_mass", "", "90.1", "g/mol"),
            ],
            [empirical("CH2O"), molecular("C3H6O3")],
        ),
        # a hydrocarbon, burnt: 0.2500 g of it gave 0.7847 g and 0.3213 g
        (
            [entry("mass", "CO2", "0.7847", "g"), entry("mass", "H2O", "0.3213", "g")],
            [empirical("CH2")],
        ),
        # a compound with oxygen, burnt
        (
            [
                entry("mass", "", "0.2000", "g", role="sample"),
                entry("mass", "CO2", "0.3820", "g"),
                entry("mass", "H2O", "0.2346", "g"),
            ],
            [empirical("C2H6O")],
        ),
        # counted atoms
        ([entry("molecular_formula", "C6H12O6", "C6H12O6")], [empirical("CH2O")]),
        ([entry("molecular_formula", "P4O10", "P4O10")], [empirical("P2O5")]),
    ],
)
def test_a_row_that_asks_for_a_formula(given: list[dict[str, Any]], asked: list[dict[str, Any]]) -> None:
    solution = solved({"id": "p", "kind": "k", "equation": None, "given": given, "asked": asked})
    assert accepted(solution) == [True] * len(asked)
    assert [answer.truth.text for answer in solution.answers if answer.truth] == [one["answer"] for one in asked]


@pytest.mark.parametrize(("answer", "right"), [("SiF4", True), ("SiF6", False), ("SiF2", False)])
def test_a_formula_that_is_asked_tells_nothing_of_what_it_holds(answer: str, right: bool) -> None:
    """The fluorine of 10.00 mmol comes off as acid, which takes 40.00 mmol of base."""
    given = [
        entry("amount", "Si", "10.00", "mmol"),
        entry("volume", "NaOH", "40.00", "mL"),
        entry("concentration", "NaOH", "1.000", "M"),
    ]
    equation = "HF + NaOH -> NaF + H2O"
    asked = [entry("empirical_formula", answer, answer=answer, of="fluoride")]
    solution = solved({"id": "p", "equation": equation, "given": given, "asked": asked})
    assert accepted(solution) == [right]
    assert solution.not_used == ()


def test_the_element_that_only_the_answer_names_is_the_rest() -> None:
    given = [entry("mass_fraction", "C", "40.00", "%"), entry("mass_fraction", "H", "6.71", "%")]
    made = problem_of({"id": "p", "equation": None, "given": given, "asked": [empirical("CH2O")]})
    assert made["unknown"] == {"elements": ["C", "H", "O"], "rest": "O"}


def test_what_two_substances_bring_is_no_compounds_own() -> None:
    """The oxygen of carbon dioxide and water is the air's too: it tells nothing of the compound."""
    given = [
        entry("mass", "", "0.2000", "g", role="sample"),
        entry("mass", "CO2", "0.3820", "g"),
        entry("mass", "H2O", "0.2346", "g"),
    ]
    made = problem_of({"id": "p", "equation": None, "given": given, "asked": [empirical("C2H6O")]})
    assert made["unknown"]["rest"] == "O"
    assert made["given"][0] == {"quantity": "mass", "of": "sample", "role": "sample", "value": "0.2000", "unit": "g"}


REFUSED = [
    ("", "mass H2 = 1 g; mass H2 = 2 g", "amount H2 = 1 mol", "given.2.quantity: found the mass of H2 again; "),
    ("2 H2 + O2 -> 3 H2O", "mass H2 = 1 g", "mass H2O = 9 g", "equation: found '2 H2 + O2 -> 3 H2O'; expected a "),
    ("", "mass H2 = 5.00 mol", "amount H2 = 1 mol", "given.1.unit: found 'mol'; expected a unit of mass, such as g"),
    ("", "mass H2 = 5.00 gg", "amount H2 = 1 mol", "given.1.unit: found 'gg'; expected a unit of the list: "),
    ("", "mass H2 = 1,250 g", "amount H2 = 1 mol", "given.1.value: found '1,250'; expected a number: "),
    ("", "mass Xx2 = 2 g", "amount Xx2 = 1 mol", "given.1.quantity: found \"not expressed: formula 'Xx2', character 1"),
    ("", "mass H2 = 2 g", "happiness H2 = 1", "asked.1.quantity: found 'happiness'; expected one of "),
    ("", "", "fewest_molecules  = H2", "there is nothing to compare: of no substance is anything given"),
    ("", "mass H2 = 2 g", "most_atoms_of_Xx  = H2", "asked.1.quantity: found 'most_atoms_of_Xx'; expected one of "),
    ("", "", "balanced_equation  = H2", "equation: found nothing; expected the equation that is to be balanced"),
    ("", "mass sample sample = 1.00 g", "empirical_formula  = CuO", "unknown.elements: found an empty list; "),
]


@pytest.mark.parametrize(("equation", "given", "asked", "error"), REFUSED)
def test_what_cannot_be_expressed_is_passed_on_and_errs_by_itself(
    equation: str, given: str, asked: str, error: str
) -> None:
    bad = {**row(equation, given, asked), "id": "bad"}
    good = {**row("", "mass NaCl = 5.844 g", "amount NaCl = 0.1000 mol"), "id": "good"}
    first, second = solve_problems([problem_of(bad), problem_of(good)])
    assert (first.problem.id, second.problem.id) == ("bad", "good")
    assert error in (first.error or "")
    assert [answer.accepted for answer in first.answers] == [False]
    assert accepted(second) == [True]


@pytest.mark.parametrize(
    ("value", "written"), [("5000", "500e1"), ("250", "250"), ("1500", "150e1"), ("1234", "1234"), ("5000.", "5000.")]
)
def test_zeros_behind_the_third_figure_of_a_whole_number_may_be_none(value: str, written: str) -> None:
    given = problem_of(row("", f"mass NaCl = {value} g", "amount NaCl = 1 mol"))["given"]
    assert given == [{"quantity": "mass", "of": "NaCl", "role": "", "value": written, "unit": "g"}]


def test_the_script_keeps_ids_and_lines_and_needs_the_installed_package_alone(tmp_path: Path) -> None:
    about = {"kind": "limiting_reactant", "subkind": None, "erratum_suspected": False}
    limiting = row(ALUMINIUM, "mass aluminium:Al = 2.70 g", "limiting_reactant  = Cl2; mass Al left = 1.67 g")
    rows = [
        {**limiting, **about, "id": "a", "source": "our own", "note": None},
        {**row("", "heat water = 3 J", "happiness  = 1"), "id": "b"},
    ]
    (tmp_path / "in.json").write_text(json.dumps(rows), encoding="utf-8")
    command = [sys.executable, str(SCRIPT), "in.json", "out.json"]
    subprocess.run(command, cwd=tmp_path, check=True)  # noqa: S603 - ours
    made = json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))
    assert [(one["id"], [line["quantity"] for line in one["asked"]]) for one in made] == [
        ("a", ["limiting_reagent", "mass"]),
        ("b", ["happiness"]),
    ]
    assert made[0]["substances"] == {"aluminium": "Al"}
    assert subprocess.run(command[:2], check=False, capture_output=True).returncode == 2  # noqa: S603 - ours
