"""Numbers as students write them, at the start of an answer, with the digits they were written with.

numeral   = [sign] (fraction | mantissa [power] | "10" raised)
fraction  = digits "/" digits                       "3/4": exact, whole numbers only
mantissa  = digits and marks, see below             "0.0500", "0,0500", ".5", "1 234.5", "1.234,5"
power     = ("e" | "E" | "EE") [sign] digits        "3.95E+01"
          | times "10" raised                       "3.95 x 10^1", "3,95.10^-2"
          | times "10" ("e" | "E") [sign] digits    "x 10e3": 10^3 and a calculator's e3 in one; remarked on
raised    = "^" [sign] digits | "-" digits          "x 10-2": a raised figure lost in pasting; remarked on
times     = "x" | "×" | "*" | "·" | "." | "\\times" | "\\cdot"

The marks of a mantissa: a space or an apostrophe groups by threes. Where both "." and "," stand, the last
one is the decimal mark. One of them, more than once, groups by threes. One of them, once, is the decimal
mark, but for one case: the mark that is not the decimal mark of the set, behind one to three figures
(the first not 0) and before exactly three, may group as well. "1,234" is then read by the set's decimal
mark, as 1234, and is ambiguous. Where the comma is the set's decimal mark, "1,234" is 1.234, as most there
write it, and a remark says so; the point of "1.234" is too usual as a decimal mark for one. Figures behind
the decimal mark are grouped by no-break or thin spaces only.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.errors import NumberError
from problemgen.exact.digits import Written, read_written
from problemgen.exact.rounding import exponent
from problemgen.grade.reading.spelling import NARROW, quoted
from problemgen.language.messages import _
from problemgen.language.numbers import in_digits

__all__ = ["RULES", "TIMES", "Numeral", "read_numeral"]

TIMES = r"(?:[xX×*·⋅∙•∗✕✖⨯]|\\times|\\cdot)"
"""A pattern for the signs of multiplication."""

_SIGN = re.compile(r"([+-]?) *")
_FRACTION = re.compile(r"([0-9]+) ?/ ?([0-9]+)(?! ?[/^]|[.,']?[0-9])")
_MANTISSA = re.compile(rf"[.,]?[0-9]+(?:[.,'{NARROW}][0-9]+| [0-9]{{3}}(?![0-9]))*")
_EXPONENT = re.compile(r"\.? ?[eE]{1,2} ?([+-]?) ?([0-9]+)")
_TEN = re.compile(rf"[ {NARROW}]*{TIMES}[ {NARROW}]*10(?![.,]?[0-9])")
_OTHER_FACTOR = re.compile(rf"[ {NARROW}]*{TIMES}[ {NARROW}]*10[0-9]+")
_RAISED = re.compile(r" ?\^ ?([+-]?) ?([0-9]+)|(-)([0-9]+)")
_RAISED_BY_E = re.compile(r" ?[eE] ?([+-]?) ?([0-9]+)")
# "3,95.10^-2", but not "0.10^2", which means something else.
_POINT_AS_TIMES = re.compile(r"(?<=[0-9])(?<![^0-9.,]0)(?<!^0) ?\. ?(?=10 ?\^)")
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(?:([.,' ])[0-9]{3})(?:\1[0-9]{3})*")

# As many as a calculator shows; what has more was not written by hand.
_LONGEST_FRACTION = 12
_FIGURES_OF_A_FRACTION = 12

RULES: Mapping[str, object] = {
    "sign": _SIGN,
    "fraction": _FRACTION,
    "mantissa": _MANTISSA,
    "exponent": _EXPONENT,
    "ten": _TEN,
    "other_factor": _OTHER_FACTOR,
    "raised": _RAISED,
    "raised_by_e": _RAISED_BY_E,
    "point_as_times": _POINT_AS_TIMES,
    "grouped": _GROUPED,
    "longest_fraction": _LONGEST_FRACTION,
    "figures_of_a_fraction": _FIGURES_OF_A_FRACTION,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Numeral:
    """A number at the start of a text, and the rest of the text.

    `remark` says, in a sentence, how a doubtful spelling was read; `ambiguous` whether it has two readings.
    """

    written: Written
    rest: str
    remark: str = ""
    ambiguous: bool = False


def read_numeral(text: str, decimal_mark: str) -> Numeral:
    """Read the number that a text in plain characters starts with; the grammar is in the module's docstring.

    Raises NumberError with a sentence for the student.

    >>> read_numeral("3,95 x 10^1 g", ".").written.text
    '3.95e1'
    """
    text = _POINT_AS_TIMES.sub("×", text)
    sign, start = _sign(text)
    fraction = _FRACTION.match(text, start)
    if fraction:
        return Numeral(_fraction(sign, fraction), text[fraction.end() :])
    mantissa = _MANTISSA.match(text, start)
    if mantissa is None:
        raise NumberError(_("No number is found at the start of {text}.").format(text=quoted(text)))
    if mantissa[0] == "10" and text[mantissa.end() :].lstrip().startswith("^"):
        return _power_alone(sign, text, mantissa.end())
    digits, other = _digits(mantissa[0], decimal_mark)
    power, end, remark = _power(text, mantissa.end())
    written = _written(sign + digits + power)
    if not other:
        return Numeral(written, text[end:], remark)
    told = _("{text} can mean {first} or {second}; it is read as {first}.")
    meant = told.format(text=quoted(mantissa[0]), first=in_digits(digits), second=in_digits(other))
    return Numeral(written, text[end:], f"{meant} {remark}".rstrip(), ambiguous="." not in digits)


def _sign(text: str) -> tuple[str, int]:
    """The sign, and where the figures start."""
    match = _SIGN.match(text)
    return (match[1], match.end()) if match else ("", 0)


def _written(text: str) -> Written:
    """The number, or a sentence for one that is beyond all measure."""
    try:
        return read_written(text)
    except NumberError as error:
        raise NumberError(_("The number has too many figures or too great a power of ten.")) from error


def _fraction(sign: str, match: re.Match[str]) -> Written:
    """A fraction: exact. Its place is the last one of its decimals, or the twelfth figure if they go on."""
    if len(match[1]) > _LONGEST_FRACTION or len(match[2]) > _LONGEST_FRACTION:
        raise NumberError(_("The fraction has too many figures; write a decimal number."))
    over, under = int(match[1]), int(match[2])
    if under == 0:
        raise NumberError(_("{text} divides by zero.").format(text=quoted(match[0])))
    value = Fraction(-over if sign == "-" else over, under)
    text = f"{'-' if value < 0 else ''}{over}/{under}"
    return Written(value, _place(value), text)


def _place(value: Fraction) -> int:
    """The place of the last decimal of a fraction, or of its twelfth figure where it has more."""
    longest = exponent(value) - _FIGURES_OF_A_FRACTION + 1 if value else 0
    ends = (place for place in range(0, longest - 1, -1) if (value * 10**-place).denominator == 1)
    return next(ends, longest)


def _power_alone(sign: str, text: str, at: int) -> Numeral:
    """A bare power of ten, "10^-2"."""
    raised = _RAISED.match(text, at)
    if raised is None:
        raise NumberError(_("The power of ten in {text} is not finished.").format(text=quoted(text)))
    return Numeral(_written(f"{sign}1e{raised[1]}{raised[2]}"), text[raised.end() :])


def _power(text: str, at: int) -> tuple[str, int, str]:
    """The power of ten behind a mantissa ("e-2" or ""), where it ends, and a remark."""
    match = _EXPONENT.match(text, at)
    if match:
        return f"e{match[1]}{match[2]}", match.end(), ""
    ten = _TEN.match(text, at)
    raised = _RAISED.match(text, ten.end()) if ten else None
    by_e = _RAISED_BY_E.match(text, ten.end()) if ten else None
    if by_e:
        return f"e{by_e[1]}{by_e[2]}", by_e.end(), _power_read(f"10^{by_e[1]}{by_e[2]}")
    if raised is None:
        _refuse_lost_power(text, at)
        return "", at, ""
    if raised[3]:
        read = f"10^-{raised[4]}"
        return f"e-{raised[4]}", raised.end(), _power_read(read)
    return f"e{raised[1]}{raised[2]}", raised.end(), ""


def _refuse_lost_power(text: str, at: int) -> None:
    """Refuse "x 102": 10^2 with the raised figure lost, or times one hundred and two."""
    lost = _OTHER_FACTOR.match(text, at)
    if lost:
        told = _("The power of ten in {text} is not clear; write e2 or 10^2.")
        raise NumberError(told.format(text=quoted(text[: lost.end()])))


def _digits(lexeme: str, decimal_mark: str) -> tuple[str, str]:
    """A mantissa in plain decimal notation, and its other reading where it has one."""
    if lexeme.isdecimal():
        return lexeme, ""
    if lexeme[0] in ".,":
        return _decimal("0", lexeme[1:], lexeme), ""
    spaced = lexeme.replace(NARROW, " ")
    points, commas = lexeme.count("."), lexeme.count(",")
    if points + commas == 0:
        return _whole(spaced, lexeme), ""
    if points and commas:
        mark = max(".,", key=lexeme.rfind)
    elif points + commas > 1:
        return _whole(spaced, lexeme), ""
    else:
        mark = "." if points else ","
    if lexeme.count(mark) > 1:
        raise _not_one(lexeme)
    whole, decimals = lexeme.split(mark)
    figures = _whole(whole.replace(NARROW, " "), lexeme)
    if len(decimals) == 3 and _GROUPED.fullmatch(spaced) and whole.isdecimal():
        return _either(whole, decimals, mark, decimal_mark)
    return _decimal(figures, decimals, lexeme), ""


def _either(whole: str, decimals: str, mark: str, decimal_mark: str) -> tuple[str, str]:
    """Figures on both sides of a mark that may group or divide them: the reading, and the other one."""
    grouped, divided = whole + decimals, f"{whole}.{decimals}"
    if mark != decimal_mark:
        return grouped, divided
    return divided, grouped if mark == "," else ""


def _whole(figures: str, lexeme: str) -> str:
    """The figures before the decimal mark, without the marks that group them by threes."""
    if figures.isdecimal():
        return figures
    if not _GROUPED.fullmatch(figures):
        raise _not_one(lexeme)
    return "".join(filter(str.isdecimal, figures))


def _decimal(whole: str, decimals: str, lexeme: str) -> str:
    """A decimal number; its decimals may be grouped by threes with narrow spaces."""
    groups = decimals.split(NARROW)
    well_grouped = all(len(group) == 3 for group in groups[:-1]) and len(groups[-1]) <= 3
    if not all(map(str.isdecimal, groups)) or (len(groups) > 1 and not well_grouped):
        raise _not_one(lexeme)
    return f"{whole}.{''.join(groups)}"


def _power_read(power: str) -> str:
    return _("The power of ten is read as {power}.").format(power=power)


def _not_one(lexeme: str) -> NumberError:
    """Why figures and marks do not make one number."""
    return NumberError(_("{text} is not one number; write it like 1234.5 or 1234,5.").format(text=quoted(lexeme)))
