"""Which quantity, of what: the vocabulary that templates, laws, keys and worked solutions share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

from problemgen.chemistry.units import Dimension, read_unit

__all__ = ["CONSTANT_KINDS", "KINDS", "ROLES", "Kind", "Quantity", "from_reagent", "reagent_of"]


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its symbol, the unit the trade uses for it, and the words for it.

    Symbols are those of the IUPAC Green Book (Quantities, Units and Symbols in Physical Chemistry,
    3rd edition, 2007, chapter 2): n, m, V, M, c, w, ρ, ξ, ν, γ, b, x.
    """

    name: str
    symbol: str
    unit: str
    words: str

    @property
    def dimension(self) -> Dimension:
        """The dimension that every unit of this kind must have."""
        return read_unit(self.unit).dimension


KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        kind.name: kind
        for kind in (
            Kind("mass", "m", "g", "mass"),
            Kind("volume", "V", "mL", "volume"),
            Kind("amount", "n", "mol", "amount"),
            Kind("molar_mass", "M", "g/mol", "molar mass"),
            Kind("atomic_weight", "A", "g/mol", "molar mass of the element"),
            Kind("density", "ρ", "g/mL", "density"),
            Kind("concentration", "c", "mol/L", "amount concentration"),
            Kind("mass_concentration", "γ", "g/L", "mass concentration"),
            Kind("mass_fraction", "w", "%", "mass percent"),
            Kind("volume_fraction", "φ", "%", "volume percent"),
            Kind("mole_fraction", "x", "1", "mole fraction"),
            Kind("trace_fraction", "w", "ppm", "mass fraction in parts per million or billion"),
            Kind("mass_volume_percent", "γ", "g/dL", "mass-per-volume percent (grams in 100 mL)"),
            Kind("molality", "b", "mol/kg", "molality"),
            Kind("extent", "ξ", "mol", "extent of reaction"),
            Kind("percent_yield", "Y", "%", "percent yield"),
            Kind("pressure", "p", "kPa", "pressure"),
            Kind("temperature", "T", "K", "temperature"),
            Kind("molar_volume", "Vₘ", "L/mol", "molar volume"),
            Kind("gas_constant", "R", "kPa L/(mol K)", "gas constant"),
            Kind("avogadro", "Nₐ", "molecules/mol", "Avogadro constant"),
            Kind("count", "N", "molecules", "number of particles"),
            Kind("subscript", "s", "1", "subscript in the formula"),
            Kind("waters", "x", "1", "water of crystallisation per formula unit"),
            Kind("multiple", "k", "1", "number of empirical formulas in the molecule"),
            Kind("portions", "N", "1", "number of whole units"),
            Kind("equivalents", "r", "1", "equivalents"),
            Kind("excess", "exc", "%", "percent excess"),
            Kind("atom_economy", "AE", "%", "atom economy"),
            Kind("e_factor", "E", "1", "E-factor"),
            Kind("mass_intensity", "PMI", "1", "process mass intensity"),
            Kind("recovery", "R", "%", "percent recovery"),
            Kind("conversion", "X", "%", "conversion"),
            Kind("selectivity", "S", "%", "selectivity"),
            Kind("share", "x", "%", "share"),
            Kind("product_ratio", "r", "1", "product ratio"),
            Kind("peak_area", "A", "1", "peak area"),
            Kind("distribution_ratio", "D", "1", "distribution ratio"),
            Kind("fraction_left", "q", "%", "percent left"),
            Kind("fraction_extracted", "E", "%", "percent extracted"),
            Kind("distance", "d", "mm", "distance"),
            Kind("retention_factor", "Rf", "1", "retention factor"),
            Kind("rotation", "α", "°", "optical rotation"),
            Kind("specific_rotation", "[α]", "° cm3 g^-1 dm^-1", "specific rotation"),
            Kind("path_length", "l", "dm", "path length"),
            Kind("enantiomeric_excess", "ee", "%", "enantiomeric excess"),
        )
    }
)


CONSTANT_KINDS = frozenset({"atomic_weight", "gas_constant", "avogadro"})
"""Kinds whose values are constants: no template gives them or asks for them."""

ROLES: Mapping[str, str] = MappingProxyType(
    {
        "solution": "of the solution",
        "solvent": "of the solvent",
        "impure": "with its impurities",
        "actual": "as obtained",
        "theoretical": "in theory",
        "left": "left over",
        "consumed": "used up",
        "initial": "before",
        "final": "afterwards",
        "added": "added",
        "mixed": "in the mixture",
        "taken": "taken, the excess counted in",
        "needed": "needed by the equation",
        "surplus": "beyond what is needed",
        "recovered": "recovered unchanged",
        "converted": "converted",
        "crude": "before purification",
        "purified": "after the first purification",
        "pure": "when pure",
        "lost": "lost on purification",
        "first": "of the first purification",
        "second": "of the second purification",
        "isomers": "all isomers together",
        "other": "other isomers",
        "input": "put in altogether",
        "auxiliaries": "solvents and auxiliaries",
        "waste": "of waste",
        "organic": "in the organic layer",
        "aqueous": "in the aqueous layer",
        "portion": "of one portion of solvent",
        "after_one": "left after one portion",
        "after_two": "left after two portions",
        "after_three": "left after three portions",
        "after_four": "left after four portions",
        "by_one": "extracted by one portion",
        "by_two": "extracted by two portions",
        "by_three": "extracted by three portions",
        "by_four": "extracted by four portions",
        "front": "solvent front",
        "edge": "from the edge",
        "front_edge": "solvent front, from the edge",
        "start": "starting line, from the edge",
        "major": "of the main enantiomer",
        "minor": "of the minor enantiomer",
        "sample": "of the sample",
        "serving": "in each serving",
        "flask": "in the volumetric flask",
        "aliquot": "in the aliquot",
        "step_one": "after one dilution",
        "step_two": "after two dilutions",
        "step_three": "after three dilutions",
        "step_four": "after four dilutions",
        "step_five": "after five dilutions",
        "step_six": "after six dilutions",
        "total": "with its water vapour",
        "vapour": "of the water vapour above it",
        "dry": "when dried",
        "onward": "taken on to the next step",
        "overall": "over all steps",
        "blank": "in the blank titration",
        "with_sample": "in the titration of the sample",
        "net": "with the blank taken into account",
        "whole": "if the sample were nothing else",
        "heated": "after heating",
        "driven_off": "driven off by heating",
    }
)
"""The roles that a template can name, each with words for it. `from:ID` is written with `from`."""


@dataclass(frozen=True, order=True)
class Quantity:
    """One quantity of a problem: kind, what it belongs to (a species' id, "" for the reaction), and role.

    Roles tell apart several quantities of one kind: "solution" (of the whole solution), "solvent",
    "impure" (the sample with its impurities), "actual" and "theoretical" (of a product), "left",
    "initial" and "final" (of a dilution), "step_one" to "step_six" (of a serial one), "flask" and "aliquot", "added",
    "mixed", "sample" (one sample for several parts), "serving", and "from:ID" (as far as reagent ID allows).
    """

    kind: str
    of: str
    role: str = ""

    @cached_property
    def id(self) -> str:
        """The quantity's name in expressions and in answers.json: `mass(acetone)`, `mass(acetone,actual)`."""
        inside = f"{self.of},{self.role}" if self.role else self.of
        return f"{self.kind}({inside})"


def from_reagent(reagent: str) -> str:
    """The role of a product's quantity as far as one reagent allows it."""
    return f"from:{reagent}"


def reagent_of(role: str) -> str:
    """The reagent of a role made by `from_reagent`; "" for other roles."""
    return role.removeprefix("from:") if role.startswith("from:") else ""
