"""Every law told in steps, and every shape that an expression can have."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.exact.digits import Written, read_written
from problemgen.model.banks import Banks
from problemgen.model.blocks import Table
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.laws import LAWS
from problemgen.render.routes import Method
from problemgen.render.solution import WorkedPart

Given = dict[Quantity, tuple[Written, str]]
Check = Callable[[Scene, Plan, Given, Method], tuple[WorkedPart, ...]]

FORMULAS = {
    "iron": "Fe", "oxide": "Fe2O3", "acid": "HCl", "salt": "FeCl3", "water": "H2O", "hydrogen": "H2",
    "chloride": "Cl-", "blue": "CuSO4.5H2O", "white": "CuSO4", "lead": "Pb(NO3)2", "iodide": "KI",
    "yellow": "PbI2", "nitrate": "KNO3", "element": "Cl", "ethanol": "C2H5OH",
}  # fmt: skip


def species(name: str, nu: int = 0, stands_for: str = "") -> Species:
    return Species(name, name, read_formula(FORMULAS[name]), nu, stands_for)


class Case(NamedTuple):
    """A problem: its species, what is given (id parts: number and unit), what is asked (id parts: unit)."""

    species: tuple[Species, ...]
    given: Mapping[str, str]
    asked: Mapping[str, str]


def quantity(text: str) -> Quantity:
    kind, of, role = [*text.split("|"), "", ""][:3]
    return Quantity(kind, of, role)


LONE = species("acid")
PAIR = (species("oxide", -1), species("acid", -6), species("salt", 2), species("water", 3))
POURED = (species("lead", -1), species("iodide", -2), species("yellow", 1), species("nitrate", 2))
BOUND = {"mass|oxide": "2.50 g", "volume|acid|solution": "0.0205 L", "concentration|acid": "1.950 M"}
CASES = {
    "density, upwards": Case((LONE,), {"mass|acid": "12.5 g", "volume|acid": "8.40 mL"}, {"density|acid": "g/mL"}),
    "neat, in kilograms": Case((LONE,), {"mass|acid": "0.00250 kg"}, {"amount|acid": "mmol"}),
    "pounds and gallons": Case(
        (LONE,), {"mass|acid": "2.50 lb", "volume|acid": "0.310 gal"}, {"density|acid": "g/cm3"}
    ),
    "micrograms": Case((LONE,), {"mass|acid": "250 µg"}, {"amount|acid": "µmol", "count|acid": "molecules"}),
    "molar mass from mass": Case(
        (Species("unknown", "unknown", read_formula("H2O")),),
        {"mass|unknown": "1.00 g"},
        {"molar_mass|unknown": "g/mol", "amount|unknown": "mol"},
    ),
    "particles to mass": Case((LONE,), {"count|acid": "3.01e22 molecules"}, {"mass|acid": "g"}),
    "particles called otherwise": Case((species("iron"),), {"mass|iron": "2.5 g"}, {"count|iron": "atoms"}),
    "formula units": Case((species("white"),), {"count|white": "5.0e20 formula units"}, {"amount|white": "mmol"}),
    "purity": Case((LONE,), {"mass|acid|impure": "5.20 g", "mass_fraction|acid": "98.5 %"}, {"amount|acid": "mmol"}),
    "purity, upwards": Case(
        (LONE,), {"amount|acid": "25.0 mmol", "mass_fraction|acid": "0.85 1"}, {"mass|acid|impure": "g"}
    ),
    "purity as a percentage": Case(
        (LONE,), {"mass|acid|impure": "5.20 g", "mass|acid": "4950 mg"}, {"mass_fraction|acid": "%"}
    ),
    "traces": Case(
        (LONE,), {"mass|acid|solution": "1.250 kg", "mass_fraction|acid": "35.0 ppm"}, {"mass|acid": "mg"}
    ),
    "told in ppm": Case(
        (LONE,), {"mass|acid|solution": "1.250 kg", "mass|acid": "3.20 mg"}, {"mass_fraction|acid": "ppm"}
    ),
    "solute and solvent": Case(
        (LONE,), {"mass|acid": "3.5 g", "mass|acid|solvent": "120.0 g"},
        {"mass|acid|solution": "g", "mass_fraction|acid": "%"},
    ),
    "solvent, other units": Case(
        (LONE,), {"mass|acid|solution": "0.500 kg", "mass|acid": "35.0 g"}, {"mass|acid|solvent": "g"}
    ),
    "mass concentration": Case(
        (LONE,), {"mass|acid": "1.25 g", "volume|acid|solution": "250.0 mL"},
        {"mass_concentration|acid": "mg/L", "concentration|acid": "mM"},
    ),
    "label of a bottle": Case(
        (LONE,), {"mass_fraction|acid": "37.0 %", "density|acid|solution": "1.18 g/mL"},
        {"mass_concentration|acid": "g/L", "concentration|acid": "mol/L"},
    ),
    "percent by volume of bottle": Case(
        (LONE,), {"mass_fraction|acid": "37.0 %", "density|acid|solution": "1.18 kg/L", "amount|acid": "0.250 mol"},
        {"volume|acid|solution": "mL"},
    ),
    "dilution": Case(
        (LONE,), {"concentration|acid|initial": "12.0 M", "concentration|acid|final": "250 mM",
                  "volume|acid|final": "0.500 L"},
        {"volume|acid|initial": "mL", "volume|acid|added": "mL"},
    ),
    "hydrate": Case(
        (species("white"), species("blue", 0, "white")), {"mass|blue": "2.497 g"},
        {"amount|white": "mmol", "mass|white": "g"},
    ),
    "what it contains": Case(
        (species("salt"), species("element")), {"mass|salt": "1.622 g"},
        {"amount|element": "mol", "mass|element": "mg"},
    ),
    "what contains it": Case(
        (species("salt"), species("element")), {"mass|element": "1.063 g"}, {"amount|salt": "mol"},
    ),
    "gas, amount": Case(
        (species("hydrogen"),), {"pressure|hydrogen": "745 Torr", "volume|hydrogen": "24.8 mL",
                                 "temperature|hydrogen": "-3.5 °C"}, {"amount|hydrogen": "mmol"},
    ),
    "gas, volume": Case(
        (species("hydrogen"),), {"pressure|hydrogen": "1.02 atm", "mass|hydrogen": "5.25 g",
                                 "temperature|hydrogen": "296.4 K"}, {"volume|hydrogen": "m3"},
    ),
    "gas, pressure": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "mass|hydrogen": "0.525 g",
                                 "temperature|hydrogen": "72.5 °F"}, {"pressure|hydrogen": "mmHg"},
    ),
    "gas, temperature": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "amount|hydrogen": "0.104 mol",
                                 "pressure|hydrogen": "101.3 kPa"}, {"temperature|hydrogen": "°C"},
    ),
    "gas, temperature in °F": Case(
        (species("hydrogen"),), {"volume|hydrogen": "2.50 L", "amount|hydrogen": "0.104 mol",
                                 "pressure|hydrogen": "14.7 psi"}, {"temperature|hydrogen": "°F"},
    ),
    "limiting": Case(
        PAIR, BOUND, {"extent||choice": "mol", "mass|salt|theoretical": "g", "amount|oxide|left": "mmol",
                      "amount|acid|left": "mol", "mass|acid|consumed": "g"},
    ),
    "used up asked first": Case(
        PAIR, BOUND, {"amount|oxide|consumed": "mmol", "amount|oxide|left": "mmol", "extent||choice": "mol"},
    ),
    "left over asked first": Case(PAIR, BOUND, {"amount|oxide|left": "mol", "amount|oxide|consumed": "mmol"}),
    "extents asked": Case(
        PAIR, BOUND,
        {"extent|oxide": "mmol", "extent|acid": "mmol", "extent|": "mmol", "amount|salt|theoretical": "mmol"},
    ),
    "both products": Case(
        PAIR, {**BOUND, "mass|salt|actual": "1.51 g"},
        {"amount|salt|from:oxide": "mmol", "amount|salt|from:acid": "mmol", "extent||choice": "mol",
         "mass|water|theoretical": "g", "amount|salt|theoretical": "mmol", "percent_yield|salt": "%"},
    ),
    "yield, in amounts": Case(
        PAIR, {**BOUND, "amount|salt|actual": "8.20 mmol"}, {"percent_yield|salt": "%", "amount|salt|actual": "mol"},
    ),
    "yield, forwards": Case(PAIR, {**BOUND, "percent_yield|salt": "62.5 %"}, {"mass|salt|actual": "mg"}),
    "yield, backwards": Case(
        PAIR, {"mass|salt|actual": "5.00 g", "percent_yield|salt": "81 %"}, {"mass|oxide": "g"},
    ),
    "a single reagent": Case(PAIR, {"mass|oxide": "2.50 g"}, {"extent||choice": "mol", "mass|salt|theoretical": "g"}),
    "poured together": Case(
        (*POURED, species("element")),
        {"volume|lead|solution": "25.0 mL", "concentration|lead": "0.100 mol/L",
         "volume|iodide|solution": "0.0400 L", "concentration|iodide": "0.150 mol/L"},
        {"mass|yellow|theoretical": "g", "concentration|lead|mixed": "mol/L", "volume||mixed": "mL"},
    ),
    "counted": Case(
        PAIR, {"count|oxide": "7 molecules", "count|acid": "20 molecules"}, {"count|salt|theoretical": "molecules"},
    ),
    "given and asked": Case((LONE,), {"mass|acid": "2.50 g"}, {"mass|acid": "mg", "amount|acid": "mol"}),
}  # fmt: skip


def planned(case: Case, banks: Banks) -> tuple[Scene, Plan, Given]:
    given: Given = {}
    for name, text in case.given.items():
        number, unit = text.split(" ", 1)
        given[quantity(name)] = (read_written(number), unit)
    scene = Scene({s.id: s for s in case.species}, frozenset(given), banks.weights, product="")
    asked = [
        Asked(Quantity("extent", ""), unit, form="species") if name.endswith("|choice") else Asked(quantity(name), unit)
        for name, unit in case.asked.items()
    ]
    return scene, chain(scene, asked, constants()), given


@pytest.mark.parametrize("method", ["product", "extent"])
@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_every_law_is_worked_line_by_line(case: Case, method: Method, banks: Banks, checked: Check) -> None:
    scene, plan, given = planned(case, banks)
    assert checked(scene, plan, given, method)


def test_the_cases_use_every_law(banks: Banks) -> None:
    used = {step.law for case in CASES.values() for step in planned(case, banks)[1].steps}
    assert used == {law.id for law in LAWS}


A, B, TARGET = Quantity("mass", "acid"), Quantity("mass", "iron"), Quantity("mass", "salt")
EXPRESSIONS: dict[str, tuple[Expression, str]] = {
    "greatest": (("max", A.id, B.id), "The greatest of these counts."),
    "least of products": (("min", A.id, ("mul", ("num", "2"), B.id)), "The least of these counts."),
    "by a key": (("least", (A.id, B.id), (B.id, A.id)), "The least of these counts."),
    "all taken away": (("add", ("neg", A.id), ("neg", B.id)), ""),
    "taken away first": (("add", ("neg", B.id), A.id), ""),
    "a negative factor": (("mul", ("neg", A.id), ("num", "3")), ""),
    "a sum divided": (("div", ("add", A.id, B.id), ("num", "2")), ""),
    "a fraction of it": (("mul", ("num", "3/7"), A.id), ""),
    "a square": (("div", ("pow", A.id, 2), B.id), ""),
    "an inverse": (("mul", A.id, B.id, ("pow", A.id, -1)), ""),
    "over a sum": (("div", ("mul", A.id, B.id), ("add", A.id, B.id)), ""),
    "nested quotients": (("div", A.id, ("div", B.id, A.id)), ""),
    "a copy": (A.id, ""),
}  # fmt: skip


@pytest.mark.parametrize(("expression", "words"), EXPRESSIONS.values(), ids=EXPRESSIONS.keys())
def test_every_shape_of_expression_is_worked(expression: Expression, words: str, banks: Banks, checked: Check) -> None:
    given = {A: (read_written("0.01251"), "kg"), B: (read_written("3.402"), "g")}
    scene = Scene({name: species(name) for name in ("acid", "iron", "salt")}, frozenset(given), banks.weights)
    step = Step(TARGET, "solvent", "solution", expression, "figures")
    plan = Plan((A, B), (), (step,), (Asked(TARGET, "g"),), ())
    blocks = checked(scene, plan, given, "product")[0].blocks
    assert sum(isinstance(block, Table) for block in blocks) == bool(words)
    assert not words or words in str(blocks)
