"""The flask that fits, in words: what the liquids need, and the sizes beside it."""

from __future__ import annotations

from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.model.blocks import Paragraph, Prose
from problemgen.model.plan import Step
from problemgen.plan.laws.scaling import FLASK_SHARE, FLASKS
from problemgen.render.worked.printed import Printed

__all__ = ["vessel_words"]

_FIGURES = 3
"""Figures of the volume that is needed: enough to tell two sizes apart."""


def vessel_words(printed: Printed, step: Step) -> Paragraph:
    """ "The liquids take 49.3 mL, and 49.3 mL × 3/2 = 74.0 mL: between 50 mL and 100 mL." """
    size = printed.numbers.values[step.quantity.id]
    (liquids,) = (q for name, q in printed.quantities.items() if name in step.needs)
    filled = printed.numbers.values[liquids.id]
    below = [one for one in FLASKS if Fraction(one, 1000) < size]
    needs = f"{_millilitres(filled)} × {1 / FLASK_SHARE} = {_millilitres(filled / FLASK_SHARE)}"
    sizes = f"between {below[-1]} mL and {_millilitres(size)}" if below else f"up to {_millilitres(size)}"
    return Paragraph((Prose(f"The liquids take {_millilitres(filled)}, and {needs}: {sizes}."),))


def _millilitres(volume: Fraction) -> str:
    value = read_unit("mL").from_engine(volume)
    return f"{value if value.denominator == 1 else figures_text(value, _FIGURES)} mL"
