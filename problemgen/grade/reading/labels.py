"""What stands beside a number and only says what it is: a symbol, a name, and perhaps the unit that it is in.

label     = unit [words]                     "mg", "% yield", "mol NaCl"
          | [head] unit-mark                 "n/mol", "m (mg)", "c/(mol/L)", "mass in kg", "in kg", "amount, mmol"
          | head                             "m", "n(NaCl)", "mass of product", "n = m/M"
head      = (symbol | word) …                signs of multiplication and brackets between them
symbol    = one or two letters with figures behind them ("m1", "pV"), or a letter and a substance ("mNaCl")
word      = what problemgen.grade.reading.words lists

A quantity divided by a unit is the trade's way to label a number: n/mol = 33.98 is 33.98 mol. Where a letter is a
symbol and a unit ("M", "C"), or a formula and a unit ("m(K)"), it is the unit if a unit of its dimension is asked for.
A mark of a list ("1)", "(a)") is no label, and is taken off before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from problemgen.chemistry.unit_list import SPELLINGS
from problemgen.chemistry.units import Dimension
from problemgen.grade.reading.words import PUNCTUATION, are_names, formula_elements, is_known
from problemgen.grade.reading.written_units import (
    FOLDED_SPELLINGS,
    Behind,
    hides_number,
    unit_and_names,
    worded,
    written_unit,
)
from problemgen.language.messages import kept_by_language

__all__ = ["NO_UNIT", "RULES", "is_ratio", "read_label"]

NO_UNIT = Behind(None, "")
"""What a label says that names no unit."""

_NAMING = re.compile(r"[^\W\d_]|[%°]")
# Figures in a label belong to a symbol or a formula and are few: "m1", "n(C57H110O6)".
_SHAPE = re.compile(r"(?:[^\W\d]|[ ()\[\]{}/%°·⋅×.,;:'*+^?\N{NO-BREAK SPACE}-]|[0-9]{1,3}(?![0-9]))*")
# Names of quantities with a word in them that would be a unit or a number; the sheets print the last ones.
_PHRASES = re.compile(
    r"\b(?:molar|mole|mol|molecular|formula|atom)[ -](?=mass|volume|amount|fraction|ratio|economy)"
    r"|\b[Nn]o\.? of |\bafter (?:one|two|three|four) (?:portion|dilution)s?(?!\w)"
)
# "ca.39.5", but not "CuSO4.5H2O".
_DECIMAL = re.compile(r"\.[0-9]+(?![0-9H])|[^\W\d],[0-9]")
_LAST_BRACKET = re.compile(r"(.*?) ?[(\[](?:in )?((?:[^()\[\]]|\([^()\[\]]*\))+)[)\]]$", re.DOTALL)
_IN = re.compile(r"(?:(.*) )?in (.+)", re.DOTALL)
_OVER = re.compile(r"((?:[^/()\[\]]|\([^()]*\)|\[[^\[\]]*\])+?) ?/ ?(?:[(\[](.+)[)\]]|(.+))", re.DOTALL)
_LAST_WORDS = re.compile(r"[ ,;]+")
_SEPARATORS = re.compile(r"[\s_·⋅×*/+^()\[\]{}%°.,;:'?-]+")
_SYMBOL = re.compile(r"(?:[^\W\d_]{1,2}|nRT)[0-9]{0,3}")
_SYMBOL_OF = re.compile(r"(?:[^\W\d_]|Mr?|[Dd]elta)(?=[^\W\d_]{2})")
# "percent_yield" is two words, "V_eq" one symbol.
_UNDERSCORE = re.compile(r"_(?=[^\W\d_]{3})")
_GAP = re.compile(r"\w[ (\[,;.:-]+\w")
# Among other words: "molar mass M", but not "n aa".
_SYMBOL_AMONG_WORDS = re.compile(r"(?:[^\W\d_]|Mr|M[Ww])[0-9₀-₉]{0,3}")
_FIGURES = re.compile(r"[0-9]{1,3}")
# Little words, and what says how far results lie apart.
_NO_SYMBOLS = frozenset({"sd", "se", "no", "or", "to", "by", "up", "if", "et", "zu", "vs"})
# Besides units, symbols of quantities: molar mass, concentration, time, a constant, force, entropy, height, energy.
_SYMBOLS_TOO = frozenset({"M", "C", "t", "K", "F", "s", "h", "u"})
# Two of a kind over each other are a ratio, and no label of one of them: "n/n0", "n(Cl) : n(Na)", "n:m".
_RATIO = re.compile(
    r"(?:.*[ (,;])?([^\W\d_])(?:[0-9₀-₉]*|\([^()]*\)) ?[/:] ?\1(?:[0-9₀-₉]*|\([^()]*\))|[^\W\d_] ?: ?[^\W\d_]"
    r"|(?:.* )?[Rr]atio(?: .*)?"
)
# The least, or minutes.
_NO_LABELS = frozenset({"min."})
_STATE = re.compile(r"([^\s()]+|\([^()]*\))\((s|l|g|aq)\)")
# Behind these symbols it is the unit, whatever stands between: "m(CO2)(g)", "V(H2O)(l)".
_UNIT_NOT_STATE = frozenset({"mg", "Vl"})
# "mass g/mol", "c mol L ^-1", "p mm Hg": no unit has more words.
_MOST_UNIT_WORDS = 4

RULES: Mapping[str, object] = {
    "naming": _NAMING,
    "shape": _SHAPE,
    "phrases": _PHRASES,
    "decimal": _DECIMAL,
    "last_bracket": _LAST_BRACKET,
    "in": _IN,
    "over": _OVER,
    "last_words": _LAST_WORDS,
    "separators": _SEPARATORS,
    "symbol": _SYMBOL,
    "symbol_of": _SYMBOL_OF,
    "underscore": _UNDERSCORE,
    "gap": _GAP,
    "symbol_among_words": _SYMBOL_AMONG_WORDS,
    "figures": _FIGURES,
    "no_symbols": _NO_SYMBOLS,
    "symbols_too": _SYMBOLS_TOO,
    "ratio": _RATIO,
    "no_labels": _NO_LABELS,
    "state": _STATE,
    "unit_not_state": _UNIT_NOT_STATE,
    "most_unit_words": _MOST_UNIT_WORDS,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@kept_by_language(4096)
def read_label(text: str, asked: Dimension) -> Behind | None:
    """What a text without a number of its own says: its unit, or `NO_UNIT`; None if it is not understood.

    `asked` is the dimension asked for.

    >>> read_label("n(NaCl)/mmol", (("amount", 1),)).unit.text
    'mmol'
    """
    if text.casefold() in _NO_LABELS:
        return None
    if not (_SHAPE.fullmatch(text) and _NAMING.search(text)) or hides_number(text) or _DECIMAL.search(text):
        return None
    text = _PHRASES.sub("", _without_state(worded(_UNDERSCORE.sub(" ", text.strip(PUNCTUATION)))))
    if not text:
        return NO_UNIT
    for head, written in _split(text):
        unit = _unit_of(written, asked)
        if unit and not _is_substance_of(head, written, unit, asked) and (not head or _is_head(head)):
            return unit
    if is_ratio(text, asked):
        return None
    named = [one for one in unit_and_names(text) if one.unit]
    if named and text not in _SYMBOLS_TOO and _unit_of(text.split(" ")[0], asked):
        return named[-1]
    return NO_UNIT if _is_head(text) else None


def is_ratio(text: str, asked: Dimension) -> bool:
    """Whether a text relates two quantities of a kind, and that is not what is asked for."""
    return bool(asked) and _RATIO.fullmatch(text) is not None


def _without_state(text: str) -> str:
    """A label without the state of a substance: "n(CO2(g))", "n(H2O)(l)"."""
    state = _STATE.search(text)
    if state is None or text[0] + state[2] in _UNIT_NOT_STATE:
        return text
    formula = state[1].strip("()")
    if len(formula) == 1 or not formula_elements(formula):
        return text
    return text[: state.end(1)] + text[state.end() :]


def _split(text: str) -> Iterator[tuple[str, str]]:
    """The ways to split a label into a head and what may be its unit; the head is "" where all of it may be one."""
    yield "", text
    for pattern in (_LAST_BRACKET, _IN):
        match = pattern.fullmatch(text)
        if match:
            yield (match[1] or "").strip(PUNCTUATION), match[2]
    for gap in [*_LAST_WORDS.finditer(text)][-_MOST_UNIT_WORDS:]:
        yield text[: gap.start()], text[gap.end() :]
    over = _OVER.fullmatch(text)
    if over:
        yield over[1], over[2] or over[3]


def _unit_of(written: str, asked: Dimension) -> Behind | None:
    """A unit, unless it is a symbol too and not of the dimension asked for."""
    found = written_unit(written)
    if found is None or found.unit is None:
        return None
    is_symbol = written.partition("/")[0].strip() in _SYMBOLS_TOO
    return None if is_symbol and found.unit.dimension != asked else found


def _is_substance_of(head: str, written: str, unit: Behind, asked: Dimension) -> bool:
    """Whether a unit is rather a substance: "m(K)", "n(C)"."""
    if not head or unit.unit is None:
        return False
    return bool(formula_elements(written)) and unit.unit.dimension != asked


def _is_head(text: str) -> bool:
    """Whether all of a text names something, and no unit is hidden in it."""
    words = [word for word in _SEPARATORS.split(text) if word]
    if not words:
        return False
    if are_names(words) and not any(_is_hidden_unit(word) for word in words):
        return True
    symbol = _SYMBOL_AMONG_WORDS if _GAP.search(text) else _SYMBOL
    return all(_is_symbol(word, symbol) or (is_known(word) and not _is_hidden_unit(word)) for word in words)


def _is_hidden_unit(word: str) -> bool:
    return word in SPELLINGS and not formula_elements(word) and not is_known(word)


def _is_symbol(word: str, pattern: re.Pattern[str]) -> bool:
    """Whether a word is a symbol, alone or with a substance: "m1", "pV", "nNaOH"."""
    if word.casefold() in _NO_SYMBOLS:
        return False
    if _FIGURES.fullmatch(word):
        return True
    if pattern.fullmatch(word):
        # "MG" is a unit in the wrong case, and no symbol.
        is_unit = word in SPELLINGS or (len(word) > 1 and word.casefold() in FOLDED_SPELLINGS)
        return not is_unit or word in _SYMBOLS_TOO
    bare = word.lstrip("0123456789")
    if bare != word:
        return is_known(bare)
    of = _SYMBOL_OF.match(word)
    return of is not None and is_known(word[of.end() :])
