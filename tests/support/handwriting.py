"""How students write numbers and the names of reagents into a form."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import exponent, plain_text, round_to_figures

__all__ = ["bare_number", "drawn", "number", "reagent"]

_SUPERSCRIPT = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_FULL_WIDTH = str.maketrans("0123456789.", "０１２３４５６７８９．")
_OTHER_UNITS = {"mmol": "mol", "g": "mg", "mg": "g", "mL": "L", "mol": "mmol"}
_SYMBOLS = {"mmol": "n", "mol": "n", "g": "m", "mg": "m", "mL": "V", "%": "Y"}


def drawn(count: int, *names: str) -> int:
    """A number from 0 to count − 1: the bytes of SHAKE-256 over the draw's names."""
    return int.from_bytes(hashlib.shake_256("\0".join(("simulated class", *names)).encode()).digest(8), "big") % count


def bare_number(value: Fraction, figures: int) -> str:
    """A number as it is written by hand: without a power of ten."""
    return plain_text(value, exponent(value) - figures + 1) if value else "0"


def _power(value: Fraction, figures: int) -> tuple[str, int]:
    """Mantissa and exponent of the scientific notation."""
    rounded = round_to_figures(value, figures)
    power = exponent(rounded) if rounded else 0
    return plain_text(rounded / Fraction(10) ** power, 1 - figures), power


def _other_unit(value: Fraction, figures: int, unit: str) -> str:
    """The number in a unit a thousand times as large or small: "0.0346 mol"."""
    other = _OTHER_UNITS.get(unit, unit)
    return f"{bare_number(read_unit(other).from_engine(read_unit(unit).to_engine(value)), figures)} {other}"


def _comma(text: str) -> str:
    return text.replace(".", ",")


def _ten(value: Fraction, figures: int, unit: str) -> str:
    mantissa, power = _power(value, figures)
    return f"{mantissa} x 10^{power} {unit}"


def _ten_raised(value: Fraction, figures: int, unit: str) -> str:
    mantissa, power = _power(value, figures)
    return f"{_comma(mantissa)}·10{str(power).translate(_SUPERSCRIPT)} {unit}"


def _exponential(value: Fraction, figures: int, _unit: str) -> str:
    mantissa, power = _power(value, figures)
    return f"{mantissa}E{power:+03d}"


_STYLES: tuple[Callable[[Fraction, int, str], str], ...] = (
    lambda v, f, _u: bare_number(v, f),
    lambda v, f, u: f"{bare_number(v, f)} {u}",
    lambda v, f, _u: _comma(bare_number(v, f)),
    lambda v, f, u: f"{bare_number(v, f)}{u}",
    _other_unit,
    _ten,
    lambda v, f, _u: f"≈ {bare_number(v, f)}",
    _ten_raised,
    lambda v, f, u: f"{_SYMBOLS[u]} = {bare_number(v, f)} {u}",
    lambda v, f, u: _comma(f"{bare_number(v, f)} {u}"),
    lambda v, f, _u: bare_number(v, f).translate(_FULL_WIDTH),
    lambda v, f, u: f"{bare_number(v, f)}\N{THIN SPACE}{u}",
    lambda v, f, u: f"{bare_number(v, f)} {u}.",
    lambda v, f, _u: f"={bare_number(v, f)}",
    lambda v, f, _u: f"+{bare_number(v, f)}" if v > 0 else bare_number(v, f),
    _exponential,
    lambda v, f, u: f"{bare_number(v, f)}\n{u}",
    lambda v, f, u: f"ca. {bare_number(v, f)} {u}",
    lambda v, f, u: f"{bare_number(v, f)} {u} ({_other_unit(v, f, u)})",
    lambda v, f, u: f"  {bare_number(v, f)}\N{NO-BREAK SPACE}{u}  ",
)
_OF_SUBSTANCE = (3, 8)  # styles that may name the substance behind the unit: "34.6mmol NaOH"


def number(value: Fraction, figures: int, asked: str, formula: str, names: tuple[str, str, str]) -> str:
    """A number in the unit asked for, in a student's own spelling; every fifth cell is bare, whatever the habit.

    `formula` is the substance's, which may be written behind the unit; `names` are the student, the problem, the part.
    """
    style = drawn(len(_STYLES), "spelling", names[0]) if drawn(5, "bare", *names) else 0
    text = _STYLES[style](value, figures, asked)
    return f"{text} {formula}" if style in _OF_SUBSTANCE and formula and asked in ("mmol", "g", "mg") else text


def reagent(name: str, formula: str, names: tuple[str, str]) -> str:
    """A reagent as a student names it; `names` are the student and the problem."""
    spellings = (
        name,
        formula,
        name.upper(),
        f"the limiting reagent is {name}",
        f"{name} ({formula})",
        formula.lower(),
        name[:-1] if len(name) > 6 else name,
        f"{name}.",
    )
    return spellings[drawn(len(spellings), "choice", *names)]
