"""The chemistry banks as records, each as its file has it: a new field of a substance is one line here.

Where an entry has no source of its own, it is the one of its file's head. What relates one entry to another
(references, balance, hydrates) is checked in `load/banks/banks.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from problemgen.chemistry.formula import Formula, read_formula
from problemgen.exact.digits import Written
from problemgen.exact.rounding import round_to_figures, round_to_place
from problemgen.model.citation import Citations
from problemgen.model.document import Document, Flag, Identifier, Number, Text, UnitText
from problemgen.model.hazards import Hazard
from problemgen.model.problem import Constant
from problemgen.model.quantity import Quantity

__all__ = [
    "Banks",
    "Bottle",
    "Element",
    "Glassware",
    "Measured",
    "Names",
    "Package",
    "Publication",
    "Reaction",
    "Source",
    "Statement",
    "Substance",
    "Tolerance",
    "VapourPressure",
]

_TERM = re.compile(r"(?:([1-9][0-9]*)\s+)?([a-z0-9.-]+)")

_DECIMALS = 2
"""Decimals of the atomic weights on many a wall chart."""

_FIGURES = 4
"""Figures of the atomic weights in tables for schools, which have silver as 107.9."""


def _rising(capacities: tuple[Written, ...]) -> tuple[Written, ...]:
    return tuple(sorted(capacities, key=lambda one: one.value))


class Source(Document):
    """What a citation may name.

    `place` is what a citation has to name in it ("section"), `words` what it has to tell ("the reasoning"); "" where
    neither is needed.
    """

    id: Identifier
    title: Text
    place: str = ""
    words: str = ""
    note: str = ""


class Publication(Source):
    """What somebody has published. `edition` also has the year, or the journal; `taken`: how figures came from it."""

    author: Text
    edition: Text
    taken: Literal["from memory", "from its text", "through a package"]


class Package(Source):
    """A distribution of code and tables that results are compared with; `version` as tested."""

    version: Text


class Statement(Source):
    """What stands in place of a source: memory, common practice, a reasoning."""


class Measured(Document):
    """A value with its unit, conditions and source."""

    value: Number
    unit: UnitText
    at: str = ""
    source: Citations = ()


class Element(Document):
    """An element's atomic weight, g/mol; `earlier` are values of other tables that are in use."""

    symbol: Text
    weight: Number
    uncertainty: Number | None = None
    earlier: tuple[Number, ...] = ()

    @property
    def constant(self) -> Constant:
        """The weight with the range that the tables in use span, each as it is, with two decimals, and four figures."""
        tables = [self.weight.value, *(one.value for one in self.earlier)]
        usual = [*tables, *(round_to_place(value, -_DECIMALS) for value in tables)]
        usual += [round_to_figures(value, _FIGURES) for value in tables]
        quantity = Quantity("atomic_weight", self.symbol)
        return Constant(quantity, self.weight.value, min(usual), max(usual), self.weight.text)


class Substance(Document):
    """A substance. `state` is that at 25 °C, and left out for one that is at hand in solution only; `hydrate_of` names
    the anhydrous substance.

    The structure of a `racemic` one shows one of its two enantiomers. Like its name, the synonyms are understood in
    answers, and its names in other languages are (`Names`).
    """

    id: Identifier
    name: Text
    synonyms: tuple[Text, ...] = ()
    written: Annotated[Text, Field(alias="formula")]
    smiles: Text | None = None
    racemic: Flag = False
    cas: Text | None = None
    state: Literal["solid", "liquid", "gas"] | None = None
    density: Measured | None = None
    hydrate_of: Identifier | None = None
    source: Citations = ()

    @cached_property
    def formula(self) -> Formula:
        """The formula that is written. Raises FormulaError, in no substance of a loaded bank."""
        return read_formula(self.written)


class Bottle(Document):
    """A usual bottle of a solution: mass percent and density, with the handbook's rounded concentration beside them, or
    the concentration alone, by which it is sold. `solvent` is another than water."""

    id: Identifier
    name: Text
    of: Identifier
    mass_percent: Number | None = None
    density: Measured | None = None
    concentration: Measured | None = None
    solvent: Identifier | None = None


class Reaction(Document):
    """A reaction. `flasks` are capacities in mL, rising; `sessions` those of reagents added later than in the first.

    `auxiliaries` are the solvents, catalysts and work-up reagents that the arrow names, beside the equation's reagents.
    The equation is written in substance ids: "2 hydrogen + oxygen -> 2 water".
    """

    id: Identifier
    name: Text
    equation: Text
    product: Identifier
    kind: Text
    purpose: Literal["laboratory", "paper"]
    above: str = ""
    below: str = ""
    auxiliaries: tuple[Identifier, ...] = ()
    yield_percent: tuple[Number, Number]
    flasks: Annotated[tuple[Number, ...], AfterValidator(_rising)] = ()
    sessions: dict[Identifier, int] = Field(default_factory=dict)
    product_scale_mmol: tuple[Number, Number] | None = None
    source: Citations = ()

    @cached_property
    def sides(self) -> tuple[tuple[str, ...], ...]:
        """The terms as they are written, a tuple for each side; two sides, in every reaction of a loaded bank."""
        return tuple(tuple(term.strip() for term in side.split(" + ")) for side in self.equation.split("->"))

    @cached_property
    def coefficients(self) -> Mapping[str, int]:
        """Signed by substance id, reagents negative, in the order of the equation."""
        terms = ((sign, self.read_term(term)) for sign, side in zip((-1, 1), self.sides, strict=True) for term in side)
        return {name: sign * number for sign, (number, name) in terms if number}

    @staticmethod
    def read_term(term: str) -> tuple[int, str]:
        """A term's coefficient and substance id; 0 and "" for one that is written otherwise."""
        match = _TERM.fullmatch(term)
        return (int(match[1] or 1), match[2]) if match else (0, "")


class Tolerance(Document):
    """The permitted error of a vessel: by class, or `one` where its standard knows no classes."""

    A: Number | None = None
    B: Number | None = None
    one: Number | None = None
    source: Citations


class Glassware(Document):
    """A vessel or balance: its capacity, and the smallest step that a student reads off."""

    id: Identifier
    name: Text
    kind: Text
    capacity: Number
    unit: UnitText
    step: Number
    tolerance: Tolerance | None = None


class VapourPressure(Document):
    """The saturation pressure of water at a whole temperature."""

    celsius: int
    kilopascals: Number


@dataclass(frozen=True)
class Names:
    """What the entries of the banks are called in one language: substances, glassware and bottles by id, elements by
    symbol, the sentences of hazards by code. What is not here goes by its English name.
    """

    substances: Mapping[str, str] = field(default_factory=dict)
    elements: Mapping[str, str] = field(default_factory=dict)
    glassware: Mapping[str, str] = field(default_factory=dict)
    bottles: Mapping[str, str] = field(default_factory=dict)
    statements: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Banks:
    """All banks, each by id.

    Elements go by symbol, hazards by substance, the sentences of hazards by code, the vapour pressure of water (kPa) by
    temperature (°C). `names` has those in other languages, by the languages' codes. `replaced` names the entries of a
    course that stand for ours, each behind its file.
    """

    weights: Mapping[str, Constant]
    edition: str
    substances: Mapping[str, Substance]
    bottles: Mapping[str, Bottle]
    reactions: Mapping[str, Reaction]
    glassware: Mapping[str, Glassware]
    hazards: Mapping[str, Hazard]
    hazard_statements: Mapping[str, str]
    water_vapour: Mapping[int, Written]
    sources: Mapping[str, Source]
    names: Mapping[str, Names] = field(default_factory=dict)
    replaced: tuple[str, ...] = ()

    def also_called(self, substance: Substance) -> tuple[str, ...]:
        """The other names of a substance: its synonyms, then what other languages call it."""
        foreign = (names.substances.get(substance.id, "") for names in self.names.values())
        return tuple(dict.fromkeys(filter(None, (*substance.synonyms, *foreign))))
