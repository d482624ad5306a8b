"""The parts of a cell, each with what it means by itself, and the rule by which a person puts them together.

How students and their spreadsheets write is common practice, no source; U+2212, × and the grouping of digits by thin
spaces are from the SI Brochure, 9th edition (2019), section 5.4.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from hypothesis import strategies as st

from tests.support.person_cells import MEASURES, Cell, Take

__all__ = ["APPROXIMATIONS", "LABELS", "NUMERALS", "TAILS", "UNITS", "Part", "cells", "composed", "drawn_cells"]


@dataclass(frozen=True)
class Part:
    """A part of a cell: what it states ("" for nothing), or that a cell with it cannot be read (`asks`).

    `meaning` is the value of a numeral and the unit that a unit, a label or a word states. A part that is `rare`
    may make the program ask although a person reads it.
    """

    text: str
    meaning: str = ""
    asks: bool = False
    rare: bool = False


def _all(meaning: str, *texts: str, asks: bool = False, rare: bool = False) -> tuple[Part, ...]:
    return tuple(Part(text, meaning, asks, rare) for text in texts)


NUMERALS: tuple[Part, ...] = (
    *_all("39.5", "39.5", "39,5", "39.50", "039.5", "+39.5", "３９．５", "39.5(1)", "39.5 ± 0.1", "39.5 +/- 0.1"),
    *_all("39.5", "(39.5 ± 0.1)", "3.95e1", "3.95E+01", "3.95 x 10^1", "3.95 × 10¹", "3.95·10^1", "3,95 × 10^1"),
    *_all("39.5", "3950e-2", "0.395 × 10^2", "(3.95 ± 0.01) × 10^1"),
    *_all("40", "40", "40.0", "4e1", "4 × 10^1", "4E+01"),
    *_all("40", "40.", rare=True),
    *_all("0.0395", "0.0395", "0,0395", ".0395", "3.95e-2", "3.95E-02", "3.95e−2", "3.95 x 10^-2", "3.95×10^−2"),
    *_all("0.0395", "3.95 × 10⁻²", "3.95·10⁻²", "3.95*10^-2", "3.95 X 10^-2", "3,95·10⁻²", "39.5 × 10⁻³"),
    *_all("0.0395", "3.95 x 10e-2"),  # what calculators show as e-2, with the ten typed besides: common practice
    *_all("0.0395", "3.95x10^(-2)", "3.95⋅10⁻²", "395e-4"),
    *_all("0.0395", "0.039 5", rare=True),
    *_all("0.01", "10^-2", "10⁻²", "1e-2", "1 × 10^-2"),
    *_all("-39.5", "-39.5", "−39.5", "-39,5", "-3.95e1", "−3.95 × 10^1"),
    *_all("1234.5", "1,234.5", "1.234,5", "1 234.5", "1 234,5", "1'234.5", "1’234.5", "1\u202f234.5", "1\u00a0234.5"),
    *_all("1234567", "1,234,567", "1.234.567", "1 234 567", "1'234'567", "1234567"),
    *_all("0", "0", "0.0", "0.00"),
    *_all("", "1,23,4", "39..5", "39,,5", "1.2.3", "12,34.5", "3 95", "3.95e1.5", asks=True),
    *_all("", "O.395", "l.58", "3.95 x 102", "3.95 × 100", "± 39.5", "3.95e-2e1", "e-2", asks=True),
    *_all("", "3.95 x 10^-2.5", "39.5^2", "39.5²", "√39.5", "39.5%5", "39:5", "3.?5", "39.x", "4O", asks=True),
)

UNITS: tuple[Part, ...] = (
    *_all("mmol", "mmol", "mmols", "millimole", "millimoles", "(mmol)", "[mmol]", "in mmol"),
    *_all("mol", "mol", "mols", "mole", "moles", "(mol)", "[mol]", "in mol", "in moles"),
    *_all("mol", "Mol", "MOL", rare=True),
    *_all("mmol", "MMOL", rare=True),
    *_all("µmol", "µmol", "μmol", "umol", "micromoles", "micromole"),
    *_all("nmol", "nmol", "nanomoles"),
    *_all("kmol", "kmol", "kilomoles"),
    *_all("g", "g", "gram", "grams", "(g)", "[g]", "in g", "in grams"),
    *_all("g", "gr", "gm", rare=True),
    *_all("kg", "kg", "kilogram", "kilograms", "[kg]"),
    *_all("mg", "mg", "milligram", "milligrams", "(mg)"),
    *_all("µg", "µg", "μg", "ug", "micrograms"),
    *_all("µg", "mcg", rare=True),
    *_all("ng", "ng", "nanograms"),
    *_all("mL", "mL", "ml", "cm3", "cm³", "cm^3", "milliliters", "millilitres", "millilitre", "cc"),
    *_all("mL", "ML", rare=True),
    *_all("L", "L", "l", "liter", "litres", "liters", "dm3", "dm³", "dm^3"),
    *_all("µL", "µL", "μL", "uL", "µl", "ul", "microliters"),
    *_all("mol/L", "mol/L", "mol/l", "mol L^-1", "mol·L⁻¹", "mol L-1", "mol L⁻¹", "mol·L^-1", "mol/dm3", "mol dm^-3"),
    *_all("mol/L", "mol dm⁻³", "mol per L", "mol per litre", "moles per liter", "M", "molar", "mol/litre", "mmol/mL"),
    *_all("mol/L", "mol L−1", "mol.L-1", "mol*L^-1", "(mol/L)", "[M]", "mol/dm³"),
    *_all("mmol/L", "mmol/L", "mM", "mmol L⁻¹", "mmol per L"),
    *_all("g/mol", "g/mol", "g mol^-1", "g·mol⁻¹", "g mol-1", "g per mol", "grams per mole", "g/mole", "[g/mol]"),
    *_all("g/mL", "g/mL", "g/ml", "g/cm3", "g/cm³", "g cm^-3", "g cm⁻³", "g per mL", "kg/L"),
    *_all("°C", "°C", "ºC", "℃", "deg C", "degrees C", "degrees Celsius"),
    *_all("K", "K", "kelvin"),
    *_all("%", "%", "percent", "per cent", "％"),
    *_all("", "mmole/", "g/", "/mol", "mol//L", "g/mol/", "xmol", asks=True),
)

_LABELLED = ("{} = ", "{}: ", "{}=", "{} : ")

LABELS: tuple[Part, ...] = (
    *(part for form in _LABELLED for part in _all("", *(form.format(s) for s in ("n", "n(NaOH)", "n_NaOH", "n1")))),
    *_all("", "mass: ", "Mass: ", "amount: ", "amount of NaOH: ", "amount of NaOH = ", "theoretical yield: "),
    *_all("", "n(H2SO4) = ", "n(CuSO4·5H2O) = ", "n₁ = ", "n_2: ", "NaOH: ", "H2O: ", "Na2CO3: ", "the amount is "),
    *_all("", "1) ", "a) ", "(a) ", "1a) ", "a: ", "2b: ", "Q1: ", "(i) ", "answer: ", "Answer: ", "Ans: ", "= "),
    *_all("", "1. ", "a. ", "#1: ", "• ", "* ", "→ ", "so ", "∴ ", "I get ", rare=True),
    *_all("mol", "n/mol = ", "n / mol = ", "n (mol): ", "n (mol) = ", "n [mol]: ", "n in mol: ", "in mol: "),
    *_all("mol", "n, mol: ", rare=True),
    *_all("mol", "n(NaOH)/mol = ", "n(NaOH) / mol: ", "amount (mol): ", "amount in mol: ", "amount of NaOH (mol): "),
    *_all("mmol", "n/mmol = ", "n / mmol: ", "n (mmol): ", "n in mmol = ", "in mmol: ", "amount/mmol: ", "[mmol]: "),
    *_all("g", "m/g = ", "m (g): ", "m(NaOH) / g = ", "m in g: ", "in g: ", "mass (g): ", "Mass of product (g): "),
    *_all("mg", "m (mg): ", "m/mg = ", "in mg: ", "mass in mg: ", "mass [mg] = "),
    *_all("kg", "in kg: ", "m (kg): ", "m/kg = "),
    *_all("mL", "V (mL): ", "V/mL = ", "V / cm³ = ", "volume in mL: "),
    *_all("mol/L", "c/(mol/L) = ", "c / mol L⁻¹ = ", "c (M): ", "c (mol/L) = ", "c in mol/L: ", "c / (mol L^-1): "),
    *_all("g/mol", "M / (g/mol) = ", "M (g/mol): ", "M / g mol⁻¹ = ", "molar mass in g/mol: "),
    *_all("%", "yield (%): ", "yield / % = ", "yield in %: "),
    *_all("", "2n = ", "2 n = ", "n/2 = ", "1/n = ", "-n = ", "log n = ", "ln(n) = ", "n² = ", "n^2 = ", asks=True),
    *_all("", "n × 2 = ", "n + 1 = ", "n - 1 = ", "half of n = ", "half of the amount: ", "n > ", "n < ", asks=True),
    *_all(
        "", "n ≠ ", "not n: ", "double the amount: ", "twice n = ", "√n = ", "n ≥ ", "100 n = ", "3n/2 = ", asks=True
    ),
)

APPROXIMATIONS: tuple[Part, ...] = (
    *_all("", "≈ ", "≈", "~", "~ ", "ca. ", "ca ", "approx. ", "approx ", "approximately ", "about ", "roughly "),
    *_all("", "around ", "circa ", "c. ", "∼", "≃ ", "≅ ", rare=True),
    *_all("", "> ", "< ", "≥ ", "≤ ", "at least ", "at most ", "more than ", "less than ", "up to ", asks=True),
    *_all("", "not ", "half of ", "half ", "twice ", "double ", "a third of ", "over ", "under ", asks=True),
    *_all("", "min. ", "log ", "ln ", "two times ", "just under ", "below ", "above ", "/", "×", asks=True),
)

TAILS: tuple[Part, ...] = (
    *_all("", " of NaOH", " NaOH", " NaCl", " of product", " of sodium hydroxide", " (NaOH)", " Na2CO3", " H2SO4", "."),
    *_all("", " of Na2CO3", " (approx)", " (approx.)", " (rounded)", " approx", " approx.", " (3 s.f.)", " (3 sf)"),
    *_all("", " to 3 s.f.", " rounded", " NaOH(aq)", " of water", " of CuSO4·5H2O", " CuSO4·5H2O"),
    *_all("", " in total", " total", " dry", " of dry product", " solution", "?", " ?", " left", " obtained"),
    *_all("", " needed", " used", " produced", " pure", " anhydrous", "!", ",", ";", " theoretical", rare=True),
    *_all(
        "", " squared", " cubed", " divided by two", " divided by 2", " times two", " times 2", " thousand", asks=True
    ),
    *_all(
        "", " negative", " maybe forty", " or forty", " or 95", ", maybe 95", ", 95", " x 2", " × 2", " * 2", asks=True
    ),
    *_all("", " each", " per tube", " per person", " halved", " doubled", asks=True),
    *_all("", " hundred", " dozen", " or more", " or less", " at least", " at most", " minimum", asks=True),
    *_all("", " plus 2", " minus 2", " + 2", " - 2", " less 2 %", " more than that", " too much", " not", asks=True),
    *_all(
        "", " is wrong", " wrong, 95", " no 95", " sorry 95", " instead of 95", " not 95", " → 95", " | 95", asks=True
    ),
    *_all("", " (95)", " [95]", " and 95", " & 95", " vs 95", " to 95", "-95", "–95", "; 95", " 95", asks=True),
    *_all("", " and a half", " and two thirds", " to the power of two", " inverse", " ± ", "+", asks=True),
)


def composed(label: Part, about: Part, numeral: Part, unit: Part, tail: Part, gap: str = " ") -> Cell:
    """The parts in a row, and what a person takes: the number, in the unit that is stated, if only one is.

    A part that cannot be read, or two units that differ, make them ask. No part may mean another thing beside
    another, as "2 × " does before "10^-2", "/2" behind "40", or "(45)" behind "4e1": those stand in the table alone.
    """
    parts = (label, about, numeral, unit, tail)
    text = f"{label.text}{about.text}{numeral.text}{gap if unit.text else ''}{unit.text}{tail.text}"
    stated = sorted({one.meaning for one in (label, unit) if one.meaning})
    asked = MEASURES[unit.meaning or label.meaning].asked if stated else "mmol"
    if any(one.asks for one in parts) or len(stated) > 1:
        return Cell(text, (), asked)
    tolerated = "a word or a mark that few write" if any(one.rare for one in parts) else ""
    return Cell(text, (Take(Fraction(numeral.meaning), stated[0] if stated else ""),), asked, tolerated)


_NONE = Part("")

_GAPS = ("", " ", "\u00a0")


def _glued(numeral: Part, unit: Part) -> bool:
    """Whether the two may stand without a space: words and brackets of words would run into the number's end."""
    return unit.text in ("mmol", "mol", "g", "mg", "kg", "mL", "L", "%", "°C") and numeral.text[-1].isdecimal()


def _beside(label: Part) -> list[Part]:
    """Units that may stand in a cell with this label: all, or those of the kind of the unit that it states."""
    if not label.meaning:
        return list(UNITS)
    kind = MEASURES[label.meaning].asked
    return [one for one in UNITS if one.meaning and MEASURES[one.meaning].asked == kind]


def drawn_cells(seed: int, count: int) -> list[Cell]:
    """As many composed cells, the same ones for the same seed."""
    draw = Random(seed)  # noqa: S311 - which cells are tried, no secret

    def maybe(parts: Sequence[Part], chance: float) -> Part:
        return draw.choice(parts) if draw.random() < chance else _NONE

    made = []
    for _ in range(count):
        # Chances that leave most cells with one or two things out of the ordinary, as cells are.
        label, about, tail = maybe(LABELS, 0.4), maybe(APPROXIMATIONS, 0.2), maybe(TAILS, 0.3)
        numeral, unit = draw.choice(NUMERALS), maybe(_beside(label), 0.4 if label.meaning else 0.8)
        gap = draw.choice(_GAPS) if _glued(numeral, unit) else " "
        made.append(composed(label, about, numeral, unit, tail, gap))
    return made


@st.composite
def cells(draw: st.DrawFn) -> Cell:
    """Any cell that the parts make."""
    label, about, tail = (draw(st.just(_NONE) | st.sampled_from(parts)) for parts in (LABELS, APPROXIMATIONS, TAILS))
    numeral, unit = draw(st.sampled_from(NUMERALS)), draw(st.just(_NONE) | st.sampled_from(_beside(label)))
    gap = draw(st.sampled_from(_GAPS)) if _glued(numeral, unit) else " "
    return composed(label, about, numeral, unit, tail, gap)
