"""Constants of the laws: the exact values of the SI, and the values that courses use for them.

Source: SI Brochure, 9th edition, 2019 (N_A and k exact, so R = N_A·k exact). The rounded values are common
practice, no source: R = 8.31 or 8.314 J/(mol·K), 0.0821 or 0.08206 L·atm/(mol·K); N_A = 6.02e23 or 6.022e23.
"""

from __future__ import annotations

from fractions import Fraction

from problemgen.model.problem import Constant
from problemgen.model.quantity import Quantity

__all__ = ["constants"]

_AVOGADRO = Fraction("6.02214076e23")
_BOLTZMANN = Fraction("1.380649e-23")
_ATMOSPHERE = Fraction("101.325")  # kPa, exact by definition

_GAS = _AVOGADRO * _BOLTZMANN  # J/(mol·K), which is kPa·L/(mol·K)
_GAS_VALUES = (
    _GAS,
    Fraction("8.31"),
    Fraction("8.314"),
    Fraction("8.3145"),
    Fraction("0.0821") * _ATMOSPHERE,
    Fraction("0.08206") * _ATMOSPHERE,
)
_AVOGADRO_VALUES = (_AVOGADRO, Fraction("6.02e23"), Fraction("6.022e23"))


def constants() -> tuple[Constant, ...]:
    """The gas constant (kPa·L/(mol·K)) and the Avogadro constant (1/mol)."""
    return (
        Constant(Quantity("gas_constant", ""), _GAS, min(_GAS_VALUES), max(_GAS_VALUES)),
        Constant(Quantity("avogadro", ""), _AVOGADRO, min(_AVOGADRO_VALUES), max(_AVOGADRO_VALUES)),
    )
