"""The answers to a problem's parts, from its plan and the values given: one way for drawn and for measured values."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from problemgen.chemistry.equation import Equation, Term
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.answers import Truth
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity
from problemgen.model.variant import Answer
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.laws.formulas import formula_text
from problemgen.plan.windows import answer_window, given_window

__all__ = [
    "KEY_FIGURES",
    "WIDEST",
    "WIDEST_COARSE",
    "answer_to",
    "datum_windows",
    "equation_text",
    "is_wide",
    "truth_of",
    "undecided",
]

KEY_FIGURES = 12
"""Figures of values and bounds in a key: bounds are rounded outwards."""

WIDEST = Fraction(3, 100)
"""The widest half-width of a window, relative to the value, where the data have three figures or more."""

WIDEST_COARSE = Fraction(8, 100)
"""The same where they have fewer."""

_EXACT = Exact()


def datum_windows(given: Mapping[str, Datum]) -> dict[str, Window]:
    """The windows of given values, in engine units, by quantity id."""
    return {
        name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT)
        for name, datum in given.items()
    }


def answer_to(plan: Plan, scene: Scene, part: str, asked: Asked, windows: Mapping[str, Window]) -> Answer:
    """The answer to one part, from the windows of all values of the plan (exact, engine units)."""
    if asked.form == "equation":
        nothing = Fraction(0)
        return Answer(part, asked.unit, nothing, nothing, nothing, 0, text=equation_text(scene))
    window = answer_window(plan, asked, windows, _EXACT)
    choice = _limiting(plan, windows) if asked.choice else ""
    text = ""
    if asked.form == "formula":
        text = formula_text(plan, asked.quantity.role, {name: one.value for name, one in windows.items()})
    return Answer(part, asked.unit, window.value, window.low, window.high, window.figures, choice, text)


def equation_text(scene: Scene) -> str:
    """The scene's equation, balanced."""
    sides = [
        tuple(Term(s.nu, s.formula) for s in side if s.formula is not None) for side in (scene.reagents, scene.products)
    ]
    return Equation(*sides).text


def _limiting(plan: Plan, windows: Mapping[str, Window]) -> str:
    return min(plan.sources, key=lambda source: windows[Quantity("extent", source).id].value)


def undecided(plan: Plan, windows: Mapping[str, Window]) -> tuple[str, ...]:
    """The reagents beside the limiting one that honest rounding may find to limit: their windows overlap."""
    extents = {source: windows[Quantity("extent", source).id] for source in plan.sources}
    least = min(extents.values(), key=lambda window: window.value)
    return tuple(source for source, window in extents.items() if window is not least and window.low <= least.high)


def truth_of(answer: Answer, also: tuple[str, ...] = ()) -> Truth:
    """An answer as it is marked by: the same numbers as after a way through answers.json."""
    value = _rounded(figures_text(answer.value, KEY_FIGURES))
    if answer.choice:
        nothing = Fraction(0)
        return Truth(nothing, nothing, nothing, 0, "", answer.choice, also=also)
    if answer.text:
        return Truth(value, value, value, 0, answer.text, "", answer.text)
    return Truth(
        value=value,
        low=_rounded(outward_text(answer.low, KEY_FIGURES, up=False)),
        high=_rounded(outward_text(answer.high, KEY_FIGURES, up=True)),
        figures=answer.figures,
        printed=figures_text(answer.value, answer.figures),
        choice="",
    )


def _rounded(text: str) -> Fraction:
    return read_written(text).value


def is_wide(truth: Truth) -> bool:
    """Whether a number's window is wider than one wants to mark by: a small difference of large numbers."""
    widest = WIDEST if truth.figures >= 3 else WIDEST_COARSE
    return (truth.high - truth.low) / 2 > widest * abs(truth.value)
