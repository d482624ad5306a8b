"""Chemical formulas, read strictly; what is left over is an error with its position.

formula  = species [" "] [state]
species  = "e" charge | body [charge] | body (dot water)+
body     = unit+
unit     = symbol [count] | "(" unit+ ")" [count] | "[" unit+ "]" [count]
water    = [count] body                the part after a dot: water of crystallisation, or an adduct
dot      = "." | "·" | "⋅" | "•" | "*"   with or without spaces round it
count    = 2, 3, … 9999                a count of 1 is left out
charge   = "^" [count] sign            "SO4^2-"
         | sign                        "Na+", "NO3-": only where it cannot be misread
sign     = "+" | "-" | "−" | "–"
state    = "(s)" | "(l)" | "(g)" | "(aq)"
symbol   = one of the 118 elements

Unicode subscripts stand for counts (H₂SO₄) and superscripts for "^" and a charge (SO₄²⁻).

A sign without a caret is refused where the figures before it may belong to the charge: behind a single
atom or bracket with figures ("Fe3+": Fe^3+ or Fe3^+?), behind two figures ("SO42-") and behind a square
bracket with figures ("[Fe(CN)6]3-").
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TypeAlias

from problemgen.chemistry.elements import ELEMENTS
from problemgen.errors import FormulaError
from problemgen.language.messages import _

__all__ = ["RULES", "Formula", "formula_pieces", "read_formula"]

Counts: TypeAlias = tuple[tuple[str, int], ...]

# No formula of the laboratory comes near: they keep a hostile text from stalling the reader.
_LONGEST = 200
_GREATEST_COUNT = 9999
_SUBSCRIPTS = dict(zip("₀₁₂₃₄₅₆₇₈₉", "0123456789", strict=True))
_SUPERSCRIPTS = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-", strict=True))
_ONE_FOR_ONE = _SUBSCRIPTS | dict.fromkeys("·⋅•*", ".") | dict.fromkeys("−–", "-")
_CLOSING = {"(": ")", "[": "]"}
_STATE = re.compile(r" ?\((s|l|g|aq)\)$")
_DOT = re.compile(r" *\.( *[0-9]+)? *")
_COUNT = re.compile("[0-9]*")
_CHARGE = re.compile(r"(\^?)([0-9]*)([+-])")
_WATER = [("H", 2), ("O", 1)]

RULES: Mapping[str, object] = {
    "elements": frozenset(ELEMENTS),
    "longest": _LONGEST,
    "greatest_count": _GREATEST_COUNT,
    "superscripts": _SUPERSCRIPTS,
    "one_for_one": _ONE_FOR_ONE,
    "closing": _CLOSING,
    "state": _STATE,
    "dot": _DOT,
    "count": _COUNT,
    "charge": _CHARGE,
    "water": _WATER,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class Formula:
    """A formula: its canonical text, the atoms of the whole, its charge and its state.

    `text` is ASCII, without the state ("CuSO4.5H2O", "SO4^2-", "Na+", "[Ag(NH3)2]+", "e-"); `counts` go
    through the elements in order of first appearance, water of crystallisation included; `crystal_water` are
    the waters of crystallisation behind the dot.
    """

    text: str
    counts: Counts
    charge: int
    state: str | None
    crystal_water: int

    def count(self, symbol: str) -> int:
        """The atoms of an element in the whole formula; 0 where it does not occur."""
        return self.composition.get(symbol, 0)

    @property
    def composition(self) -> Mapping[str, int]:
        """Element to atoms of the whole formula."""
        return MappingProxyType(dict(self.counts))

    @property
    def with_state(self) -> str:
        """The canonical text with the state behind it, where one is given: "H2O(l)"."""
        return f"{self.text}({self.state})" if self.state else self.text


@dataclass(frozen=True)
class _Source:
    """The text as written, its plain form, and where each plain character stands in the text."""

    written: str
    plain: str
    places: tuple[int, ...]

    def error(self, at: int, reason: str) -> FormulaError:
        """An error at a character of the plain form; at its end, behind the last written one."""
        return FormulaError(self.written, self.places[at], reason)

    def at(self, index: int) -> str:
        """The plain character, or "" behind the end."""
        return self.plain[index : index + 1]


@dataclass(frozen=True)
class _Unit:
    """A symbol or bracket with its count, and where the count's figures start."""

    counts: Counts
    bracket: str
    figures: str
    figures_at: int


@lru_cache(maxsize=4096)
def read_formula(text: str) -> Formula:
    """Read a formula; the grammar is in the module's docstring.

    Raises FormulaError with the position.

    >>> read_formula("CuSO4·5H2O").count("O"), read_formula("SO₄²⁻").text
    (9, 'SO4^2-')
    """
    source, state = _plain(text)
    if source.plain[:1] == "e":
        return _electron(source, state)
    units, end = _read_units(source, 0)
    body = source.plain[:end]
    if source.at(end) in {"^", "+", "-"}:
        charge = _read_charge(source, units, end)
        return Formula(body + _charge_text(charge, units), _sum(units), charge, state, 0)
    counts, crystal_water, tail = _sum(units), 0, ""
    while source.at(end) == ".":
        multiple, part, start, end = _read_addition(source, end + 1)
        added = _sum(part)
        crystal_water += multiple if sorted(added) == _WATER else 0
        counts = _merge((*counts, *((symbol, count * multiple) for symbol, count in added)))
        tail += f".{multiple if multiple > 1 else ''}{source.plain[start:end]}"
    if end < len(source.plain):
        raise source.error(end, _unexpected(source, end, hydrate=bool(tail)))
    return Formula(body + tail, counts, 0, state, crystal_water)


def _plain(text: str) -> tuple[_Source, str | None]:
    """The text in ASCII without its state, outer spaces and spaces round the dots; and the state."""
    if len(text) > _LONGEST:
        raise FormulaError(f"{text[:20]}…", _LONGEST, _("a formula has at most {n} characters").format(n=_LONGEST))
    characters, places = _in_ascii(text)
    whole = "".join(characters)
    start, end = len(whole) - len(whole.lstrip()), len(whole.rstrip())
    if start >= end:
        raise FormulaError(text, 0, _("nothing is written"))
    state = _STATE.search(whole, start, end)
    stop = state.start() if state else end
    spaced = {i for match in _DOT.finditer(whole, start, stop) for i in range(*match.span())}
    kept = [i for i in range(start, stop) if whole[i] != " " or i not in spaced]
    behind = places[stop] if stop < len(places) else len(text)
    source = _Source(text, "".join(whole[i] for i in kept), (*(places[i] for i in kept), behind))
    return source, state[1] if state else None


def _in_ascii(text: str) -> tuple[list[str], list[int]]:
    """The characters in their plain form, and where each stands in the text."""
    characters: list[str] = []
    places: list[int] = []
    for place, written in enumerate(text):
        raised = written in _SUPERSCRIPTS
        if raised and text[place - 1 : place] not in _SUPERSCRIPTS:
            characters.append("^")
            places.append(place)
        characters.append(_SUPERSCRIPTS[written] if raised else _ONE_FOR_ONE.get(written, written))
        places.append(place)
    return characters, places


def _electron(source: _Source, state: str | None) -> Formula:
    """The electron, "e-" or "e^-"."""
    if source.plain not in {"e-", "e^-"}:
        raise source.error(0, _("the electron is written e-; the symbol of an element starts with a capital"))
    return Formula("e-", (), -1, state, 0)


def _read_units(source: _Source, start: int) -> tuple[list[_Unit], int]:
    """The symbols and brackets from a position on, and where they end. Brackets nest on a stack."""
    levels: list[list[_Unit]] = [[]]
    opened: list[int] = []
    at = start
    while True:
        character = source.at(at)
        if character in _CLOSING:
            opened.append(at)
            levels.append([])
            at += 1
        elif character in {")", "]"}:
            _check_closing(source, at, opened, empty=not levels[-1])
            opened.pop()
            at = _close(source, at, levels)
        elif character.isalpha():
            at = _read_atom(source, at, levels[-1])
        else:
            break
    if opened:
        raise source.error(opened[-1], _("{text} is not closed").format(text=repr(source.at(opened[-1]))))
    if not levels[0]:
        raise source.error(at, _no_start(source, at))
    return levels[0], at


def _check_closing(source: _Source, at: int, opened: list[int], *, empty: bool) -> None:
    """Refuse a closing bracket that closes nothing, the wrong bracket, or an empty one."""
    if not opened:
        raise source.error(at, _("{text} closes nothing").format(text=repr(source.at(at))))
    expected = _CLOSING[source.at(opened[-1])]
    if source.at(at) != expected:
        told = _("{found} stands where {expected} is expected")
        raise source.error(at, told.format(found=repr(source.at(at)), expected=repr(expected)))
    if empty:
        raise source.error(at, _("the brackets are empty"))


def _close(source: _Source, at: int, levels: list[list[_Unit]]) -> int:
    """Fold the innermost bracket, with its count, into the level above it."""
    inner = _sum(levels.pop())
    figures, count = _read_count(source, at + 1)
    counts = tuple((symbol, number * count) for symbol, number in inner)
    levels[-1].append(_Unit(counts, source.at(at), figures, at + 1))
    return at + 1 + len(figures)


def _read_atom(source: _Source, at: int, level: list[_Unit]) -> int:
    """Read a symbol with its count onto a level: two letters where these are an element's."""
    symbol = next((s for s in (source.plain[at : at + 2], source.at(at)) if s in ELEMENTS), "")
    behind = at + len(symbol)
    if not symbol or source.at(behind).islower():
        raise source.error(at, _no_symbol(source.plain[at:]))
    figures, count = _read_count(source, behind)
    level.append(_Unit(((symbol, count),), "", figures, behind))
    return behind + len(figures)


def _read_count(source: _Source, at: int) -> tuple[str, int]:
    """The figures of a count, and the count: 1 without figures."""
    match = _COUNT.match(source.plain, at)
    figures = match[0] if match else ""
    if not figures:
        return "", 1
    if figures.startswith("0") or figures == "1":
        raise source.error(at, _("a count is 2 or more, without a zero in front; a count of 1 is left out"))
    if len(figures) > len(str(_GREATEST_COUNT)):
        raise source.error(at, _("a count is at most {n}").format(n=_GREATEST_COUNT))
    return figures, int(figures)


def _read_addition(source: _Source, at: int) -> tuple[int, list[_Unit], int, int]:
    """The part behind a dot: its multiple, its units, and where they start and end."""
    figures, multiple = _read_count(source, at)
    start = at + len(figures)
    units, end = _read_units(source, start)
    return multiple, units, start, end


def _read_charge(source: _Source, units: list[_Unit], at: int) -> int:
    """The charge that ends the formula, its sign included."""
    match = _CHARGE.match(source.plain, at)
    if match is None:
        raise source.error(at, _("a charge is written with the figure first and the sign behind it: ^2- or ^+"))
    if match.end() < len(source.plain):
        raise source.error(match.end(), _("nothing but a state such as (aq) may stand behind the charge"))
    caret, figures, sign = match.groups()
    if not caret and _ambiguous(units):
        raise source.error(units[-1].figures_at, _two_readings(source.plain[:at], units[-1], sign))
    size = _read_count(source, at + len(caret))[1] if figures else 1
    return size if sign == "+" else -size


def _ambiguous(units: list[_Unit]) -> bool:
    """Whether the figures in front of a sign without a caret may belong to the charge."""
    last = units[-1]
    return bool(last.figures) and (len(units) == 1 or len(last.figures) > 1 or last.bracket == "]")


def _two_readings(body: str, last: _Unit, sign: str) -> str:
    """Both ways to write a charge that can be misread."""
    stem, figures = body[: len(body) - len(last.figures)], last.figures
    if figures.endswith("0") or figures == "11":
        return _("the charge can be misread; write {formula}").format(formula=f"{body}^{sign}")
    charge = "" if figures[-1] == "1" else figures[-1]
    inner = "" if figures[:-1] in {"", "1"} else figures[:-1]
    told = _("the charge can be misread; write {first} or {second}")
    return told.format(first=f"{stem}{inner}^{charge}{sign}", second=f"{body}^{sign}")


def _charge_text(charge: int, units: list[_Unit]) -> str:
    """The charge in canonical spelling: a bare sign for one charge that cannot be misread."""
    sign = "+" if charge > 0 else "-"
    if abs(charge) > 1:
        return f"^{abs(charge)}{sign}"
    return f"^{sign}" if _ambiguous(units) else sign


def _sum(units: Iterable[_Unit]) -> Counts:
    """The atoms of units together."""
    return _merge(pair for unit in units for pair in unit.counts)


def _merge(pairs: Iterable[tuple[str, int]]) -> Counts:
    """Counts of the same element added up, in order of first appearance."""
    total: dict[str, int] = {}
    for symbol, count in pairs:
        total[symbol] = total.get(symbol, 0) + count
    return tuple(total.items())


def _no_symbol(rest: str) -> str:
    """Why no element's symbol starts here."""
    word = re.sub(r"^(.[a-z]?).*", r"\1", rest, flags=re.DOTALL)
    if word[0].islower():
        told = _("the symbol of an element starts with a capital, and {letter} is a small letter")
        return told.format(letter=repr(word[0]))
    return _("no element has the symbol {text}").format(text=repr(word))


def _no_start(source: _Source, at: int) -> str:
    """Why no formula, or no part behind a dot, starts here."""
    character = source.at(at)
    if character.isdigit() and at == 0:
        return _("a formula does not start with a number; a coefficient belongs to an equation")
    if character == "." and at > 0:
        return _("a whole multiple stands behind the dot; write the whole formula in whole numbers")
    if not character:
        return _("the formula ends too early")
    return _("an element's symbol is expected, not {text}").format(text=repr(character))


def _unexpected(source: _Source, at: int, *, hydrate: bool) -> str:
    """Why the formula cannot go on here."""
    character = source.at(at)
    if hydrate and character in "^+-":
        return _("a formula with a dot carries no charge")
    if character == " ":
        return _("a space does not belong in a formula")
    return _("{text} does not belong here").format(text=repr(character))


_PIECE = re.compile(r"\^(?P<charge>[0-9]*[+-])|(?P<sign>[+-])|(?<=[A-Za-z)\]])(?P<sub>[0-9]+)|.")


@lru_cache(maxsize=4096)  # the formulas of all banks, some times over
def formula_pieces(text: str) -> tuple[tuple[str, str], ...]:
    """A formula for printing, in pieces ("text" | "sub" | "sup", characters).

    The hydrate dot is "·" (U+00B7) and the minus sign "−" (U+2212); the state is text. Raises
    FormulaError.

    >>> formula_pieces("SO4^2-")
    (('text', 'SO'), ('sub', '4'), ('sup', '2−'))
    """
    formula = read_formula(text)
    pieces: list[tuple[str, str]] = []
    for match in _PIECE.finditer(formula.text):
        raised = match["charge"] or match["sign"]
        if raised:
            pieces.append(("sup", raised.replace("-", "−")))
        elif match["sub"]:
            pieces.append(("sub", match["sub"]))
        else:
            _add_text(pieces, "·" if match[0] == "." else match[0])
    if formula.state:
        _add_text(pieces, f"({formula.state})")
    return tuple(pieces)


def _add_text(pieces: list[tuple[str, str]], text: str) -> None:
    """Put text behind the pieces, joined to the last one where that is text too."""
    if pieces and pieces[-1][0] == "text":
        text = pieces.pop()[1] + text
    pieces.append(("text", text))
