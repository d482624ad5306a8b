"""Kinds of quantity, each with its symbol, its unit and its words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from problemgen.chemistry.units import Dimension, read_unit

__all__ = ["CONSTANT_KINDS", "KINDS", "Kind"]


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
