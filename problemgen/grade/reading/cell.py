"""A cell of an answer sheet as a number with a unit. Nothing in it is evaluated.

answer    = [mark] side (("=" | "≈" | "~") side)*     sides that state an amount must agree, to the figures given
mark      = "1)" | "a)" | "(a)" | "Q1:" | …           of a list
side      = [label ":"] [lead] [label] quantity | label | nothing
lead      = "about" | "approx." | "ca." | "roughly" | "answer" | "the" | "mass" | "yield" | "is" | "I got" | …
label     = what `labels` reads: "m", "n(NaCl)", "mass of product", "n/mol", "m (mg)", "in kg"
quantity  = numeral ["(1)"] ["±" numeral] [unit] [words] [note] ["."]     or "quantity (quantity)", both the same
note      = "(3 s.f.)" | "to 3 significant figures" | "(2 d.p.)" | …      says what is seen, and is left out

A unit in a label is that of the number, where none stands behind it; two units that are not the same are not read.
All of the text is read, or none of it: what is passed over is listed in `words`. The numeral is read by `numerals`,
unit and substance by `written_units`. The uncertainty behind "±" or in brackets is left out, with a remark. Two numbers
that do not agree, a calculation, an inequality and a spreadsheet's formula are unreadable, each with its reason.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from problemgen.chemistry.unit_list import SPELLINGS
from problemgen.chemistry.units import Dimension, Unit, read_unit
from problemgen.errors import NumberError, UnitError
from problemgen.exact.digits import Written
from problemgen.grade.reading.labels import NO_UNIT, is_ratio, read_label
from problemgen.grade.reading.numerals import read_numeral
from problemgen.grade.reading.spelling import LONGEST, is_blank, plain_characters, quoted
from problemgen.grade.reading.written_units import Behind, read_behind, same_unit, scale_of
from problemgen.language.messages import N_, _

__all__ = ["RULES", "Reading", "ReadingStatus", "read_answer"]

ReadingStatus: TypeAlias = Literal["number", "ambiguous", "unreadable", "wrong_dimension", "blank"]

_SIDES = re.compile(r"[=~]")
_LEADS = re.compile(
    r"(?:(?:c|ca|approx|appx|ans)\.|(?:about|approximately|approx|appx|circa|ca"
    r"|roughly|around|nearly|equals|equal to|is|are|the|my|final"
    r"|answer|ans|result|it is|it's|i got|i get|we get|theoretical|actual|yield|mass|amount|volume"
    r"|concentration|density|molar mass|temperature|pressure)(?!\w| ?/))(?:[: ]|[.,](?![0-9]))*",
    re.IGNORECASE,
)
_NOTE = re.compile(
    r" ?(?:, ?|\((?:to )?|\(?(?:rounded )?to )[0-9]{1,2} ?"
    r"(?:s\.? ?f\.?|sig\.? ?figs?\.?|significant (?:figures|digits)|d\.? ?p\.?|decimal places)\)?\.?$",
    re.IGNORECASE,
)
_PLUS_MINUS = r"(?:±|\+/-|\+-) ?[0-9]+(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?"
_UNCERTAINTY = re.compile(rf" ?\({_PLUS_MINUS}\)| ?{_PLUS_MINUS}")
# Of a measured number: "39.5(1)" is 39.5 ± 0.1. Whole numbers are not written so: "12(2)" may be a product.
_LAST_FIGURES = re.compile(r"([.,][0-9]+)\([0-9]{1,2}\)")
_IN_BRACKETS = re.compile(r"^[(\[]([+-]?[.,]?[0-9][^()\[\]]*)[)\]]")
_SECOND_IN_BRACKETS = re.compile(r" \((?=[+-]?[.,]?[0-9])([^()]*)\)$")
_MARK = re.compile(
    r"(?:[0-9]{0,2}[A-Za-z]|[0-9]{1,2}\.?|[ivx]{2,4})\)[.:]? ?(?=\S)|[0-9]{1,2}[a-z]: ?(?=\S)|[a-f]\. (?=[+-]?[0-9])"
    r"|(?:[Pp]art|[Qq]uestion|[Pp]roblem|[Qq]) ?[0-9a-z]{1,3}[:.)] ?(?=\S)"
    r"|\((?:[0-9]{1,2}|[ivx]{2,4})\) ?(?=[+-]?[.,]?[0-9])"
)
_LETTER_MARK = re.compile(r"\(([A-Za-z])\) ?(?=\S)")
_STARTS_WITH_NUMBER = re.compile(r"[+-]? ?[.,]?[0-9](?![0-9]?(?:,[0-9]{1,2})*-[^\W\d_])")
_LABEL_BEFORE = re.compile(r"[^0-9]*[^\W\d].*?[ )\]](?=[+-]?[.,]?[0-9])|[^\w]*% ?(?=[+-]?[.,]?[0-9])", re.DOTALL)
# Of "Question 12b:" and a little more.
_LONGEST_MARK = 16
# Without "=" behind it, a letter or a name may be anything: "x 5", "iron 3".
_PLAINLY_LABEL = re.compile(r"of .*|[mncVMTpPwρη][0-9]?(?:[(_].*)?", re.DOTALL)
# Not one quantity, but what becomes of some: "n + m", "-n", "n^2". "m = n × M = …" works with a quantity named before.
_RELATION = re.compile(r"^[+-]|\w[+×*][^\W\d]|\w [+×*-] [^\W\d]|\^ ?[2-9]|\w ?[·×*] ?[0-9](?![0-9]*H2O)")
_BRACKETED = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_INEQUALITY = frozenset("<>≤≥≠≪≫")

RULES: Mapping[str, object] = {
    "sides": _SIDES,
    "leads": _LEADS,
    "note": _NOTE,
    "uncertainty": _UNCERTAINTY,
    "last_figures": _LAST_FIGURES,
    "in_brackets": _IN_BRACKETS,
    "second_in_brackets": _SECOND_IN_BRACKETS,
    "mark": _MARK,
    "letter_mark": _LETTER_MARK,
    "starts_with_number": _STARTS_WITH_NUMBER,
    "label_before": _LABEL_BEFORE,
    "plainly_label": _PLAINLY_LABEL,
    "relation": _RELATION,
    "bracketed": _BRACKETED,
    "inequality": _INEQUALITY,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

_DISAGREE = N_("More than one number stands in the answer, and they do not agree; write one only.")

_NAMES: dict[Dimension, str] = {
    (): N_("a plain number"),
    (("mass", 1),): N_("mass"),
    (("length", 3),): N_("volume"),
    (("amount", 1),): N_("amount"),
    (("entity", 1),): N_("number of particles"),
    (("amount", 1), ("length", -3)): N_("amount concentration"),
    (("length", -3), ("mass", 1)): N_("density"),
    (("amount", -1), ("mass", 1)): N_("molar mass"),
    (("amount", -1), ("length", 3)): N_("molar volume"),
    (("temperature", 1),): N_("temperature"),
    (("length", -1), ("mass", 1), ("time", -2)): N_("pressure"),
    (("length", 2), ("mass", 1), ("time", -2)): N_("energy"),
    (("time", 1),): N_("time"),
}


@dataclass(frozen=True)
class Reading:
    """What a cell says.

    `written` is the number with its figures; `unit` the unit written, None where there is none;
    `value_in_unit` the number converted exactly to the unit asked for, or as written where no unit was;
    `reason` a sentence for the student or the instructor, "" where there is nothing to say. An ambiguous
    reading has its number too, read by the decimal mark; a reading of the wrong dimension has no
    `value_in_unit`.
    """

    text: str
    status: ReadingStatus
    written: Written | None
    unit: Unit | None
    reason: str
    value_in_unit: Fraction | None

    @property
    def counts_figures(self) -> bool:
        """Whether the number has figures to count: "3/4" is exact and has none."""
        return self.written is not None and "/" not in self.written.text


@dataclass(frozen=True)
class _Quantity:
    """One stated amount."""

    written: Written
    unit: Unit | None
    remark: str
    ambiguous: bool

    @property
    def half_unit(self) -> Fraction:
        """Half a unit of the last figure written; 0 for a fraction, which is exact."""
        return Fraction(0) if "/" in self.written.text else Fraction(10) ** self.written.place / 2


_PLAIN_NUMBER = read_unit("1")


def read_answer(text: str, unit: Unit | None, *, decimal_mark: str = ".") -> Reading:
    """Read an answer; the grammar is in the module's docstring. No text raises an exception.

    `unit` is the unit asked for, None for a plain number; `decimal_mark` is "." or ",", the mark of the
    problem sheet, and decides only what cannot be told otherwise. Raises ValueError for another mark.

    >>> reading = read_answer("n(NaCl) ≈ 250 mmol", read_unit("mol"))
    >>> reading.value_in_unit, reading.written.figures, reading.unit.text
    (Fraction(1, 4), 3, 'mmol')
    """
    if decimal_mark not in {".", ","}:
        raise ValueError(f"the decimal mark is '.' or ',', not {decimal_mark!r}")
    stripped = text.strip()
    if len(stripped) > LONGEST:
        return _unreadable(text, _("An answer of {n} characters is not read; write a number.").format(n=len(stripped)))
    plain = plain_characters(stripped)
    if is_blank(plain):
        return Reading(text, "blank", None, None, "", None)
    asked = unit or _PLAIN_NUMBER
    try:
        quantity = _stated_amount(plain, asked, decimal_mark)
    except (NumberError, UnitError) as error:
        return _unreadable(text, _reason(plain, str(error)))
    return _converted(text, quantity, asked)


def _unreadable(text: str, reason: str) -> Reading:
    return Reading(text, "unreadable", None, None, reason, None)


def _reason(plain: str, reason: str) -> str:
    """Why the text is not read: what is particular to it, or what the readers said."""
    if re.match(r"[=+@-] *[A-Za-z_]\w*[(|!:]", plain):
        return _("A spreadsheet's formula is not read; write its result.")
    if not any(map(str.isdecimal, plain)):
        return _("No number is found in {text}.").format(text=quoted(plain))
    return reason


def _stated_amount(plain: str, asked: Unit, decimal_mark: str) -> _Quantity:
    """The amount that a text states, in the unit of its label where no other is written."""
    if not _INEQUALITY.isdisjoint(plain):
        raise NumberError(_("An inequality is not an answer; write one number."))
    label, quantities = NO_UNIT, list[_Quantity]()
    for place, side in enumerate(_SIDES.split(_without_mark(plain))):
        # Behind an amount a label has no figures: "0.25 mol = n", not "0.25 mol = n13".
        may_be_label = not (quantities and any(map(str.isdecimal, side)))
        said, rest = _unlabelled(side.strip(), asked.dimension, may_be_label=may_be_label)
        label = same_unit(said, label) if said.unit else label
        if not (rest or said.unit) and (quantities or not place) and _RELATION.search(_BRACKETED.sub("", side.strip())):
            raise UnitError(
                _("{text} is no single quantity; write the number that is asked for.").format(text=quoted(side))
            )
        if rest:
            quantities += _stated(rest, asked, decimal_mark)
    if not quantities:
        raise NumberError(_("No number is found in {text}.").format(text=quoted(plain)))
    return _one(quantities, label, asked)


def _without_mark(plain: str) -> str:
    """A text without the mark of a list; "(g)" is a unit, "(a)" is none."""
    if not plain[:_LONGEST_MARK].count(")") and ":" not in plain[:_LONGEST_MARK] and plain[1:2] != ".":
        return plain  # hardly any has a mark
    letter = _LETTER_MARK.match(plain)
    if letter:
        return plain if letter[1] in SPELLINGS else plain[letter.end() :]
    mark = _MARK.match(plain)
    return plain[mark.end() :] if mark else plain


def _unlabelled(side: str, asked: Dimension, *, may_be_label: bool) -> tuple[Behind, str]:
    """What the labels of a side say, and the side without them, words such as "about", and notes such as "(3 s.f.)"."""
    label = NO_UNIT
    while side and not _STARTS_WITH_NUMBER.match(side):
        if is_ratio(side, asked):
            raise UnitError(_("What stands beside the number is not understood: {text}.").format(text=quoted(side)))
        whole = read_label(side, asked) if may_be_label else None
        if whole:
            return _with(label, whole), ""
        before, colon, behind = side.partition(":")
        named = read_label(before, asked) if colon else None
        lead = None if named else _LEADS.match(side)
        if named:
            label, side = _with(label, named), behind.strip()
        elif lead:
            side = side[lead.end() :]
        else:
            named, side = _label_before(side, asked)
            label = _with(label, named)
            break
    return label, _NOTE.sub("", side)


def _with(label: Behind, more: Behind) -> Behind:
    """Two labels as one."""
    return same_unit(more, label) if more.unit else label


def _label_before(side: str, asked: Dimension) -> tuple[Behind, str]:
    """The label that stands before a number without a sign between them, and the side without it."""
    before = _LABEL_BEFORE.match(side)
    # A bracket that is still open holds the number: "volume of HCl (diluted 2)".
    is_open = before is not None and before[0].count("(") != before[0].count(")")
    named = read_label(before[0].strip(), asked) if before and not is_open else None
    if before and named and (named.unit or _PLAINLY_LABEL.fullmatch(before[0].strip())):
        return named, side[before.end() :]
    if not any(map(str.isdecimal, side)):
        raise UnitError(_("What stands beside the number is not understood: {text}.").format(text=quoted(side)))
    return NO_UNIT, side


def _stated(side: str, asked: Unit, decimal_mark: str) -> list[_Quantity]:
    """The amount of one side, and the same in other units in brackets behind it."""
    second = _SECOND_IN_BRACKETS.search(side)
    if second:
        first = _quantity(side[: second.start()], asked, decimal_mark)
        return [_quantity(second[1], asked, decimal_mark), first]
    return [_quantity(side, asked, decimal_mark)]


def _quantity(text: str, asked: Unit, decimal_mark: str) -> _Quantity:
    """One number with its unit."""
    text, remark, behind = _without_uncertainty(text)
    numeral = read_numeral(_IN_BRACKETS.sub(r"\1", text), decimal_mark)
    unit, mended = read_behind(numeral.rest, asked)
    its_own = read_behind(behind, asked).unit
    if unit and its_own and its_own.dimension not in {unit.dimension, _PLAIN_NUMBER.dimension}:
        told = _("The uncertainty is given in {its_unit}, and the number in {unit}.")
        raise UnitError(told.format(its_unit=its_own.text, unit=unit.text))
    remarks = " ".join(filter(None, (remark, numeral.remark, mended)))
    return _Quantity(numeral.written, unit, remarks, numeral.ambiguous)


def _without_uncertainty(text: str) -> tuple[str, str, str]:
    """A text without "± 0.05" or "(5)", the remark on it, and what stands behind it with its own unit."""
    certain = _LAST_FIGURES.sub(r"\1", text)
    if certain != text:
        return certain, _("The uncertainty in brackets is not judged."), ""
    match = _UNCERTAINTY.search(text)
    if match is None or not match.start():
        return text, "", ""
    before, after, remark = text[: match.start()], text[match.end() :], _("The uncertainty behind ± is not judged.")
    # With a unit before it ("3.95 g ± 0.05 g", "3.95 g ± 1 %") the uncertainty has its own behind it.
    has_unit = before[-1].isalpha() or before[-1] == "%"
    return (before, remark, after) if has_unit else (before + after, remark, "")


def _one(quantities: list[_Quantity], label: Behind, asked: Unit) -> _Quantity:
    """The amount that all agree on: the last one that has a unit, or else the last, in the unit of the label."""
    units = [quantity.unit for quantity in quantities if quantity.unit]
    if units and label.unit and all(scale_of(unit) != scale_of(label.unit) for unit in units):
        same_unit(label, Behind(units[-1], ""))
    chosen = next((q for q in reversed(quantities) if q.unit), quantities[-1])
    if not chosen.unit and label.unit:
        remark = " ".join(filter(None, (chosen.remark, label.remark)))
        chosen = replace(chosen, unit=label.unit, remark=remark)
    if not all(_agree(quantity, chosen, asked) for quantity in quantities):
        raise NumberError(_(_DISAGREE))
    return chosen


def _agree(one: _Quantity, other: _Quantity, asked: Unit) -> bool:
    """Whether two amounts are the same to the figures of the coarser; no unit may be the unit asked for."""
    if one is other:
        return True
    theirs = other.unit or asked
    # A number without a unit is in the other's unit, or plain: "0.82 = 82 %".
    possible = (one.unit,) if one.unit else (theirs, _PLAIN_NUMBER)
    return any(_same(one, ours, other, theirs) for ours in possible)


def _same(one: _Quantity, ours: Unit, other: _Quantity, theirs: Unit) -> bool:
    """Whether two amounts in given units are the same to the figures of the coarser."""
    if ours.dimension != theirs.dimension:
        return False
    apart = abs(ours.to_engine(one.written.value) - theirs.to_engine(other.written.value))
    return apart <= max(one.half_unit * ours.factor, other.half_unit * theirs.factor)


def _converted(text: str, quantity: _Quantity, asked: Unit) -> Reading:
    """The reading of an amount, in the unit asked for."""
    written, unit = quantity.written, quantity.unit
    if unit and unit.dimension != asked.dimension:
        return Reading(text, "wrong_dimension", written, unit, _wrong_dimension(unit, asked), None)
    value = written.value
    if unit and unit.text != asked.text:
        value = asked.from_engine(unit.to_engine(value))
    status: ReadingStatus = "ambiguous" if quantity.ambiguous else "number"
    return Reading(text, status, written, unit, quantity.remark, value)


def _wrong_dimension(unit: Unit, asked: Unit) -> str:
    """That the unit written is of another dimension than the one asked for, both named."""
    told = _("The answer is given in {given}; {asked} is asked for.")
    return told.format(given=_named(unit), asked=_named(asked))


def _named(unit: Unit) -> str:
    """A unit with what it measures: "g (mass)"."""
    name = _(_NAMES.get(unit.dimension, ""))
    if unit.text == "1":
        return name
    return f"{unit.text} ({name})" if name else unit.text
