"""A printed answer typed in six ways, as students type it, and whether ours reads it and finds it right."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, read_written
from problemgen.exact.rounding import exponent, plain_text
from problemgen.grade.judging.notation import equation_finding, read_equation_answer, read_formula_answer
from problemgen.grade.reading.cell import read_answer
from problemgen.grade.reading.choices import ChoiceOption, read_choice
from problemgen.model.truths import ChoiceTruth, NumberTruth, TextTruth
from problemgen.plan.solve import SolvedQuestion

__all__ = ["Typed", "refused", "typed_in_six_ways"]

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_SYMBOLS = {
    "mass": "m",
    "amount": "n",
    "volume": "V",
    "concentration": "c",
    "density": "ρ",
    "molar_mass": "M",
    "pressure": "p",
}
_OTHER_UNITS = {
    "g": "mg",
    "kg": "g",
    "ug": "mg",
    "mol": "mmol",
    "M": "mmol/mL",
    "mol/L": "mM",
    "L": "mL",
    "mL": "L",
    "g/mol": "kg/mol",
    "mol/kg": "mmol/g",
    "g/mL": "kg/L",
    "g/L": "mg/mL",
    "mg/dL": "g/L",
    "g/cm3": "kg/dm3",
    "kPa": "Pa",
    "bar": "mbar",
    "ppm": "mg/kg",
    "1": "%",
    "%": "percent",
    "atm": "atmospheres",
    "amu": "u",
    "torr": "Torr",
    "molecules": "particles",
    "atoms": "particles",
    "billion ft3": "million ft3",
}


class Typed(NamedTuple):
    """One way to type an answer, and the decimal mark of the sheet that it is typed for."""

    cell: str
    mark: str = "."


def typed_in_six_ways(solved: SolvedQuestion) -> list[Typed]:
    """The printed answer of a question as six people would type it."""
    answer = solved.question.answer
    assert answer is not None
    if isinstance(solved.truth, NumberTruth):
        return _numbers(read_written(answer), _unit(solved), _SYMBOLS.get(_quantity(solved), "answer"))
    if _quantity(solved) == "balanced_equation":
        return [Typed(cell) for cell in _equations(answer)]
    if _quantity(solved).endswith("_formula"):
        return [Typed(cell) for cell in _formulas(answer)]
    return [Typed(cell) for cell in _choices(answer)]


def _quantity(solved: SolvedQuestion) -> str:
    """What the line asks for; "" where it is a choice alone."""
    return str(solved.question.line.get("quantity") or "")


def _unit(solved: SolvedQuestion) -> str:
    """The unit asked for; "1" for none."""
    return str(solved.question.line.get("unit") or "1")


def _numbers(written: Written, unit: str, symbol: str) -> list[Typed]:
    """With a unit and a full stop, a decimal comma, a power of ten, as a calculator, with a symbol, in another unit."""
    plain, behind = _plain(written), "" if unit == "1" else f" {unit}"
    shift = exponent(written.value)
    mantissa = plain_text(written.value / Fraction(10) ** shift, written.place - shift)
    other = _OTHER_UNITS.get(unit, unit)
    converted = read_unit(other).from_engine(read_unit(unit).to_engine(written.value))
    place = written.place + exponent(converted) - shift
    return [
        Typed(f"{_grouped(plain)}{behind.replace(' ', chr(0x2009), 1)}."),
        Typed(f"{plain.replace('.', ',')}{behind}", ","),
        Typed(f"{mantissa} × 10{str(shift).translate(_RAISED)}{behind}"),
        Typed(f"{mantissa}E{shift:+03d}{behind}"),
        Typed(f"{symbol} ≈ {mantissa} x 10^({shift}){behind}"),
        Typed(f"about {_plain(Written(converted, place, ''))} {other}"),
    ]


def _plain(written: Written) -> str:
    """Plain decimals, where people would write them; else a power of ten."""
    shift = exponent(written.value)
    if -6 <= shift <= 6 and written.place <= 0:
        return plain_text(written.value, written.place)
    return f"{plain_text(written.value / Fraction(10) ** shift, written.place - shift)}e{shift}"


def _grouped(plain: str) -> str:
    """Whole numbers of five figures and more grouped with thin spaces."""
    return f"{int(plain):,}".replace(",", "\N{THIN SPACE}") if plain.isdecimal() and len(plain) > 4 else plain


def _equations(answer: str) -> list[str]:
    """With other arrows, fewer spaces and a full stop, the terms in another order, subscripts and spaces round it."""
    left, right = (side.split(" + ") for side in answer.split(" -> "))
    turned = " + ".join(reversed(left)) + " -> " + " + ".join(reversed(right))
    return [
        answer,
        answer.replace("->", "→"),
        answer.replace(" -> ", "->") + ".",
        answer.replace("->", "="),
        turned,
        f"  {_subscripts(answer)}  ",
    ]


def _subscripts(equation: str) -> str:
    """An equation with lowered figures in the formulas; charges stay as they are."""
    pieces = []
    for piece in equation.split(" "):
        bare, caret, charge = piece.partition("^")
        plain = bare if bare.isdecimal() or not bare[0].isalpha() else bare.translate(_LOWERED)
        pieces.append(plain + caret + charge)
    return " ".join(pieces)


def _formulas(answer: str) -> list[str]:
    """With subscripts, with an equals sign, a full stop, spaces, and round them."""
    spaced = "".join(f" {c}" if c.isupper() else c for c in answer).strip()
    return [answer, answer.translate(_LOWERED), f"= {answer}", f"{answer}.", spaced, f" {answer.translate(_LOWERED)}. "]


def _choices(answer: str) -> list[str]:
    """A formula with subscripts, with a state, in a sentence, in quotation marks."""
    lowered = answer.translate(_LOWERED)
    return [
        answer,
        f" {lowered}?",
        f"{answer}(s)",
        f"{answer} is limiting",
        f"the limiting reagent is {lowered}.",
        f'"{answer}"',
    ]


def refused(solved: SolvedQuestion, typed: Typed, substances: list[ChoiceOption]) -> str:
    """Why a typed answer would not get full points; "" if it would.

    A number must lie in the window and show the figures printed; `substances` are what may be chosen.
    """
    truth = solved.truth
    if isinstance(truth, NumberTruth):
        return _refused_number(solved, truth, typed)
    if isinstance(truth, ChoiceTruth):
        choice = read_choice(typed.cell, substances)
        return "" if choice.id == truth.choice else choice.reason
    assert isinstance(truth, TextTruth)
    if _quantity(solved) == "balanced_equation":
        read = read_equation_answer(typed.cell)
        if read.equation is None:
            return read.unread.sentence if read.unread else "nothing"
        finding, remark = equation_finding(read.equation, read_equation(truth.text))
        return remark if finding.verdict == "right" else finding.sentence
    formula = read_formula_answer(typed.cell).formula
    expected = read_formula_answer(truth.text).formula
    assert expected is not None
    return "" if formula and formula.composition == expected.composition else "another formula"


def _refused_number(solved: SolvedQuestion, truth: NumberTruth, typed: Typed) -> str:
    assert solved.question.answer is not None
    reading = read_answer(typed.cell, read_unit(_unit(solved)), decimal_mark=typed.mark)
    if reading.value_in_unit is None or reading.written is None:
        return reading.reason
    if not truth.low <= reading.value_in_unit <= truth.high:
        return f"{reading.value_in_unit} is outside"
    figures = read_written(solved.question.answer).figures
    return "" if reading.written.figures == figures else f"{reading.written.figures} figures, not {figures}"
