"""Numbers with the digits they were written with: 1.0080 is not 1.008.

number   = [sign] digits ["." digits] [("e" | "E") [sign] digits]
sign     = "+" | "-"
digits   = one or more of 0 to 9

Nothing else is read: no spaces, no comma, no bare point (".5", "5."), no other script's digits.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from problemgen.errors import NumberError
from problemgen.exact.rounding import exponent, figures_text, plain_text
from problemgen.language.numbers import in_groups

__all__ = ["RULES", "Written", "number_text", "read_written", "written_steps"]

_NUMBER = re.compile(r"([+-]?)([0-9]+)(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?")

# Limits that no number of the laboratory comes near; they keep a hostile file from stalling the reader.
_LONGEST = 100
_GREATEST_EXPONENT = 999

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")

RULES: Mapping[str, object] = {
    "number": _NUMBER,
    "longest": _LONGEST,
    "greatest_exponent": _GREATEST_EXPONENT,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Written:
    """A number and its written digits.

    `place` is the decimal exponent of the last written digit (-4 for "1.0080", -1 for "3.95e1", 0 for
    "250"); `text` is the number as it is printed, in ASCII ("0.0500", "9.2e-4").
    """

    value: Fraction
    place: int
    text: str

    @property
    def figures(self) -> int:
        """The significant figures: zeros at the end count ("200" has three), zeros in front do not."""
        return exponent(self.value) - self.place + 1 if self.value else 1


def read_written(text: str) -> Written:
    """Read a number and keep its digits; the notation is in the module's docstring.

    Raises NumberError. The sign "+" and idle zeros in front are not kept in the text.

    >>> read_written("0.0500").figures, read_written("9.20E-04").text
    (3, '9.20e-4')
    """
    match = _NUMBER.fullmatch(text) if len(text) <= _LONGEST else None
    if match is None:
        raise NumberError(_refusal(text))
    sign, whole, decimals, power = match.groups(default="")
    shift = int(power or "0")
    if abs(shift) > _GREATEST_EXPONENT:
        raise NumberError(f"the power of ten of {text!r} is beyond {_GREATEST_EXPONENT}")
    place = shift - len(decimals)
    magnitude = int(whole + decimals) * (-1 if sign == "-" else 1)
    value = Fraction(magnitude * 10**place) if place >= 0 else Fraction(magnitude, 10**-place)
    printed = ("-" if value < 0 else "") + (whole.lstrip("0") or "0")
    printed += ("." if decimals else "") + decimals + (f"e{shift}" if power else "")
    return Written(value, place, printed)


def _refusal(text: str) -> str:
    """Why a text is not read as a number, with what to write where that is clear."""
    if len(text) > _LONGEST:
        return f"a number of {len(text)} characters; at most {_LONGEST} are read"
    if not text.strip():
        return "nothing is written where a number is expected"
    hint = _repaired(text)
    return f"{text!r} is not a number" + (f"; write {hint}" if hint else "")


def _repaired(text: str) -> str:
    """The nearest spelling that is read, or nothing: a space, comma, minus sign or bare point mended."""
    tried = text.strip().replace("−", "-")
    if tried.count(",") == 1 and "." not in tried:
        # "1,250" may be meant as 1250 or as 1.250: nothing is proposed for it.
        tried = tried if re.search(r",[0-9]{3}$", tried) else tried.replace(",", ".")
    tried = re.sub(r"^([+-]?)\.", r"\g<1>0.", tried)
    tried = re.sub(r"\.(?=[eE]|$)", "", tried)
    return tried if _NUMBER.fullmatch(tried) else ""


def number_text(text: str) -> str:
    """A number as it is printed in a line of words: "9.2e-4" as 9.2 × 10⁻⁴, a minus as a minus.

    It has the decimal mark of the language spoken.
    """
    mantissa, _, power = text.partition("e")
    mantissa = in_groups(mantissa).replace("-", "−")
    return f"{mantissa}\u00a0×\u00a010{power.translate(_RAISED)}" if power else mantissa


def written_steps(count: int, step: Written) -> Written:
    """A whole number of steps of a scale, written to the step's place.

    >>> from problemgen.exact.digits import read_written
    >>> written_steps(145, read_written("0.05")).text
    '7.25'
    """
    return _on_scale(count, step.value.numerator, step.value.denominator, step.place)


@lru_cache(maxsize=1 << 12)
def _on_scale(count: int, numerator: int, denominator: int, place: int) -> Written:
    """Kept: students of a class are given numbers of the same few scales."""
    value = Fraction(count * numerator, denominator)
    if place <= 0 or not value:
        return Written(value, place, plain_text(value, min(place, 0)))
    return Written(value, place, figures_text(value, exponent(value) - place + 1))
