"""The flask that fits, in words: what the liquids need, and the sizes beside it."""

from __future__ import annotations

from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import _
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
    words = (
        _("The liquids take {volume}, and {working}: between {smaller} mL and {size}.")
        if below
        else _("The liquids take {volume}, and {working}: up to {size}.")
    )
    told = words.format(
        volume=_millilitres(filled), working=needs, smaller=below[-1] if below else "", size=_millilitres(size)
    )
    return Paragraph((Prose(told),))


def _millilitres(volume: Fraction) -> str:
    value = read_unit("mL").from_engine(volume)
    return f"{value if value.denominator == 1 else number_text(figures_text(value, _FIGURES))} mL"
