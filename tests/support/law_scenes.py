"""What small problems are made of, and their plans."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from problemgen.chemistry.formula import read_formula
from problemgen.exact.digits import Written, read_written
from problemgen.model.banks import Banks
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, FurtherEquation, Scene, Species
from problemgen.model.quantity import Quantity, read_quantity
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants

__all__ = ["Case", "Given", "planned", "quantity", "species"]

Given = dict[Quantity, tuple[Written, str]]

FORMULAS = {
    "iron": "Fe", "oxide": "Fe2O3", "acid": "HCl", "salt": "FeCl3", "water": "H2O", "hydrogen": "H2",
    "chloride": "Cl-", "blue": "CuSO4.5H2O", "white": "CuSO4", "lead": "Pb(NO3)2", "iodide": "KI",
    "yellow": "PbI2", "nitrate": "KNO3", "element": "Cl", "ethanol": "C2H5OH",
    "nitrogen": "N2", "ammonia": "NH3", "oxygen": "O2",
    "alcohol": "C4H10O", "alkene": "C4H8", "isomer": "C4H8", "ether": "C8H18O", "marker": "C10H22",
    "aluminium": "Al^3+", "sulfate": "SO4^2-", "clear": "Al2(SO4)3", "magnesia": "MgCl2",
    "base": "NaOH", "table": "NaCl", "soda": "Na2CO3", "baking": "NaHCO3", "gas": "CO2",
}  # fmt: skip


def species(name: str, nu: int = 0, stands_for: str = "") -> Species:
    return Species(name, name, read_formula(FORMULAS[name]), nu, stands_for)


class Case(NamedTuple):
    """A problem: its species, what is given (id parts: number and unit), what is asked (id parts: unit)."""

    species: tuple[Species, ...]
    given: Mapping[str, str]
    asked: Mapping[str, str]
    solvent: str = ""
    further: tuple[FurtherEquation, ...] = ()
    in_excess: tuple[str, ...] = ()
    driven_off: tuple[str, ...] = ()
    product: str = ""
    unknown: tuple[str, ...] = ()
    rest: str = ""
    standard: str = ""


def quantity(text: str) -> Quantity:
    kind, of, role = [*text.split("|"), "", ""][:3]
    return read_quantity(kind, of, role)


LONE = species("acid")
AIR = (species("nitrogen"), species("oxygen"))
SYNTHESIS = (species("nitrogen", -1), species("hydrogen", -3), species("ammonia", 2))
PAIR = (species("oxide", -1), species("acid", -6), species("salt", 2), species("water", 3))
POURED = (species("lead", -1), species("iodide", -2), species("yellow", 1), species("nitrate", 2))
BOUND = {"mass|oxide": "2.50 g", "volume|acid|solution": "0.0205 L", "concentration|acid": "1.950 M"}
IN_STEPS = (*PAIR, species("iron"), species("hydrogen"))
REDUCED = FurtherEquation("reduced", {"salt": -2, "hydrogen": -3, "iron": 2, "acid": 6}, "iron")
TITRATED = (*PAIR, species("base"), species("table"))
NEUTRALISED = FurtherEquation("neutralised", {"acid": -1, "base": -1, "table": 1, "water": 1}, "table")
TWO = (species("soda", -1), species("acid", -2), species("table", 2), species("water", 1), species("gas", 1),
       species("baking"))  # fmt: skip
BESIDE = FurtherEquation("beside", {"baking": -1, "acid": -1, "table": 1, "water": 1, "gas": 1}, "gas", beside=True)
DEHYDRATED = (species("alcohol", -1), species("alkene", 1), species("water", 1), species("isomer"), species("ether"))
REARRANGED = FurtherEquation("isomer", {"alcohol": -1, "isomer": 1, "water": 1}, "isomer", parallel=True)
JOINED = FurtherEquation("ether", {"alcohol": -2, "ether": 1, "water": 1}, "ether", parallel=True)
ELEMENTS = tuple(Species(symbol, symbol, read_formula(symbol)) for symbol in ("C", "H", "O"))


def planned(case: Case, banks: Banks) -> tuple[Scene, Plan, Given]:
    given: Given = {}
    for name, text in case.given.items():
        number, _, unit = text.partition(" ")
        given[quantity(name)] = (read_written(number), unit or "1")
    scene = Scene(
        {s.id: s for s in case.species},
        frozenset(given),
        banks.weights,
        product=case.product,
        solvent=case.solvent,
        further=case.further,
        in_excess=frozenset(case.in_excess),
        standard=case.standard,
        driven_off=frozenset(case.driven_off),
        unknown=case.unknown,
        unknown_rest=case.rest,
    )
    asked = [
        Asked(Quantity("extent", ""), unit, form="species")
        if name.endswith("|choice")
        else Asked(quantity(name), unit, "formula" if case.unknown else "number")
        for name, unit in case.asked.items()
    ]
    return scene, chain(scene, asked, constants()), given
