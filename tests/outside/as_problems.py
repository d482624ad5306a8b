"""Rows of published worked examples, made into problems that `problemgen solve` reads: as_problems.py IN OUT.

A row is an object with `id`, `kind`, `equation`, `given` and `asked`: lists of {of, formula, quantity, value | answer,
unit, role?}, as books print them. Books leave roles unsaid: the volume of a substance whose concentration is known is
its solution's, "the mixture" is a mixture of gases where it has a pressure, a dilution's volume without a stage belongs
to the stage that is not told otherwise. Here that is guessed, from what else the row tells, so that `solve` need not.

Every row becomes one problem with the row's id, every asked line one asked line. What cannot be expressed is passed on
under its own name, which `solve` refuses. Only the installed package is needed.
"""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.equation import balance, read_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import ProblemgenError
from problemgen.model.quantity import KINDS

OF_SOLUTION = ("concentration", "mass_concentration", "mass_fraction", "volume_fraction")
"""The quantities that make a substance a solute."""

STAGES = ("initial", "final")
"""Before and after."""

MEASURED = ("mass", "amount", "volume")
BY_AMOUNT = ("mole_fraction", "molality")
BY_VOLUME = ("volume_fraction", "trace_fraction", "mass_volume_percent")
CONTENTS = (*BY_AMOUNT, "mass_fraction", *BY_VOLUME, "concentration")
CONDITIONS = ("pressure", "temperature")
OF_GASES = (*CONDITIONS, "volume", "amount", "mass", "mole_fraction", "volume_fraction")
WATER = "H2O"

COLLECTED = ("H2", "O2", "N2", "CO", "CO2", "CH4", "C2H2", "NO", "N2O")
"""Gases that are usually collected over water: common practice, no source."""

MIXTURE_WORDS = ("mixture", "gas", "air", "total", "vessel", "container", "flask", "cylinder", "tank", "bulb")
PER_SERVING = re.compile(r"(mass|amount|volume)_per_(?:serving|portion|tablet|capsule|dose|cup|can|bottle)")
SERVINGS = ("servings", "portions", "tablets", "capsules", "doses", "cups", "cans", "bottles")
SPELLINGS = {
    "mass_per_volume_percent": "mass_volume_percent",
    "percent_mass_volume": "mass_volume_percent",
    "limiting_reactant": "limiting_reagent",
}
RENAMED = {"theoretical_mass": ("mass", "theoretical"), "theoretical_amount": ("amount", "theoretical")}
RANKINGS = {
    **dict.fromkeys(("greatest", "most", "largest"), "greatest"),
    **dict.fromkeys(("least", "fewest", "smallest"), "least"),
}
PARTICLES = ("molecules", "particles", "formula_units", "ions", "moles")
FORMULAS = ("empirical_formula", "molecular_formula")
UNSAID = ("molecular_formula", "unbalanced_equation", "solvent_formula")
"""Given lines that only name a formula, or the equation that is to be balanced."""

RESERVED = ("mixture", "solution", "sample", "product", "compound", "atoms")
"""Words with a meaning of their own in a problem."""

SURE_FIGURES = 3
"""Zeros behind so many figures of a whole number may stand for nothing measured, in a book."""


@dataclass(frozen=True)
class Placed:
    """What a line means; `is_word` tells that `of` is a word of the problem's own: "mixture", "sample", "compound"."""

    quantity: str
    of: str
    role: str = ""
    is_word: bool = False


SAMPLE = Placed("mass", "sample", "sample", is_word=True)


@dataclass(frozen=True)
class Line:
    """One line of a row: the species' formula or name, the quantity's name, the role that is said ("" for none)."""

    of: str
    quantity: str
    role: str
    asked: bool
    formula: Formula | None
    text: str | None
    unit: str | None

    @property
    def has_formula(self) -> bool:
        """Whether the row names a formula for it."""
        return self.formula is not None


def line_of(data: Mapping[str, Any], *, asked: bool) -> Line:
    """A line as it is printed."""
    formula = read_formula(data["formula"]) if data.get("formula") else None
    of = formula.text if formula else (data.get("of") or "")
    quantity = SPELLINGS.get(data["quantity"], data["quantity"])
    value = data.get("answer" if asked else "value")
    text = None if value is None else str(value)
    return Line(of, quantity, data.get("role") or "", asked, formula, text, data.get("unit"))


@dataclass(frozen=True)
class Row:
    """All lines of one row, with the signed coefficients of its equation."""

    nu: Mapping[str, int]
    given: tuple[Line, ...]
    asked: tuple[Line, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """What is given, then what is asked."""
        return (*self.given, *self.asked)

    def has(self, of: str, quantity: str, role: str | None = None) -> bool:
        """Whether a line speaks of this quantity (in this role)."""
        return any(e.of == of and e.quantity == quantity and role in (None, e.role) for e in self.lines)

    def gives(self, of: str, quantity: str) -> bool:
        """Whether this quantity is given."""
        return any(e.of == of and e.quantity == quantity for e in self.given)

    def is_product(self, of: str) -> bool:
        """Whether a species stands on the right."""
        return self.nu.get(of, 0) > 0

    @property
    def solute(self) -> str:
        """The substance whose concentration or percentage the row is about; "" where there is none."""
        ordered = sorted(self.lines, key=lambda line: not line.has_formula)
        return next((e.of for e in ordered if e.quantity in OF_SOLUTION), "")

    @property
    def analyte(self) -> str:
        """The substance whose share of a sample the row is about, or else the solute."""
        return next((e.of for e in self.lines if e.quantity == "mass_fraction" and e.has_formula), self.solute)

    @property
    def staged(self) -> bool:
        """Whether the row tells a before and an after, as a dilution does."""
        return any(e.role in STAGES for e in self.lines)

    @property
    def formulas(self) -> list[str]:
        """The species with a formula that lines name, in order."""
        return list(dict.fromkeys(line.of for line in self.lines if line.has_formula))


# What a line means: contents of solutions, samples and servings; gases; all others.


def placed(line: Line, row: Row, solvent: str) -> Placed:
    """What a line means. A quantity that nobody knows keeps its name."""
    quantity, role = RENAMED.get(line.quantity, (line.quantity, line.role))
    line = replace(line, quantity=quantity, role=role)
    if quantity == "mass_volume_percent":
        return Placed(quantity, line.of)
    found = of_serving(line, row) or of_solvent(line, row, solvent) or of_liquid(line, row) or of_sample(line, row)
    return found or of_gas(line, row) or by_itself(line, row)


def of_serving(line: Line, row: Row) -> Placed | None:
    """A line about equal portions of something."""
    per = PER_SERVING.fullmatch(line.quantity)
    if per is not None:
        return Placed(per[1], line.of, "serving")
    if line.quantity in SERVINGS:
        named = (e.of for e in row.lines if PER_SERVING.fullmatch(e.quantity))
        return Placed("portions", next(named, line.of))
    if line.quantity == "count" and not line.has_formula and row.gives(line.of, "volume"):
        return Placed("portions", line.of)  # of vessels
    return None


def of_solvent(line: Line, row: Row, solvent: str) -> Placed | None:
    """A line about the solvent, or about the solution as a whole, where the solvent matters."""
    if not solvent:
        return None
    solute = solute_beside(row, solvent)
    if line.role == "solvent" or line.of == solvent:
        if line.quantity in MEASURED:
            return Placed(line.quantity, solute, "solvent")
        return Placed(line.quantity, solvent) if line.quantity in ("density", "mole_fraction") else None
    whole = line.role == "solution" or not line.has_formula
    if line.quantity in (*MEASURED, "density") and whole:
        return Placed(line.quantity, solute, "solution")
    is_own = line.quantity == "density" and not row.has(solute, "volume")
    return Placed("density", solute, "solution") if is_own else None


def solvent_of(row: Row) -> str:
    """The solvent of a row on mole fractions or molality, water where it is unsaid; "" for other rows."""
    kinds = {line.quantity for line in row.lines}
    if not kinds & set(BY_AMOUNT) or kinds & set(CONDITIONS):
        return ""
    for line in row.lines:
        if line.has_formula and (line.role == "solvent" or line.quantity == "solvent_formula"):
            return line.of
    others = [name for name in row.formulas if name != solute_beside(row, "")]
    measured = [name for name in row.formulas if any(row.gives(name, kind) for kind in MEASURED)]
    if len(measured) > 1:
        return others[0] if "molality" in kinds else ""
    return others[0] if len(others) == 1 else WATER


def solute_beside(row: Row, solvent: str) -> str:
    """The substance that a row on contents is about: what is given of a substance tells it from the solvent."""
    told = [line for line in row.lines if line.has_formula and line.of != solvent]
    return next((e.of for e in told if e.quantity in CONTENTS), next((e.of for e in told), ""))


def of_liquid(line: Line, row: Row) -> Placed | None:
    """A line about a substance that is told by volume of its solution, or about that solution."""
    told = [e for e in row.lines if e.quantity in BY_VOLUME and e.has_formula]
    if not told or line.quantity not in ("volume", "density", "mass") or row.has(told[0].of, "pressure"):
        return None
    of, is_liquid = told[0].of, told[0].quantity == "volume_fraction"
    if line.role == "solution" or not line.has_formula:
        return Placed(line.quantity, of, "solution")
    if line.quantity == "volume" and not is_liquid:
        return Placed("volume", of, "solution")
    return Placed(line.quantity, of) if line.of == of and not line.role else None


def of_sample(line: Line, row: Row) -> Placed | None:
    """The mass of what several parts are in, or of what one part is in that was weighed too."""
    parts = {e.of for e in row.lines if e.quantity == "mass_fraction" and e.has_formula}
    told = line.quantity == "mass" and line.role in ("", "sample") and not row.staged
    if not told or not parts or line.of in parts:
        return None
    if line.has_formula:
        weighed = all(row.gives(part, "mass") for part in parts)
        return SAMPLE if weighed and not row.nu.get(line.of) and not line.asked else None
    if len(parts) > 1:
        return SAMPLE
    is_liquid = any(e.quantity in ("density", "volume") for e in row.lines)
    return None if line.role or is_liquid else Placed("mass", next(iter(parts)), "impure")


def of_gas(line: Line, row: Row) -> Placed | None:
    """A line about a mixture of gases, a gas over water, or a gas in one of two states."""
    mixture = mixture_of(row)
    if not mixture:
        return in_state(line, row) if has_states(row) else None
    collected = collected_in(mixture, row)
    if collected:
        return over_water(line, row, mixture, collected)
    return Placed(line.quantity, "mixture", "mixed", is_word=True) if line.of in mixture else None


def mixture_of(row: Row) -> frozenset[str]:
    """The names of a mixture of gases and of its vessel; none where no mixture is told of."""
    if row.staged or not any(e.has_formula and e.quantity in OF_GASES for e in row.lines):
        return frozenset()
    named = {e.of for e in row.lines if not e.has_formula and any(word in e.of.lower() for word in MIXTURE_WORDS)}
    told = any(e.of in named and e.quantity in CONDITIONS for e in row.lines)
    return frozenset(named) if told else frozenset()


def collected_in(mixture: frozenset[str], row: Row) -> str:
    """The one gas that is collected over water; "" where there is none, or more than one."""
    if not (any(row.has(name, "pressure") for name in mixture) and row.has(WATER, "pressure")):
        return ""
    told = {e.of for e in row.lines if e.has_formula and e.quantity in (*CONDITIONS, "volume")} - {WATER}
    gases = told or {name for name in COLLECTED if row.nu.get(name)}
    return next(iter(gases)) if len(gases) == 1 else ""


def over_water(line: Line, row: Row, mixture: frozenset[str], gas: str) -> Placed | None:
    """A line about a gas over water: the mixture's pressure, the water's, the gas' own volume."""
    if line.quantity == "pressure" and line.of in (*mixture, WATER):
        return Placed("pressure", gas, "total" if line.of in mixture else "vapour")
    if line.quantity == "temperature" and line.of in (*mixture, WATER):
        return Placed("temperature", gas)
    if line.quantity == "volume" and line.of in (*mixture, gas):
        moist = any(row.gives(one, "volume") for one in (*mixture, gas))
        stated = "theoretical" if row.is_product(gas) else ""
        return Placed("volume", gas, "dry" if line.asked and moist else stated)
    return None


def has_states(row: Row) -> bool:
    """Whether the row tells of a gas before and afterwards."""
    gaseous = any(e.quantity in (*CONDITIONS, "amount") for e in row.lines)
    return row.staged and gaseous and not row.solute


def in_state(line: Line, row: Row) -> Placed:
    """A quantity of a gas in one of two states: one told without a state is of the state not told otherwise."""
    if line.role in STAGES:
        return Placed(line.quantity, line.of, line.role)
    others = {e.role for e in row.lines if e.quantity == line.quantity and e.of == line.of} & set(STAGES)
    if len(others) == 1:
        return Placed(line.quantity, line.of, "final" if "initial" in others else "initial")
    return Placed(line.quantity, line.of, line.role)


def by_itself(line: Line, row: Row) -> Placed:
    """Any other line."""
    of, role, quantity = line.of, line.role, line.quantity
    if quantity == "element_mass_contribution":
        return Placed("molar_mass", of)
    if quantity == "volume" and role == "sample":
        role = ""
    whole = row.analyte if role == "sample" else row.solute
    if role in ("solution", "solvent", "sample", *STAGES) and of != whole and not has_own(of, row):
        of = whole or of
    if row.staged:
        told = {e.role for e in row.lines if e.quantity == quantity and e != line}
        return in_dilution(replace(line, of=of, role=role), row, "initial" if "final" in told else "final")
    if quantity == "mass_fraction" and role in ("purity", "impure", "solution"):
        told_twice = sum(e.of == of and e.quantity == "mass_fraction" for e in row.lines) > 1
        return Placed("purity" if role != "solution" and told_twice and not line.asked else quantity, of)
    return Placed(quantity, of, role_of(quantity, of, role, row))


def has_own(of: str, row: Row) -> bool:
    """Whether a substance has a concentration or percentage of its own in the row."""
    return any(row.has(of, quantity) for quantity in OF_SOLUTION)


def role_of(quantity: str, of: str, role: str, row: Row) -> str:
    """The role of a quantity that none of the rules before is about."""
    if role:
        return "impure" if role == "sample" else role
    if quantity in ("volume", "density") and in_solution(of, row):
        return "solution"
    if quantity == "concentration" and not row.nu.get(of) and row.nu:
        return "mixed"
    surpassed = row.gives(of, "excess") or row.gives(of, "equivalents")
    if surpassed and quantity in MEASURED and not row.gives(of, quantity):
        return "taken"
    if quantity == "mass" and (row.has(of, "e_factor") or row.has(of, "mass_intensity")):
        return "actual"
    return "theoretical" if row.is_product(of) and quantity in (*MEASURED, "count") else ""


def in_solution(of: str, row: Row) -> bool:
    """Whether the volume or density of a substance, told without a role, is its solution's."""
    is_gas = row.has(of, "pressure") or row.has(of, "temperature")
    volumes = [e.of for e in row.lines if e.quantity == "volume" and e.role == "solution"]
    beside = any(one == of or (of == row.solute and not has_own(one, row)) for one in volumes)
    if is_gas or (row.has(of, "volume", "") and beside):
        return False
    dissolved = row.has(of, "concentration") or row.has(of, "mass_concentration")
    return dissolved or row.gives(of, "mass_fraction") or row.has(of, "density", "solution")


def in_dilution(line: Line, row: Row, stage_left: str) -> Placed:
    """A quantity of a dilution: what is told without a stage is of the stage that is not told otherwise."""
    quantity, of, role = line.quantity, line.of, line.role
    if role == "added":
        return Placed(quantity, row.solute or of, role)
    of = of if of in row.nu or of in row.formulas else (row.solute or of)
    if role not in STAGES and quantity in ("mass", "volume", "concentration", "mass_fraction"):
        role = stage_left
    return Placed(quantity, of, role)


# Analyses: what is asked is a formula.


@dataclass(frozen=True)
class Analysis:
    """A row that asks for a formula."""

    row: Row

    @property
    def elements(self) -> list[str]:
        """The elements of the compound: those analysed, then those that the asked formula names beside them."""
        analysed = [e.formula.counts[0][0] for e in self.row.given if e.formula and len(e.formula.counts) == 1]
        named = [symbol for e in self.row.asked if e.formula for symbol, _ in e.formula.counts]
        told = (*(symbol for symbol, _ in self.counted), *analysed, *named)
        return list(dict.fromkeys(symbol for symbol in told if symbol in named or not named))

    @property
    def counted(self) -> list[tuple[str, int]]:
        """The atoms of a molecule whose formula is given."""
        given = [e for e in self.row.given if e.quantity == "molecular_formula"]
        return [pair for e in given for pair in read_formula(e.text or e.of).counts]

    def placed(self, line: Line) -> Placed:
        """What a line means."""
        asked = {e.of for e in self.row.asked if e.has_formula}
        if line.role == "sample":
            return SAMPLE
        if line.quantity == "molar_mass" or not line.has_formula or line.of in asked:
            return Placed(line.quantity, "compound", is_word=True)
        dissolved = line.quantity == "volume" and self.row.gives(line.of, "concentration")
        return Placed(line.quantity, line.of, "solution" if dissolved else "")

    def rest(self) -> str | None:
        """The element that only a difference can tell: it has no data, and no one substance brings it alone."""
        told = {self.placed(e).of for e in self.row.given} | {symbol for symbol, _ in self.counted}
        answers = {e.of for e in self.row.asked if e.has_formula}
        brought = [e.formula for e in self.row.given if e.formula and e.of not in answers]
        brought += [read_formula(name) for name, nu in self.row.nu.items() if nu < 0]
        brought = list({one.text: one for one in brought if not self.row.is_product(one.text)}.values())
        left = [
            element
            for element in self.elements
            if element not in told and sum(bool(one.count(element)) for one in brought if one.text != element) != 1
        ]
        return left[0] if len(left) == 1 else None


# Writing the problem.


def unit_of(quantity: str, unit: str | None) -> str:
    """A unit as `solve` takes it: a molar mass in atomic mass units is one in grams per mole, a number is bare."""
    if unit is None or quantity == "portions":
        return "1"
    if quantity == "mass_volume_percent" and unit == "%":
        return "g/dL"  # grams in 100 mL
    return unit.replace("amu", "g/mol") if quantity == "molar_mass" else unit


def surely(text: str | None) -> str | None:
    """A number with the figures that it surely has: of a whole number, zeros behind the third may be none."""
    zeros = len(text) - len(text.rstrip("0")) if text and text.isdigit() else 0
    unsure = min(zeros, max(len((text or "").lstrip("0")) - SURE_FIGURES, 0))
    return f"{(text or '')[:-unsure]}e{unsure}" if unsure else text


class Names:
    """What lines call the species: the formula, or a name where there is none."""

    def __init__(self, data: Mapping[str, Any], row: Row) -> None:
        """Take the names of all lines; the first for a formula counts. A formula that is asked for tells nothing."""
        answers = {line.of for line in row.asked if line.quantity in FORMULAS} - {line.of for line in row.given}
        self.formulas = {*row.nu, *row.formulas} - answers
        self.substances: dict[str, str | None] = {}
        for line in (*data.get("given", ()), *data["asked"]):
            of, formula = line.get("of"), line.get("formula")
            text = read_formula(formula).text if formula else None
            is_name = of and not is_formula(of) and of not in RESERVED
            if is_name and text in self.formulas and text not in self.substances.values():
                self.substances.setdefault(of, text)
        for text in row.formulas:  # what no line is about may yet hold what is asked
            if text in self.formulas and text not in self.substances.values():
                self.substances.setdefault(text, text)

    def word(self, means: Placed) -> str:
        """The word for what a line is about; a species without a formula is declared."""
        if means.is_word or means.of in self.formulas:
            return means.of
        name = f"the {means.of}" if means.of in RESERVED else (means.of or "the substance")
        self.substances.setdefault(name, None)
        return name


def is_formula(text: str) -> bool:
    """Whether a text reads as a formula."""
    try:
        read_formula(text)
    except ProblemgenError:
        return False
    return True


def problem_of(data: Mapping[str, Any]) -> dict[str, Any]:
    """A row as a problem; one that cannot even be read is passed on with the reason as what is given."""
    told = {key: data[key] for key in ("id", "source", "note") if data.get(key) is not None}
    try:
        return told | expressed(data)
    except (ProblemgenError, KeyError, TypeError, ValueError, AttributeError, IndexError) as error:
        given = [{"quantity": f"not expressed: {error}", "of": WATER, "value": "1"}]
        lines = data.get("asked") or []
        asked = [{"quantity": str(one.get("quantity")), "answer": one.get("answer")} for one in lines]
        return {**told, "given": given, "asked": asked}


def expressed(data: Mapping[str, Any]) -> dict[str, Any]:
    """The equation, the substances and the lines of a problem."""
    data = prepared(data)
    equation = equation_of(data)
    read = read_equation(equation) if equation else None
    sides = ((-1, read.left), (1, read.right)) if read else ()
    nu = {term.formula.text: sign * term.coefficient for sign, side in sides for term in side}
    given = tuple(line_of(one, asked=False) for one in data.get("given", ()))
    row = Row(nu, given, tuple(line_of(one, asked=True) for one in data["asked"]))
    names = Names(data, row)
    if any(line.quantity in FORMULAS for line in row.asked):
        more, lines = of_analysis(row, names)
    else:
        solvent = solvent_of(row)
        more = {"solvent": solvent} if solvent else {}
        given_lines = [line for line in row.given if line.quantity not in UNSAID]
        lines = {"given": [given_line(line, placed(line, row, solvent), names) for line in given_lines]}
        lines["asked"] = [asked_line(line, row, solvent, names) for line in row.asked]
    head = {"equation": equation} if equation else {}
    return head | ({"substances": names.substances} if names.substances else {}) | more | lines


def prepared(data: Mapping[str, Any]) -> dict[str, Any]:
    """A row with what its lines say about each other put into them.

    The formula that an asked molar mass names belongs to the answer, where what is given of the substance names none.
    Parts per million are traces, where water is told by volume: a litre counts as a kilogram.
    """
    given, asked = ([dict(line) for line in data.get(side) or ()] for side in ("given", "asked"))
    unknown = {line.get("of") for line in given if line.get("formula") is None}
    for line in asked:
        if line["quantity"] == "molar_mass" and line.get("of") in unknown:
            line["formula"] = None
    kinds = {line["quantity"] for line in (*given, *asked)}
    if kinds & {"volume", "concentration", "mass_concentration"} and "density" not in kinds:
        for line in (*given, *asked):
            if line["quantity"] == "mass_fraction" and line.get("unit") in ("ppm", "ppb"):
                line["quantity"] = "trace_fraction"
    return {**data, "given": given, "asked": asked}


def equation_of(data: Mapping[str, Any]) -> str | None:
    """The equation of a problem: the one to be balanced, the one printed, or that of molecules from counted atoms."""
    for line in data["given"]:
        if line["quantity"] == "unbalanced_equation" and any(
            e["quantity"] == "balanced_equation" for e in data["asked"]
        ):
            return str(line["value"])
    counted = [line for line in data["given"] if line["quantity"] == "count" and line.get("formula")]
    made = [line for line in data["asked"] if line["quantity"] == "count" and line.get("formula")]
    if data.get("equation") or len(counted) < 2 or len(made) != 1 or len(counted) != len(data["given"]):
        return data.get("equation")
    left = " + ".join(line["formula"] for line in counted)
    return balance(read_equation(f"{left} -> {made[0]['formula']}")).text


def of_analysis(row: Row, names: Names) -> tuple[dict[str, Any], dict[str, Any]]:
    """The unknown compound of a problem that asks for a formula, and its lines."""
    analysis, rest = Analysis(row), None
    unknown: dict[str, Any] = {"elements": analysis.elements}
    rest = analysis.rest()
    if rest is not None:
        unknown["rest"] = rest
    given = [{"quantity": "amount", "of": s, "role": "", "value": str(n), "unit": "mol"} for s, n in analysis.counted]
    lines = [line for line in row.given if line.quantity != "molecular_formula"]
    given += [given_line(line, analysis.placed(line), names) for line in lines]
    asked = [
        answered({"quantity": line.quantity}, line)
        if line.quantity in FORMULAS
        else number_line(line, analysis.placed(line), names)
        for line in row.asked
    ]
    return {"unknown": unknown}, {"given": given, "asked": asked}


def given_line(line: Line, means: Placed, names: Names) -> dict[str, Any]:
    """A given line of a problem; a purity has no role."""
    role = {} if means.quantity == "purity" else {"role": means.role}
    about = {"quantity": means.quantity, "of": names.word(means), **role}
    return {**about, "value": surely(line.text), "unit": unit_of(means.quantity, line.unit)}


def asked_line(line: Line, row: Row, solvent: str, names: Names) -> dict[str, Any]:
    """An asked line of a problem."""
    if line.quantity in ("limiting_reagent", "balanced_equation"):
        return answered({"quantity": line.quantity}, line)
    first, _, rest = line.quantity.partition("_")
    if first in RANKINGS and line.quantity not in KINDS:
        found = ranking(RANKINGS[first], rest)
        if found is not None:
            return answered(found, line)
    return number_line(line, placed(line, row, solvent), names)


def number_line(line: Line, means: Placed, names: Names) -> dict[str, Any]:
    """An asked line whose answer is a number."""
    about = {"quantity": means.quantity, "of": names.word(means), "role": means.role}
    return answered({**about, "unit": unit_of(means.quantity, line.unit)}, line)


def ranking(which: str, rest: str) -> dict[str, Any] | None:
    """What a name such as "fewest_molecules" or "greatest_mass_of_O" asks; None where it asks nothing known."""
    kind, _, element = rest.rpartition("mass_of_")
    if rest == "atoms":
        return {"which": which, "quantity": "count", "of": "atoms"}
    if rest in PARTICLES:
        return {"which": which, "quantity": "count"}
    if element in ELEMENTS and not kind:
        return {"which": which, "quantity": "mass" if "mass_of_" in rest else "count", "of": element}
    return None


def answered(about: dict[str, Any], line: Line) -> dict[str, Any]:
    """A line with the answer that is printed, where there is one."""
    return about if line.text is None else {**about, "answer": line.text}


def main(arguments: list[str]) -> int:
    """Convert one file; return the exit code."""
    if len(arguments) != 2:
        print("usage: as_problems.py IN OUT", file=sys.stderr)
        return 2
    rows = json.loads(Path(arguments[0]).read_text(encoding="utf-8"))
    problems = [problem_of(row) for row in rows]
    Path(arguments[1]).write_text(json.dumps(problems, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
