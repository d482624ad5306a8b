"""A cell with a ratio of two numbers, as students write it of two products. Nothing in it is evaluated.

ratio     = [label "="] [words] number sign number [words in brackets]
number    = numeral ["%"]                   read by problemgen.grade.reading.numerals; above 0
sign      = ":" | "∶" | "/" | "to"

"94:6", "94 : 6", "94 to 6", "94/6", "94,2 : 5,8", "A:B = 94:6", "ca. 94:6 (GC)" are ratios.

A spreadsheet makes a time of day of "94:6" and shows "94:06:00". That is read where its two numbers make 100, and
refused where they do not: "30:70" would come out as 31 hours and 10 minutes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from problemgen.errors import NumberError
from problemgen.exact.digits import Written, read_written
from problemgen.exact.rounding import exponent
from problemgen.grade.reading.numerals import Numeral, read_numeral
from problemgen.grade.reading.spelling import LONGEST, is_blank, plain_characters, quoted
from problemgen.language.messages import _

__all__ = ["GREATEST_POWER", "Ratio", "read_ratio"]

GREATEST_POWER = 40
"""Numbers of the laboratory lie within 10 to this power, those of particles too; others would stall the work."""

_SIGN = re.compile(r" *[:/∶] *| +to +", re.IGNORECASE)
_WORDS_BEFORE = re.compile(r"^(?:[^\W\d_][^\d:]*:?|~) *(?=[+-]?[.,]?\d)")
_WORDS_BEHIND = re.compile(r" *\([^()\d]*\)$")
_TIME = re.compile(r"(\d+) *: *(\d\d)(?: *: *00)?(?: *[AaPp][Mm])?")
_SURELY_TIME = re.compile(r"0\d *:.*|.*: *0\d|.*: *\d\d *: *00|.*[AaPp][Mm]")
"""What no ratio looks like that was typed as one: a zero in front, seconds, a half of the day."""


@dataclass(frozen=True)
class Ratio:
    """What a cell says: its two numbers, or the reason why there are none. A blank cell has neither."""

    first: Written | None = None
    second: Written | None = None
    reason: str = ""
    remark: str = ""


def read_ratio(text: str, decimal_mark: str = ".") -> Ratio:
    """Read a ratio of two numbers; the grammar is in the module's docstring. No text raises an exception.

    >>> ratio = read_ratio("94 : 6")
    >>> ratio.first.text, ratio.second.text
    ('94', '6')
    """
    stripped = text.strip()
    if len(stripped) > LONGEST:
        return Ratio(
            reason=_("{n} characters are not read; write two numbers, such as 94 : 6.").format(n=len(stripped))
        )
    plain = plain_characters(stripped)
    if is_blank(plain):
        return Ratio()
    plain = _WORDS_BEHIND.sub("", _WORDS_BEFORE.sub("", plain.rpartition("=")[2].strip(), count=1)).removesuffix(".")
    if _TIME.fullmatch(plain) and _SURELY_TIME.fullmatch(plain):
        return _of_time(plain)
    pieces = _SIGN.split(plain)
    if len(pieces) != 2:
        return Ratio(reason=_miscounted(plain, len(pieces)))
    try:
        first, second = (_number(piece, plain, decimal_mark) for piece in pieces)
    except NumberError as error:
        return Ratio(reason=str(error))
    return Ratio(first.written, second.written, remark=" ".join(filter(None, (first.remark, second.remark))))


def _of_time(plain: str) -> Ratio:
    """What a spreadsheet shows as a time of day; the percentages of a whole are sure not to have been carried over."""
    found = _TIME.fullmatch(plain)
    hours, minutes = (found[1], found[2]) if found else ("", "")
    first, second = (read_written(str(int(part))) for part in (hours, minutes))
    if first.value + second.value == 100 and second.value:
        told = _("{text} is read as the ratio {first} : {second}.")
        return Ratio(first, second, remark=told.format(text=quoted(plain), first=first.text, second=second.text))
    told = _(
        "{text} is a time of day, which a spreadsheet makes of a ratio; write it as 94 to 6, or format the cell "
        "as text."
    )
    return Ratio(reason=told.format(text=quoted(plain)))


def _miscounted(plain: str, count: int) -> str:
    """Why a text does not have two numbers."""
    if not any(map(str.isdecimal, plain)):
        return _("No number is found in {text}; write two, such as 94 : 6.").format(text=quoted(plain))
    if count == 1:
        return _("One number alone is no ratio; write both, such as 94 : 6.")
    if count == 3:
        told = _("Three numbers stand in {text}, and the ratio is of two products; write two, such as 94 : 6.")
    elif count == 4:
        told = _("Four numbers stand in {text}, and the ratio is of two products; write two, such as 94 : 6.")
    else:
        told = _("Many numbers stand in {text}, and the ratio is of two products; write two, such as 94 : 6.")
    return told.format(text=quoted(plain))


def _number(piece: str, plain: str, decimal_mark: str) -> Numeral:
    """One of the two numbers. Raises NumberError with a sentence for the student."""
    text = piece.strip().removesuffix("%").strip()
    if not text:
        raise NumberError(_("A number is missing in {text}; write two, such as 94 : 6.").format(text=quoted(plain)))
    numeral = read_numeral(text, decimal_mark)
    if numeral.rest.strip():
        told = _("{text} is not read as a ratio; write two numbers, such as 94 : 6.")
        raise NumberError(told.format(text=quoted(plain)))
    if abs(exponent(numeral.written.value or Fraction(1))) > GREATEST_POWER:
        raise NumberError(_("No instrument shows a number of this size."))
    if numeral.written.value <= 0:
        told = _("{text} is no ratio to work with: both numbers have to be above 0.")
        raise NumberError(told.format(text=quoted(plain)))
    return numeral
