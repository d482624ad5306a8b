"""The unit behind a number, and the substance behind the unit, as students write them.

behind    = [unit] [substance]
unit      = what problemgen.chemistry.units reads, in brackets or not, with signs of multiplication ("mol × L⁻¹")
            and of degrees as people type them ("25 oC", "298 °K"); besides, a few usual abbreviations ("gms", "hr")
            and words in the wrong case ("Mol", "KG") where only one unit can be meant; both are remarked on
          | "°" | "degrees"             where a temperature is asked for, with a remark
substance = ["of"] (formula | word)+       "NaCl", "of product", "CuSO4·5H2O", "copper(II) sulfate", "Ph3COH"
          | [substance] entities           "CO2 molecules"

"0.5 mol C" may be carbon or degrees: the reading with the dimension asked for is taken, or else the
shorter unit. A word that is neither a unit nor a formula does not stand for a substance unless a unit or
"of" stands before it: it may be a unit with a slip. Nor does a formula of one element: "12 Mg" is refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.unit_list import LENGTHS, SPELLINGS
from problemgen.chemistry.units import Dimension, Unit, read_unit
from problemgen.errors import FormulaError, UnitError
from problemgen.grade.numerals import TIMES
from problemgen.grade.spelling import groups_written_out, quoted

__all__ = ["RULES", "Behind", "hides_number", "read_behind"]

_PUNCTUATION = " .,;:?\N{NO-BREAK SPACE}"
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
        "s": "sec secs",
        "min": "mins",
        "h": "hr hrs",
        "%": "pct Prozent prozent",
        "°C": "Celsius celsius",
        "°F": "Fahrenheit fahrenheit",
    }.items()
    for spelling in spellings.split()
}
# In two letters the case tells a prefix from a unit ("Mg", "mM"), but not in these.
_TWO_LETTERS = {"KG": "kg", "Kg": "kg", "ML": "mL", "Ml": "mL"}
_KEYWORDS = frozenset({"per", "formula", "unit", "units", "mm", "Hg", "cent"}) | LENGTHS

_BOUNDARY = re.compile(r"[ \N{NO-BREAK SPACE}]+|(?<=[\w%]) ?(?=\()")
_RUN = re.compile(r"[^\W\d_]+")
# Figures alone are a second number, though "1" is what a plain number is asked in: "15.7 1" is not read.
_OTHER_MARKS = re.compile(r"^[0-9]+$|[^\w\s^+\-·⋅*./()%°℃℉]")
# Behind a letter `(?!\w)` says what `\b` does, in half the time where `\w` is written out for the page.
_DEGREES = r"(?:°|\bo(?=[CF](?!\w))|\bdeg(?:rees?|\.)?) ?"
_WORDED = tuple(
    (re.compile(pattern), read)
    for pattern, read in {
        rf"{_DEGREES}[Cc](?:elsius)?(?!\w)": "°C",
        rf"{_DEGREES}[Ff](?:ahrenheit)?(?!\w)": "°F",
        r"° ?K\b": "K",
        r"\[([^\[\]()0-9]*)\]": r"(\1)",
        r"(?<=[^\W\d_]) +(?=\^-?[0-9])": "",
        r"(?<=[^\W\d_]) ?× ?(?=[^\W\d_])": "·",
        r"\bc\.c\b\.?": "cc",
        r"\bcubic centimet(?:re|er)s?(?!\w)": "cm3",
        r"\bcubic decimet(?:re|er)s?(?!\w)": "dm3",
        r"\bcubic met(?:re|er)s?(?!\w)": "m3",
        r"\b(?:wt|mass|[wm]/[wm])\.? ?%": "%",
    }.items()
)
_BARE_DEGREES = frozenset({"°", "degree", "degrees", "deg"})
_TEMPERATURE: Dimension = (("temperature", 1),)
_OPERATOR = re.compile(rf"[\s]*(?:{TIMES}|[/:+^=-])[\s]*[0-9(.,+-]")
_FREE_FIGURE = re.compile(rf"(?:^|[\s(\[+/:;,±-]|(?<![^\W\d_]){TIMES})[.,]?[0-9]")
_LOCANTS = re.compile(r"(?<![\w.,])[0-9]{1,2}(?:,[0-9]{1,2})*-(?=[^\W\d_])")
_HYDRATE = re.compile(r"(?<=[\w)\]]) ?[·⋅•*] ?(?=[0-9]{0,2} ?H2O)")
_POWER = re.compile(r"(?<=[^\W\d_])(?:\^-?|-)[0-9](?!\w)")
_ROMAN = re.compile(r"\((?:I{1,3}|IV|VI{0,3}|i{1,3}|iv|vi{0,3})\)$")
_NO_SUBSTANCE = frozenset({"or", "and", "to", "x", "plus", "minus", "times", "not", "no", "oder", "und"})
_BY_MASS = frozenset({"w/w", "m/m"})
_LEADS_TO_SUBSTANCE = frozenset({"of", "Of", "de", "von"})
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
_FOLDED_SPELLINGS = frozenset(spelling.casefold() for spelling in SPELLINGS)
_CELSIUS = read_unit("°C")

RULES: Mapping[str, object] = {
    "punctuation": _PUNCTUATION,
    "most_words": _MOST_WORDS,
    "longest_unit": _LONGEST_UNIT,
    "abbreviations": {**_ABBREVIATIONS, **_TWO_LETTERS},
    "keywords": _KEYWORDS,
    "folded": _FOLDED,
    "folded_spellings": _FOLDED_SPELLINGS.difference(_FOLDED),
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
    "roman": _ROMAN,
    "no_substance": _NO_SUBSTANCE,
    "by_mass": _BY_MASS,
    "leads_to_substance": _LEADS_TO_SUBSTANCE,
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
    if _OPERATOR.match(text):
        raise UnitError("The answer is a calculation; write its result only.")
    if not text.strip(_PUNCTUATION):
        return Behind(None, "")
    text = _worded(text.lstrip(_PUNCTUATION).rstrip())
    if asked.dimension == _TEMPERATURE and text.rstrip(_PUNCTUATION) in _BARE_DEGREES:
        scale = asked if asked.offset else _CELSIUS
        return Behind(scale, f"{quoted(text)} is read as {scale.text}.")
    found = list(_candidates(text))
    fitting = [behind for behind in found if behind.unit and behind.unit.dimension == asked.dimension]
    if found:
        return fitting[-1] if fitting else found[0]
    counted = _counted(text)
    if counted:
        return counted
    if not _is_substance(text, unit=None):
        raise UnitError(_refusal(text))
    return Behind(None, "")


@lru_cache(maxsize=4096)
def _worded(text: str) -> str:
    """What stands behind a number, with units of several words and signs as the reader of units knows them."""
    for pattern, read in _WORDED:
        text = pattern.sub(read, text)
    return text


def _candidates(text: str) -> list[Behind]:
    """Every way to split the text into a unit and a substance, the shortest unit first."""
    found = []
    ends = [match.span() for match in _BOUNDARY.finditer(text, 1)][:_MOST_WORDS]
    for end, start in [*ends, (len(text), len(text))]:
        unit = _unit(text[:end].rstrip(_PUNCTUATION + "!'")) if end <= _LONGEST_UNIT else None
        if unit and unit.unit and _is_substance(text[start:], unit=unit.unit):
            found.append(unit)
    return found


@lru_cache(maxsize=4096)
def _unit(text: str) -> Behind | None:
    """The unit that a text is, with a remark where it was mended; None if it is none."""
    if _OTHER_MARKS.search(text):
        return None
    mended: list[str] = []
    remarks: list[str] = []
    last = 0
    for run in _RUN.finditer(text):
        symbol = _symbol(run[0])
        if symbol is None:
            return None
        if symbol != run[0]:
            remarks.append(f"{quoted(run[0])} is read as {symbol}.")
        mended += [text[last : run.start()], symbol]
        last = run.end()
    try:
        return Behind(read_unit("".join([*mended, text[last:]])), " ".join(remarks))
    except UnitError:
        return None


def _symbol(run: str) -> str | None:
    """A run of letters as the reader of units knows it."""
    if run in SPELLINGS or run in _KEYWORDS:
        return run
    return _ABBREVIATIONS.get(run) or _TWO_LETTERS.get(run) or _FOLDED.get(run.casefold())


def _counted(text: str) -> Behind | None:
    """A count of entities with the substance before the word: "CO2 molecules"."""
    substance, _, word = text.rstrip(_PUNCTUATION).rpartition(" ")
    unit = _unit(word)
    if unit is None or unit.unit is None or unit.unit.dimension != _ENTITIES:
        return None
    return unit if _is_substance(substance, unit=unit.unit) else None


def _is_substance(text: str, *, unit: Unit | None) -> bool:
    """Whether what stands behind a unit (None: behind the bare number) names a substance, or is nothing."""
    text = text.strip(_PUNCTUATION)
    if not text:
        return True
    if _formula(text):
        return _formula_is_free(text, unit)
    words = [word.strip(_PUNCTUATION) for word in text.split()]
    if len(words) > _MOST_WORDS or not _NO_SUBSTANCE.isdisjoint(word.casefold() for word in words):
        return False
    first = words[0]
    may_be_unit = first not in _LEADS_TO_SUBSTANCE and (unit is None or first in SPELLINGS)
    if may_be_unit and not (_formula(first) and _formula_is_free(first, unit)):
        return False
    return all(_is_word(word) for word in words)


def _formula_is_free(text: str, unit: Unit | None) -> bool:
    """Whether a formula cannot be taken for a unit, or a part of one."""
    if unit is None:
        several = len(_formula(text)) > 1
        return several and text.casefold() not in _FOLDED_SPELLINGS
    return text not in SPELLINGS or len(unit.factors) == 1


@lru_cache(maxsize=4096)
def _formula(text: str) -> tuple[str, ...]:
    """The elements of a formula; none if the text is no formula."""
    try:
        return tuple(read_formula(groups_written_out(text)).composition) or ("e",)
    except FormulaError:
        return ()


def _is_word(text: str) -> bool:
    """Whether a word may belong to the name of a substance: no figures but locants and formulas."""
    bare = text.strip(_PUNCTUATION + "()[]'")
    if not bare or bare in _BY_MASS or _formula(text) or _formula(bare):
        return True
    pieces = _ROMAN.sub("", text.strip(_PUNCTUATION)).strip("()[]'").replace("'", "-").split("-")
    return pieces[-1].isalpha() and all(p.isalpha() or p.replace(",", "").isdecimal() for p in pieces)


def hides_number(text: str) -> bool:
    """Whether a text has a number in it: figures that belong to no formula, symbol or chemical name.

    >>> hides_number("m(CuSO4·5H2O)"), hides_number("1,2-dibromoethane"), hides_number("12 g")
    (False, False, True)
    """
    return bool(_FREE_FIGURE.search(_HYDRATE.sub("", _POWER.sub("", _LOCANTS.sub("", text)))))


def _refusal(text: str) -> str:
    """Why what stands behind a number is not understood."""
    if hides_number(text):
        return "More than one number stands in the answer; write one only."
    word = text.split()[0].rstrip(_PUNCTUATION)
    if _unit(word):
        return f"What stands behind the unit is not understood: {quoted(text)}."
    return _unknown(word)


@lru_cache(maxsize=1024)
def _unknown(word: str) -> str:
    """Why a word is no unit, in the words of the reader of units."""
    try:
        read_unit(word)
    except UnitError as error:
        hint = str(error).partition("; did you mean ")[2]
        return f"The unit {quoted(word)} is not known" + (f"; did you mean {hint}" if hint else ".")
    return f"What stands behind the number is not understood: {quoted(word)}."
