"""Hints for a part in three steps, out of its worked solution: which relation, which numbers, the set-up with units.

None of them tells a result, its own or another part's: where a line of working ends, a question mark stands, and what
was found before stands as its letter, or as the part that asked for it. Nor do they name the reagent that limits.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import TypeGuard

from problemgen.chemistry.units import Dimension, read_unit
from problemgen.errors import NumberError
from problemgen.exact.digits import read_written
from problemgen.exact.rounding import exponent
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Amount, Block, Bullets, Calculation, Line, Paragraph, Prose, Ratio, UnitPiece
from problemgen.model.lines import filled
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import label_of
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of
from problemgen.plan.laws.formulas import COMPOUND
from problemgen.practice.spoken import UNKNOWN
from problemgen.render.words.prompts import quantity_text
from problemgen.render.words.symbols import symbol
from problemgen.render.worked.comparison import limit_decides
from problemgen.render.worked.solution import WorkedPart, WorkedStep

__all__ = ["hints_of"]


def hints_of(variant: Variant, worked: Sequence[WorkedPart]) -> tuple[tuple[tuple[Block, ...], ...], ...]:
    """For each part three hints, as blocks."""
    template, found = variant.template, _Found(variant)
    hints: list[tuple[tuple[Block, ...], ...]] = []
    for index, (part, solved) in enumerate(zip(template.parts, worked, strict=True)):
        own = form_of(part.asked).hints
        steps = [_Step(found, step) for step in solved.steps]
        hints.append(
            (
                _said(own.relation) or _all(step.relation() for step in steps) or _said(own.without_working),
                _said(own.numbers) or _numbers(variant, part.asked, index),
                _said(own.setup) or _all(step.setup() for step in steps) or _said(own.without_working),
            )
        )
        found.label(part.asked.quantity.id, label_of(index))
    return tuple(hints)


def _said(words: str) -> tuple[Block, ...]:
    return (Paragraph((Prose(_(words)),)),) if words else ()


def _all(told: Iterable[tuple[Block, ...]]) -> tuple[Block, ...]:
    """The blocks of all steps, each once."""
    return tuple(dict.fromkeys(block for blocks in told for block in blocks))


class _Found:
    """What the working has led to so far: each result with what stands for it in a hint, since no hint tells it."""

    def __init__(self, variant: Variant) -> None:
        self.plan, self.scene = variant.template.plan, variant.template.scene
        self.given = {datum.written.text for datum in variant.given.values()}
        self._results: dict[str, _Result] = {}

    def add(self, quantity: str, line: Calculation) -> None:
        """Take in the result of a step."""
        size = _digits(line.result.number)
        if size is not None and (line.terms or line.relation):  # a molar mass that is looked up is no result
            self._results[quantity] = _Result(*size, _dimension(line.result), line.symbol.of, line.symbol.letter)

    def label(self, quantity: str, label: str) -> None:
        """From now on the answer to a part is called by the part."""
        if quantity in self._results:
            self._results[quantity] = replace(self._results[quantity], told=f"({label})")

    def hidden(self, amount: Amount) -> Amount:
        """An amount as a hint may show it: with a letter, or a part's, in the place of a result."""
        size = None if amount.number in self.given | _FACTORS else _digits(amount.number)
        if size is None or size[1] < _TELLING:
            return amount
        dimension = _dimension(amount)
        near = [one for one in reversed(self._results.values()) if one.dimension == dimension and one.is_near(*size)]
        if not near:
            return amount
        best = min(near, key=lambda one: (one.of != amount.of, abs(one.digits - size[0])))
        return replace(amount, number=best.told)


@dataclass(frozen=True)
class _Result:
    """A result: its digits as a number from 1 up to 10, how many, its dimension, whose it is, what stands for it."""

    digits: Fraction
    figures: int
    dimension: Dimension
    of: str
    told: str

    def is_near(self, digits: Fraction, figures: int) -> bool:
        """Whether other digits are these, with a figure more or less."""
        last = Fraction(10) ** (1 - min(figures, self.figures))
        return abs(digits - self.digits) <= last


def _dimension(amount: Amount) -> Dimension:
    """What an amount is of: a molar mass that has the digits of a mass is none."""
    return _dimension_of(amount.unit)


@lru_cache(maxsize=1024)  # few units in many amounts
def _dimension_of(unit: tuple[UnitPiece, ...]) -> Dimension:
    powers: Counter[str] = Counter()
    for piece in unit:
        for base, exponent_of_base in read_unit(piece.text).dimension:
            powers[base] += exponent_of_base * piece.exponent
    return tuple(sorted((base, power) for base, power in powers.items() if power))


def _is_conversion(ratio: Ratio) -> bool:
    """Whether a ratio is 1 in two units: 1 L over 1000 mL."""
    sides = (*ratio.top, *ratio.bottom)
    return len(sides) == 2 and bool(ratio.bottom) and _dimension(sides[0]) == _dimension(sides[1]) and _one_in(sides)


def _one_in(sides: Sequence[Amount]) -> bool:
    return any(side.number == "1" for side in sides) and len({side.of for side in sides}) == 1


_FACTORS = frozenset({"100", "1000"})
"""Of a percentage, and of a prefix."""
_TELLING = 3
"""Figures by which a number can be told: a coefficient, or 100 %, is no result."""


@lru_cache(maxsize=4096)  # a number stands in several lines of a working
def _digits(number: str) -> tuple[Fraction, int] | None:
    """A number from 1 up to 10 that has the same digits, and how many; the power of ten goes with the unit."""
    try:
        written = read_written(number)
    except NumberError:
        return None
    value = abs(written.value)
    return (value / Fraction(10) ** exponent(value), written.figures) if value else None


class _Step:
    """One step of the working, told without what it comes to."""

    def __init__(self, found: _Found, step: WorkedStep) -> None:
        self.found, self.step = found, step
        self.lines = [block for block in step.blocks if isinstance(block, Calculation)]

    @property
    def follows_the_limit(self) -> bool:
        """Whether the working names the reagent that limits: which one it is, is for the student to say."""
        found = self.found
        words = {limit_decides(found.scene.species[source].name) for source in found.plan.sources}
        return any(not words.isdisjoint(_prose(block)) for block in self.step.blocks)

    @property
    def law(self) -> str:
        """The law of the step."""
        return next((step.law for step in self.found.plan.steps if step.quantity.id == self.step.quantity), "")

    @property
    def is_left_over(self) -> bool:
        """Whether what is left depends on which reagent limits: the working of one tells it by a zero."""
        return self.law in _LEFT_OVER and len(self.found.plan.sources) > 1

    def _hidden(self, term: Ratio) -> Ratio:
        if _is_conversion(term):
            return term
        return Ratio(tuple(map(self.found.hidden, term.top)), tuple(map(self.found.hidden, term.bottom)))

    def relation(self) -> tuple[Block, ...]:
        """The law in words and in symbols: what stands in front of each line, and the line without numbers."""
        if self.follows_the_limit:
            return _said(_LIMIT_DECIDES)
        if self.is_left_over:
            return _said(_WHAT_IS_LEFT)
        told: list[Block] = []
        before: Block | None = None
        for block in self.step.blocks:
            if isinstance(block, Calculation):
                if before not in told and _is_law(before):
                    told.append(before)
                if block.relation:
                    told.append(replace(block, terms=(), operators=(), result=Amount(UNKNOWN), alt=""))
            before = block
        return tuple(told)

    def setup(self) -> tuple[Block, ...]:
        """The lines with numbers and units: what was found before stands as a letter, the result is left open."""
        told: list[Block] = []
        for line in self.lines:
            terms = tuple(self._hidden(term) for term in line.terms)
            if terms and not _is_copy(line):
                told.append(replace(line, terms=terms, result=replace(line.result, number=UNKNOWN), alt=""))
            self.found.add(self.step.quantity, line)
        if self.law == _FORMULA_MASS:  # its line holds the subscripts: those of the formula asked for
            return _said(_SUBSCRIPTS_MOLECULAR if self.step.quantity == _MOLECULAR else _SUBSCRIPTS)
        if self.follows_the_limit:
            return _said(_LIMIT_SETS)
        return _said(_LEFT_SETS) if self.is_left_over else tuple(told)


_FORMULA_MASS = "formula-mass"
_MOLECULAR = Quantity("molar_mass", COMPOUND, Role.MOLECULAR).id
_SUBSCRIPTS = N_(
    "Divide the amount of each element by the least of them. Where a quotient is no whole number, multiply all of them "
    "by 2, then by 3, until all are: these are the subscripts."
)
_SUBSCRIPTS_MOLECULAR = N_(
    "Divide the molar mass of the compound by that of its empirical formula. The whole number next to the quotient "
    "multiplies all subscripts."
)
_LIMIT_DECIDES = N_(
    "The reagent that limits decides how far the reaction goes: what could form from it is what can form at all."
)
_LIMIT_SETS = N_(
    "Amount of product = amount of the reagent that limits × coefficient of the product / coefficient of that reagent."
)


_LEFT_OVER = frozenset({"left-over", "excess-left-over", "used-up"})
_WHAT_IS_LEFT = N_("What was taken, less what is used up by the reagent that limits, is left over.")
_LEFT_SETS = N_(
    "Amount used up = amount of the reagent that limits × coefficient of this reagent / coefficient of the reagent "
    "that limits. Amount left = amount taken − amount used up."
)
_DECIMALS = re.compile(r"[0-9][.,][0-9]")
"""In a sentence of the working, a number that was worked out: laws are told without any."""


def _is_law(block: Block | None) -> TypeGuard[Paragraph]:
    return isinstance(block, Paragraph) and not _DECIMALS.search(" ".join(_prose(block)))


def _prose(block: Block | None) -> list[str]:
    return [piece.text for piece in block.line if isinstance(piece, Prose)] if isinstance(block, Paragraph) else []


def _is_copy(line: Calculation) -> bool:
    """Whether a line only takes a number over, so that its set-up would be its result."""
    sizes = [_digits(amount.number) for term in line.terms for amount in (*term.top, *term.bottom)]
    return len(sizes) == 1 and sizes[0] is not None and sizes == [_digits(line.result.number)]


def _numbers(variant: Variant, asked: Asked, index: int) -> tuple[Block, ...]:
    """The values that the part needs: of the data with their numbers, of earlier parts without."""
    template = variant.template
    plan, scene = template.plan, template.scene
    earlier = {part.asked.quantity.id: label_of(i) for i, part in reversed([*enumerate(template.parts[:index])])}
    chosen = next((part.asked.quantity.id for part in template.parts if part.asked.form == "species"), "")
    needed = _needed(plan, asked, earlier.keys() - {chosen})
    items: list[Line] = []
    for quantity in _quantities(scene, plan):
        if quantity.id not in needed:
            continue
        if quantity.id in earlier and quantity.id == chosen:
            known = _("the reagent that limits, your answer to ({part})")
            items.append((Prose(known.format(part=earlier[quantity.id])),))
        elif quantity.id in earlier:
            # Translators: in a list of what is needed: "n(NaCl), your answer to (a)"
            known = _("{symbol}, your answer to ({part})")
            items.append(filled(known, symbol=(symbol(scene, quantity),), part=earlier[quantity.id]))
        elif quantity.id in variant.given:
            value = quantity_text(variant.given[quantity.id])
            # Translators: in a list of what is needed: "m(NaCl) = 2.50 g, from the data"
            known = _("{symbol} = {value}, from the data")
            items.append(filled(known, symbol=(symbol(scene, quantity),), value=value))
    if any(name.startswith("atomic_weight(") for name in needed):
        items.append((Prose(_("the atomic weights, from the periodic table")),))
    if any(name.startswith("coefficient") for name in needed) or _compares(plan, needed):
        items.append((Prose(_("the coefficients of the equation")),))
    return (Bullets(tuple(items)),) if items else (Paragraph((Prose(_("Everything is in the data.")),)),)


def _compares(plan: Plan, needed: frozenset[str]) -> bool:
    return len(plan.sources) > 1 and any(name.startswith("extent(") for name in needed)


def _needed(plan: Plan, asked: Asked, earlier: AbstractSet[str]) -> frozenset[str]:
    """What is looked up on the way to a quantity; the way ends where an earlier part asked for a number."""
    found: set[str] = set()
    wanted = [asked.quantity.id]
    while wanted:
        name = wanted.pop()
        step = next((s for s in plan.steps if s.quantity.id == name), None)
        stops = name in earlier and name != asked.quantity.id
        for needed in step.needs if step is not None and not stops else ():
            if needed not in found:
                found.add(needed)
                wanted.append(needed)
    return frozenset(found)


def _quantities(scene: Scene, plan: Plan) -> Iterator[Quantity]:
    """All quantities that have a symbol: those given, then those worked out, in order."""
    yield from sorted(scene.given, key=lambda quantity: quantity.id)
    yield from (step.quantity for step in plan.steps)
