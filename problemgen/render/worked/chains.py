"""Chains of factors whose units cancel: which pieces go, and the conversion fractions that are needed for it.

A chain is a product of links, each a fraction of terms. Every piece of a unit is either kept (it stands in the
result), or cancels with a piece of the same unit on the other side of the bar: of the same substance where both
say what they are of. Where only the dimension agrees, a conversion is added as a fraction of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text, outward_text
from problemgen.model.blocks import Amount, Ratio, UnitPiece

__all__ = ["Link", "Piece", "Term", "as_written", "cancelled", "exact_text", "pieces_of"]

_EXACT = 15
"""Figures within which an exact decimal is written out: what a calculator takes in (factors of units have fewer)."""
_ROUNDED = 7
"""Figures of a conversion that is no finite decimal: three more than the data of a course have."""
_MOLAR = {"M": "mol", "mM": "mmol", "µM": "µmol"}
"""Units of concentration with a name of their own, opened so that moles and litres can cancel."""
_LABELLED = frozenset({"mass", "amount"})
_MAX_CONVERSIONS = 12  # a line of working has fewer units to convert: beyond it they do not agree

Place: TypeAlias = tuple[int, int, int, int]


@dataclass(frozen=True)
class Piece:
    """One factor of a unit, and what it is of ("" where it does not matter)."""

    unit: str
    power: int
    of: str = ""


@dataclass(frozen=True)
class Term:
    """A number with its unit; `of` is printed behind it."""

    number: str
    pieces: tuple[Piece, ...] = ()
    of: str = ""


@dataclass(frozen=True)
class Link:
    """One factor of a chain: terms over terms."""

    top: tuple[Term, ...]
    bottom: tuple[Term, ...] = ()


@dataclass(frozen=True)
class _Slot:
    """A piece in its place in a chain; `power` counts the side of the bar in."""

    at: Place  # link, side, term, piece
    unit: str
    power: int
    of: str


def pieces_of(unit: str, of: str = "") -> tuple[Piece, ...]:
    """A unit's pieces; masses and amounts among them carry what they are of."""
    pieces: list[Piece] = []
    for text, power in read_unit(unit).factors:
        if text in _MOLAR:
            pieces += [Piece(_MOLAR[text], power, of), Piece("L", -power)]
        else:
            pieces.append(Piece(text, power, of if _dimension(text) in _LABELLED else ""))
    return tuple(pieces)


@lru_cache(maxsize=1024)  # chains have few units, and ask for the dimension of each with each
def _dimension(unit: str) -> str:
    """A name of a simple unit's dimension: "mass", "length3", "" for a plain ratio."""
    found = read_unit(unit).dimension
    return " ".join(name if power == 1 else f"{name}{power}" for name, power in found)


@lru_cache(maxsize=4096)  # factors of units and coefficients: the same ones in every chain
def exact_text(value: Fraction) -> str | None:
    """A number written out in full; None where it has no end or too many figures."""
    text = outward_text(value, _EXACT, up=False)
    return text if Fraction(text) == value else None


def cancelled(links: tuple[Link, ...], wanted: tuple[Piece, ...]) -> tuple[Ratio, ...]:
    """The chain for print: conversions added, cancelled units marked; what is left is `wanted`.

    Raises ValueError where the dimensions do not agree: a law that does not hold.
    """
    for _ in range(_MAX_CONVERSIONS):
        settled = _settle(links, wanted)
        if isinstance(settled, Link):
            links = _before_percent(links, settled)
            continue
        return tuple(_printed(link, index, settled) for index, link in enumerate(links))
    raise ValueError("a chain whose units do not cancel")


def as_written(links: tuple[Link, ...]) -> tuple[Ratio, ...]:
    """The chain for print as it stands: nothing converted, nothing cancelled, whether its units agree or not."""
    return tuple(_printed(link, index, frozenset()) for index, link in enumerate(links))


def _before_percent(links: tuple[Link, ...], conversion: Link) -> tuple[Link, ...]:
    """A conversion added at the end, but before a closing factor of 100 %."""
    pieces = links[-1].top[0].pieces if len(links) > 1 else ()
    if pieces and not any(_dimension(piece.unit) for piece in pieces):
        return (*links[:-1], conversion, links[-1])
    return (*links, conversion)


def _settle(links: tuple[Link, ...], wanted: tuple[Piece, ...]) -> Link | frozenset[Place]:
    """The places that cancel; or the conversion that has to be added first."""
    open_slots = list(_slots(links))
    kept = []
    for piece in wanted:
        kept.append((_kept(open_slots, piece), piece.unit))
        open_slots.remove(kept[-1][0])
    gone: set[Place] = set()
    while open_slots:
        pair = _pair(open_slots)
        if pair[0].unit != pair[1].unit:
            return _conversion(*_towards(pair))
        for slot in pair:
            open_slots.remove(slot)
            gone.add(slot.at)
    to_convert = (one for one in kept if one[0].unit != one[1])
    conversion = next(to_convert, None)
    return _conversion(*conversion) if conversion else frozenset(gone)


def _slots(links: tuple[Link, ...]) -> Iterator[_Slot]:
    for i, link in enumerate(links):
        for side, terms in enumerate((link.top, link.bottom)):
            for j, term in enumerate(terms):
                for k, piece in enumerate(term.pieces):
                    yield _Slot((i, side, j, k), piece.unit, -piece.power if side else piece.power, piece.of)


def _kept(slots: list[_Slot], piece: Piece) -> _Slot:
    """The slot that stays for a piece of the result: of the same substance first, then in the same unit."""
    fitting = [s for s in slots if s.power == piece.power and _dimension(s.unit) == _dimension(piece.unit)]
    if not fitting:
        raise ValueError(f"no factor of the chain brings the unit {piece.unit}")
    return max(fitting, key=lambda s: (_affinity(s.of, piece.of), s.unit == piece.unit, s.at))


def _affinity(one: str, other: str) -> int:
    """2 for the same substance, 1 where one of the two does not say, 0 for different ones."""
    if one == other:
        return 2
    return 0 if one and other else 1


def _pair(slots: list[_Slot]) -> tuple[_Slot, _Slot]:
    """The two slots that cancel best: like with like, then the same dimension."""
    best: tuple[tuple[int, bool], _Slot, _Slot] | None = None
    for i, one in enumerate(slots):
        for other in slots[i + 1 :]:
            if one.power + other.power or _dimension(one.unit) != _dimension(other.unit):
                continue
            rank = (_affinity(one.of, other.of), one.unit == other.unit)
            if best is None or rank > best[0]:
                best = (rank, one, other)
    if best is None:
        raise ValueError("units left over in a chain: " + ", ".join(slot.unit for slot in slots))
    return best[1], best[2]


def _towards(pair: tuple[_Slot, _Slot]) -> tuple[_Slot, str]:
    """Which of two slots is converted, and into which unit: the one above the bar follows the one below."""
    above, below = pair if pair[0].power > 0 else pair[::-1]
    return above, below.unit


def _conversion(slot: _Slot, unit: str) -> Link:
    """The fraction that turns a slot's unit into another: 1 L / 1000 mL."""
    new, old = _equal_numbers(read_unit(slot.unit).factor / read_unit(unit).factor)
    top = Term(new, (Piece(unit, 1, slot.of),))
    bottom = Term(old, (Piece(slot.unit, 1, slot.of),))
    return Link((top,), (bottom,)) if slot.power > 0 else Link((bottom,), (top,))


def _equal_numbers(ratio: Fraction) -> tuple[str, str]:
    """Two numbers in a ratio, as a table of units would give them: 1000 to 1, 1 to 760, 101.325 to 760."""
    if ratio < 1 and (1 / ratio).denominator == 1:
        return "1", exact_text(1 / ratio) or str(1 / ratio)
    # The torr is an atmosphere over 760: no finite decimal, but a finite one over 760.
    for one in (1, 760):
        above, below = exact_text(ratio * one), exact_text(one / ratio)
        if above is not None:
            return above, str(one)
        if below is not None:
            return str(one), below
    return figures_text(ratio, _ROUNDED), "1"


def _printed(link: Link, index: int, gone: frozenset[Place]) -> Ratio:
    top, bottom = (
        tuple(_amount(term, (index, side, j), gone) for j, term in enumerate(terms))
        for side, terms in enumerate((link.top, link.bottom))
    )
    return Ratio(top, bottom)


def _amount(term: Term, at: tuple[int, int, int], gone: frozenset[Place]) -> Amount:
    units = tuple(UnitPiece(p.unit, p.power, (*at, k) in gone) for k, p in enumerate(term.pieces))
    return Amount(term.number, units, term.of)
