"""The unit behind a number, and the substance behind the unit, as students write them.

behind    = [unit] [substance] ["in" unit]       the unit behind "in" is the one before it, or stands alone
unit      = what problemgen.chemistry.units reads, in brackets or not, with signs of multiplication ("mol × L⁻¹")
            and of degrees as people type them ("25 oC", "298 °K"); besides, a few usual abbreviations ("gms", "hr")
            and words in the wrong case ("Mol", "KG") where only one unit can be meant; both are remarked on
          | "°" | "degrees"             where a temperature is asked for, with a remark
substance = words                        those of `words`: "NaCl", "of product", "CuSO4·5H2O", "in total"
          | [substance] entities           "CO2 molecules"

"0.5 mol C" may be carbon or degrees: the reading with the dimension asked for is taken, or else the
shorter unit. Nothing is passed over that is not listed: "mol squared" is not read, and "g per mol" is g/mol. Behind a
bare number no formula of one element stands first, since it may be a unit with a slip: "12 Mg" is refused; nor does a
name: "2 butanol" may be one. A percentage and a count such as "million" multiply no other unit but in front of it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from problemgen.chemistry.unit_list import LENGTHS, SPELLINGS
from problemgen.chemistry.units import Dimension, Unit, read_unit
from problemgen.errors import UnitError
from problemgen.grade.reading.numerals import TIMES
from problemgen.grade.reading.spelling import quoted
from problemgen.grade.reading.words import BEHIND_NUMBER, PUNCTUATION, are_names, formula_elements
from problemgen.language.messages import _, kept_by_language

__all__ = [
    "FOLDED_SPELLINGS",
    "RULES",
    "Behind",
    "hides_number",
    "read_behind",
    "same_unit",
    "scale_of",
    "unit_and_names",
    "worded",
    "written_unit",
]

# No substance's name and no unit needs more: behind a number that is followed by a sentence, most ways to split it
# need not be tried.
_MOST_WORDS = 8
_LONGEST_UNIT = 60
_ENTITIES: Dimension = (("entity", 1),)

_ABBREVIATIONS = {
    spelling: symbol
    for symbol, spellings in {
        "g": "gm gms gr grs gramme grammes Gramm gramm",
        "kg": "kgs",
        "cm3": "ccm",
        "M": "molar Molar",
        "mM": "millimolar",
        "mg": "mgs",
        "L": "ltr ltrs",
        "mL": "mls",
        "mol": "mols",
        "mmol": "mmols mmole mmoles millimol millimols",
        "\N{MICRO SIGN}mol": "micromol micromols",
        "nmol": "nmols nanomol nanomols",
        "s": "sec secs",
        "min": "mins",
        "h": "hr hrs",
        "%": "pct percentage Prozent prozent",
        "°C": "Celsius celsius centigrade Centigrade",
        "°F": "Fahrenheit fahrenheit",
    }.items()
    for spelling in spellings.split()
}
# In two letters the case tells a prefix from a unit ("Mg", "mM"), but not in these.
_TWO_LETTERS = {"KG": "kg", "Kg": "kg", "ML": "mL", "Ml": "mL"}
_KEYWORDS = frozenset({"per", "formula", "unit", "units", "mm", "Hg", "cent"}) | LENGTHS

_BOUNDARY = re.compile(r"[ \N{NO-BREAK SPACE}]+|(?<=[\w%]) ?(?=\()")
_RUN = re.compile(r"[^\W\d_]+")
# Figures alone, in brackets or not, are a second number, though "1" is what a plain number is asked in: "15.7 1" is
# not read.
_OTHER_MARKS = re.compile(r"^\(?[0-9]+\)?$|[^\w\s^+\-·⋅*./()%°℃℉]")
# Behind a letter `(?!\w)` says what `\b` does, in half the time where `\w` is written out for the page.
_DEGREES = r"(?:°|\bo(?=[CF](?!\w))|\bdeg(?:rees?|\.)?) ?"
_WORDED = tuple(
    (re.compile(pattern), read)
    for pattern, read in {
        rf"{_DEGREES}[Cc](?:elsius|entigrade)?(?!\w)": "°C",
        rf"{_DEGREES}[Ff](?:ahrenheit)?(?!\w)": "°F",
        r"° ?K\b": "K",
        r"\[([^\[\]()0-9]*)\]": r"(\1)",
        r"(?<=[^\W\d_]) +(?=\^-?[0-9])": "",
        r"(?<=[^\W\d_]) ?× ?(?=[^\W\d_])": "·",
        r"\bc\.c\b\.?": "cc",
        r"\bcubic (?:cm|centimet(?:re|er)s?)(?!\w)": "cm3",
        r"\bcubic (?:dm|decimet(?:re|er)s?)(?!\w)": "dm3",
        r"\bcubic met(?:re|er)s?(?!\w)": "m3",
        r"\b(?:wt|mass|mole?|Mol|vol|volume|at|[wmv]/[wmv])\.?[ -]?(?:%|percent(?!\w))": "%",
    }.items()
)
_BARE_DEGREES = frozenset({"°", "degree", "degrees", "deg"})
_TEMPERATURE: Dimension = (("temperature", 1),)
_OPERATOR = re.compile(rf"[\s]*(?:{TIMES}|[/:+^=-])[\s]*[0-9(.,+-]")
_FREE_FIGURE = re.compile(rf"(?:^|[\s(\[+/:;,±-]|(?<![^\W\d_]){TIMES})[.,]?[0-9]")
_LOCANTS = re.compile(r"(?<![\w.,])[0-9]{1,2}(?:,[0-9]{1,2})*-(?=[^\W\d_])")
_HYDRATE = re.compile(r"(?<=[\w)\]]) ?[·⋅•*] ?(?=[0-9]{0,2} ?H2O)")
_POWER = re.compile(r"(?<=[^\W\d_])(?:\^-?|-)[0-9](?!\w)")
_IN_BRACKETS = re.compile(r"^\(([^()]*)\)$")
_IN_UNIT = re.compile(r"(?:^|(?<=[ )]))\(?in ")
# A share or a count is no unit that another one is multiplied by: "mol %" is no amount.
_SHARES = frozenset({"%", "ppm", "ppb"})
_COUNTS = frozenset({"million", "billion"})
# In fewer letters the case tells units apart ("mm", "Mm", "mM").
_FEWEST_FOLDED = 3


def _by_folded_case() -> dict[str, str]:
    """Spellings of three letters or more, folded, to the one unit that each can mean."""
    meant: dict[str, set[str]] = {}
    for spelling, listed in SPELLINGS.items():
        if len(spelling) >= _FEWEST_FOLDED and spelling.isalpha():
            meant.setdefault(spelling.casefold(), set()).add(listed.symbol)
    return {folded: symbols.pop() for folded, symbols in meant.items() if len(symbols) == 1}


_FOLDED = _by_folded_case()
FOLDED_SPELLINGS = frozenset(spelling.casefold() for spelling in SPELLINGS)
"""All spellings of units in small letters: what is one of them may be a unit in the wrong case."""

_CELSIUS = read_unit("°C")

RULES: Mapping[str, object] = {
    "most_words": _MOST_WORDS,
    "longest_unit": _LONGEST_UNIT,
    "abbreviations": {**_ABBREVIATIONS, **_TWO_LETTERS},
    "keywords": _KEYWORDS,
    "folded": _FOLDED,
    "folded_spellings": FOLDED_SPELLINGS.difference(_FOLDED),
    "boundary": _BOUNDARY,
    "run": _RUN,
    "other_marks": _OTHER_MARKS,
    "worded": _WORDED,
    "bare_degrees": _BARE_DEGREES,
    "operator": _OPERATOR,
    "free_figure": _FREE_FIGURE,
    "locants": _LOCANTS,
    "hydrate": _HYDRATE,
    "power": _POWER,
    "in_brackets": _IN_BRACKETS,
    "in_unit": _IN_UNIT,
    "shares": _SHARES,
    "counts": _COUNTS,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


class Behind(NamedTuple):
    """What stands behind a number: the unit, None where there is none, and a remark or ""."""

    unit: Unit | None
    remark: str


def read_behind(text: str, asked: Unit) -> Behind:
    """Read what stands behind a number; the grammar is in the module's docstring.

    `asked` is the unit asked for. Raises UnitError with a sentence for the student.

    >>> read_behind(" mol L^-1 NaCl", read_unit("mol/L")).unit.text
    'mol/L'
    """
    return _read(text, asked.text)


@kept_by_language(4096)
def _read(text: str, asked_text: str) -> Behind:
    asked = read_unit(asked_text)
    if _OPERATOR.match(text):
        raise UnitError(_("The answer is a calculation; write its result only."))
    if not text.strip(PUNCTUATION):
        return Behind(None, "")
    text = worded(text.lstrip(PUNCTUATION).rstrip())
    if asked.dimension == _TEMPERATURE and text.rstrip(PUNCTUATION) in _BARE_DEGREES:
        scale = asked if asked.offset else _CELSIUS
        return Behind(scale, _read_as(text, scale.text))
    converted = _in_unit(text, asked_text)
    if converted:
        return converted
    found = unit_and_names(text)
    fitting = [behind for behind in found if behind.unit and behind.unit.dimension == asked.dimension]
    if found:
        return fitting[-1] if fitting else found[0]
    counted = _counted(text)
    if counted:
        return counted
    if not _is_substance(text, unit=None):
        raise UnitError(_refusal(text))
    return Behind(None, "")


def _in_unit(text: str, asked_text: str) -> Behind | None:
    """What stands before and behind "in", where a unit stands behind it: "39.5 in mg", "39.5 mg (in mg)"."""
    for match in _IN_UNIT.finditer(text):
        behind = next(iter(unit_and_names(text[match.end() :].rstrip(PUNCTUATION + ")"))), None)
        if behind:
            before = _read(text[: match.start()].rstrip(" ("), asked_text)
            return same_unit(before, behind) if before.unit else behind
    return None


def same_unit(one: Behind, other: Behind) -> Behind:
    """The one unit that two units are, with the remarks on the first; UnitError where they are two."""
    if one.unit and other.unit and scale_of(one.unit) != scale_of(other.unit):
        told = _("Two units stand in the answer, {first} and {second}; write the one that is meant.")
        raise UnitError(told.format(first=one.unit.text, second=other.unit.text))
    return one


def scale_of(unit: Unit) -> tuple[object, ...]:
    """What makes two spellings of a unit the same one."""
    return unit.factor, unit.offset, unit.dimension


@lru_cache(maxsize=4096)
def worded(text: str) -> str:
    """What stands behind a number, with units of several words and signs as the reader of units knows them."""
    for pattern, read in _WORDED:
        text = pattern.sub(read, text)
    return text


def unit_and_names(text: str) -> list[Behind]:
    """Every way to split a text into a unit and words behind it, the shortest unit first."""
    found = []
    ends = [match.span() for match in _BOUNDARY.finditer(text, 1)][:_MOST_WORDS]
    for end, start in [*ends, (len(text), len(text))]:
        unit = written_unit(text[:end].rstrip(PUNCTUATION + "!'")) if end <= _LONGEST_UNIT else None
        if unit and unit.unit and _is_substance(text[start:], unit=unit.unit):
            found.append(unit)
    return found


@kept_by_language(4096)
def written_unit(text: str) -> Behind | None:
    """The unit that a text is, with a remark where it was mended; None if it is none."""
    if _OTHER_MARKS.search(text):
        return None
    text = _IN_BRACKETS.sub(r"\1", text)
    mended: list[str] = []
    remarks: list[str] = []
    last = 0
    for run in _RUN.finditer(text):
        symbol = _symbol(run[0])
        if symbol is None:
            return None
        if symbol != run[0]:
            remarks.append(_read_as(run[0], symbol))
        mended += [text[last : run.start()], symbol]
        last = run.end()
    try:
        unit = read_unit("".join([*mended, text[last:]]))
    except UnitError:
        return None
    return Behind(unit, " ".join(remarks)) if _is_one_measure(unit) else None


def _is_one_measure(unit: Unit) -> bool:
    """Whether shares stand alone, and counts nowhere but in front; "%5" is no power of a share."""
    if len(unit.factors) == 1:
        ((symbol, power),) = unit.factors
        return symbol not in _SHARES or power == 1
    return not any(symbol in _SHARES or (symbol in _COUNTS and place) for place, (symbol, _) in enumerate(unit.factors))


def _symbol(run: str) -> str | None:
    """A run of letters as the reader of units knows it."""
    if run in SPELLINGS or run in _KEYWORDS:
        return run
    return _ABBREVIATIONS.get(run) or _TWO_LETTERS.get(run) or _FOLDED.get(run.casefold())


def _counted(text: str) -> Behind | None:
    """A count of entities with the substance before the word: "CO2 molecules"."""
    substance, _, word = text.rstrip(PUNCTUATION).rpartition(" ")
    unit = written_unit(word)
    if unit is None or unit.unit is None or unit.unit.dimension != _ENTITIES:
        return None
    return unit if _is_substance(substance, unit=unit.unit) else None


def _is_substance(text: str, *, unit: Unit | None) -> bool:
    """Whether what stands behind a unit (None: behind the bare number) can be passed over, or is nothing."""
    text = text.strip(PUNCTUATION)
    if not text:
        return True
    if formula_elements(text):
        return _formula_is_free(text, unit)
    words = [word.strip(PUNCTUATION + "()[]") or word for word in text.split()]
    if len(words) > _MOST_WORDS:
        return False
    first = words[0]
    may_be_unit = first in SPELLINGS or (unit is None and first.casefold() not in BEHIND_NUMBER)
    if may_be_unit and not (formula_elements(first) and _formula_is_free(first, unit)):
        return False
    return are_names(words)


def _formula_is_free(text: str, unit: Unit | None) -> bool:
    """Whether a formula cannot be taken for a unit, or a part of one."""
    if unit is None:
        several = len(formula_elements(text)) > 1
        return several and text.casefold() not in FOLDED_SPELLINGS
    return text not in SPELLINGS or len(unit.factors) == 1


def hides_number(text: str) -> bool:
    """Whether a text has a number in it: figures that belong to no formula, symbol or chemical name.

    >>> hides_number("m(CuSO4·5H2O)"), hides_number("1,2-dibromoethane"), hides_number("12 g")
    (False, False, True)
    """
    return bool(_FREE_FIGURE.search(_HYDRATE.sub("", _POWER.sub("", _LOCANTS.sub("", text)))))


def _refusal(text: str) -> str:
    """Why what stands behind a number is not understood."""
    if hides_number(text):
        return _("More than one number stands in the answer; write one only.")
    word = text.split()[0].rstrip(PUNCTUATION)
    if written_unit(word):
        return _("What stands behind the unit is not understood: {text}.").format(text=quoted(text))
    return _unknown(word)


def _unknown(word: str) -> str:
    """Why a word is no unit."""
    hint = _nearest_unit(word)
    if hint is None:
        return _("What stands behind the number is not understood: {text}.").format(text=quoted(word))
    if not hint:
        return _("The unit {text} is not known.").format(text=quoted(word))
    return _("The unit {text} is not known; did you mean {hint}").format(text=quoted(word), hint=hint)


@lru_cache(maxsize=1024)
def _nearest_unit(word: str) -> str | None:
    """What the reader of units would have meant; "" where nothing is near, None for a word that is a unit."""
    try:
        read_unit(word)
    except UnitError as error:
        return str(error).partition("; did you mean ")[2]
    return None


def _read_as(text: str, unit: str) -> str:
    return _("{text} is read as {name}.").format(text=quoted(text), name=unit)
