"""Constants of the laws: the exact values of the SI, and the values that courses use for them.

Source: SI Brochure, 9th edition, 2019 (N_A and k exact, so R = N_A·k exact). The rounded values are common
practice, no source: R = 8.31 or 8.314 J/(mol·K), 0.0821 or 0.08206 L·atm/(mol·K); N_A = 6.02e23 or 6.022e23.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from problemgen.model.problem import Constant
from problemgen.model.quantity import Quantity, Role

__all__ = ["DILUTE", "GAS_CONSTANT", "MOLAR_VOLUMES", "constants"]

_AVOGADRO = Fraction("6.02214076e23")
_BOLTZMANN = Fraction("1.380649e-23")
_ATMOSPHERE = Fraction("101.325")  # kPa, exact by definition

GAS_CONSTANT = _AVOGADRO * _BOLTZMANN
"""In J/(mol·K), which is kPa·L/(mol·K); exact."""

_GAS_VALUES = (
    GAS_CONSTANT,
    Fraction("8.31"),
    Fraction("8.314"),
    Fraction("8.3145"),
    Fraction("0.0821") * _ATMOSPHERE,
    Fraction("0.08206") * _ATMOSPHERE,
)
_AVOGADRO_VALUES = (_AVOGADRO, Fraction("6.02e23"), Fraction("6.022e23"))


MOLAR_VOLUMES: Mapping[str, str] = MappingProxyType(
    {"0 °C and 1 bar": "22.711", "0 °C and 1 atm": "22.414", "25 °C and 1 bar": "24.790"}
)
"""The molar volume of the ideal gas in L/mol at the conditions that tables name.

Source: CODATA 2022 (22.710 954 64 and 22.413 969 54 L/mol at 273.15 K, exact); at 298.15 K it is RT/p.
"""


DILUTE = Quantity("density", "", Role.DILUTE)
"""The density of a dilute solution in water. Courses take 1.00 g/mL; water has 0.997 g/mL at 25 °C (from memory)."""


def constants() -> tuple[Constant, ...]:
    """The gas constant (kPa·L/(mol·K)), the Avogadro constant (1/mol), the density of dilute solutions (g/L)."""
    return (
        Constant(Quantity("gas_constant", ""), GAS_CONSTANT, min(_GAS_VALUES), max(_GAS_VALUES)),
        Constant(Quantity("avogadro", ""), _AVOGADRO, min(_AVOGADRO_VALUES), max(_AVOGADRO_VALUES)),
        Constant(DILUTE, Fraction(1000), Fraction(997), Fraction(1000)),
    )
