"""One line of working: factors with their units, the law in symbols, the result, and the line read aloud."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from problemgen.chemistry.units import read_unit
from problemgen.language.messages import _
from problemgen.model.blocks import Amount, Calculation, Line, Prose, Ratio
from problemgen.model.expression import Expression, names_in
from problemgen.model.quantity import KINDS, LAST_FACTOR, Quantity
from problemgen.plan.arithmetic import EXACT_FIGURES
from problemgen.render.words.symbols import coefficient_symbol, owner, spoken_chain, symbol, unit_pieces_of
from problemgen.render.worked.chains import Link, Term, as_written, cancelled, exact_text, pieces_of
from problemgen.render.worked.printed import Printed
from problemgen.render.worked.products import Factor, Product, products
from problemgen.render.worked.routes import Ratioed

__all__ = ["Group", "Lines"]

_FRACTIONS = tuple(kind.name for kind in KINDS.values() if kind.unit in ("%", "ppm"))


@dataclass(frozen=True)
class Group:
    """One term of a sum: a chain of links, taken away where `negative`."""

    links: tuple[Link, ...]
    negative: bool = False


@dataclass(frozen=True)
class Lines:
    """Writes the lines of one variant."""

    printed: Printed

    @cached_property
    def names(self) -> Mapping[str, str]:
        """Formulas by name, for reading aloud."""
        return {owner(self.printed.scene, s.id)[0]: s.name for s in self.printed.scene.species.values()}

    def whole_label(self, quantity: Quantity) -> tuple[str, str]:
        """What a mass or an amount is of: a key to tell substances apart by, and the text for print."""
        whole = _(quantity.role.words.whole)
        if quantity.kind in ("mass", "density") and whole:
            return f"{whole} {quantity.of}", whole
        if not quantity.of or quantity.kind == "extent":
            return "", ""
        return quantity.of, owner(self.printed.scene, quantity.of)[0]

    def amount(self, quantity: Quantity) -> Amount:
        """A quantity's number and unit, as printed where it is used."""
        return Amount(self.printed.text(quantity), unit_pieces_of(self.printed.unit(quantity)))

    def term(self, quantity: Quantity, entity: str = "", *, plain: bool = False) -> Term:
        """A quantity as a factor; temperatures in kelvin, particles under the name that the line uses.

        `plain` leaves out what the amount is of: the symbol in front says it.
        """
        text, unit = self.printed.text(quantity), self.printed.unit(quantity)
        key, of = self.whole_label(quantity)
        if quantity.kind == "temperature":
            return _in_kelvin(text, unit)
        if quantity.kind == "avogadro" and entity:
            unit = f"{entity}/mol"
        pieces = pieces_of(unit, key)
        labelled = not plain and len(pieces) == 1 and bool(pieces[0].of)
        return Term(text, pieces, of if labelled else "")

    def ratio_groups(self, shape: Ratioed, target: Quantity) -> tuple[Group, ...]:
        """The source times the ratio of coefficients: n(A) × 1 mol P / 2 mol A."""
        source = self.term(shape.source)
        unit = next(piece.unit for piece in source.pieces if piece.power > 0)
        top, bottom = (
            Term(str(number), pieces_of(unit, self.whole_label(q)[0]), self.whole_label(q)[1])
            for number, q in ((shape.top, target), (shape.bottom, shape.source))
        )
        return (Group((Link((source,)), Link((top,), (bottom,)))),)

    def ratio_relation(self, shape: Ratioed, target: Quantity, *, coefficients: bool) -> Line:
        """The same in symbols: n(A) × ν(P)/ν(A), or with the numbers of a formula."""
        scene = self.printed.scene
        source = symbol(scene, shape.source)
        if coefficients:
            above, below = (coefficient_symbol(scene, q.of) for q in (target, shape.source))
            return (source, Prose(" × "), above, Prose("/"), below)
        numbers = [str(n) for n in (shape.top,) if n != 1]
        above_line: Line = (*(Prose(f"{n} × ") for n in numbers), source)
        return above_line if shape.bottom == 1 else (*above_line, Prose("/"), Prose(str(shape.bottom)))

    def groups(self, expression: Expression, target: Quantity, *, sample: bool = False) -> tuple[Group, ...]:
        """The chains of an expression, a group a term of its sum."""
        terms = products(expression)
        return tuple(Group(self._links(term, target, sample=sample), term.negative) for term in terms)

    def _links(self, term: Product, target: Quantity, *, sample: bool) -> tuple[Link, ...]:
        entity = self._entity(term, target)
        if len(term.top) == 1 and not term.bottom and not isinstance(term.top[0], Fraction):
            return (_unlabelled(Link((self._factor(term.top[0], target, entity),))),)
        top, bottom = (
            tuple(self._factor(f, target, entity) for f in self._ordered(factors) if not self._is_fraction(f))
            for factors in (term.top, term.bottom)
        )
        percents = self._percents(term, (*top, *bottom), target, "sample" if sample else "solution")
        links = (*_plain_links(top, bottom), *percents)
        if not any(link.top[0].of for link in percents):
            links = tuple(_unlabelled(link) for link in links)
        return (*links, *_as_percent(self.printed.unit(target)))

    def _percents(self, term: Product, others: tuple[Term, ...], target: Quantity, whole: str) -> tuple[Link, ...]:
        """The percentages of a product as fractions; `others` are its other factors, `whole` is what 100 % are of.

        A percentage below the line stands upside down.
        """
        unit = _mass_unit(others)
        wholes = {piece.of for one in others for piece in one.pieces} | {self.whole_label(target)[0]}

        def links(factors: tuple[Factor, ...]) -> Iterator[Link]:
            for factor in factors:
                if isinstance(factor, str) and self._is_fraction(factor):
                    quantity = self.printed.quantities[factor]
                    key = f"{whole} {quantity.of}"
                    yield self._percent(quantity, unit, key if key in wholes else "")

        return (*links(term.top), *(Link(link.bottom, link.top) for link in links(term.bottom)))

    def _entity(self, term: Product, target: Quantity) -> str:
        """The name of the particles that a line counts."""
        named = [self.printed.quantities[f] for f in term.top if isinstance(f, str)]
        counts = [q for q in (target, *named) if q.kind == "count"]
        return self.printed.unit(counts[0]) if counts else ""

    def _is_fraction(self, factor: Factor) -> bool:
        return isinstance(factor, str) and self.printed.quantities[factor].kind in _FRACTIONS

    def _ordered(self, factors: Iterable[Factor]) -> list[Factor]:
        def rank(factor: Factor) -> int:
            if isinstance(factor, Fraction):
                return -1
            return KINDS[self.printed.quantities[factor].kind].factor if isinstance(factor, str) else LAST_FACTOR

        return sorted(factors, key=rank)

    def _factor(self, factor: Factor, target: Quantity, entity: str) -> Term:
        if isinstance(factor, Fraction):
            return Term(exact_text(factor) or str(factor))
        if isinstance(factor, str):
            return self.term(self.printed.quantities[factor], entity)
        return self.whole(factor[1], target)

    def whole(self, expression: Expression, target: Quantity) -> Term:
        """A part of an expression that is worked out as one number, in the unit of what it is made of."""
        # A term of a sum that is one quantity has the unit of the sum; so has the first name of anything else.
        alone = [term.top[0] for term in products(expression) if len(term.top) == 1 and not term.bottom]
        names = [*(factor for factor in alone if isinstance(factor, str)), *names_in(expression)]
        first = self.printed.quantities[names[0]] if names else target
        like = target if expression[0] == "floor" else first
        unit = read_unit(self.printed.unit(like))
        value = unit.from_engine(self.printed.value(expression))
        counted = like.kind == "count" or expression[0] == "floor"
        supported = EXACT_FIGURES if counted else self.printed.numbers.figures.get(like.id, EXACT_FIGURES)
        number = self.printed.rounded(value, self.printed.kept_figures(like), supported)
        return Term(number, pieces_of(unit.text))

    def _percent(self, quantity: Quantity, unit: str, whole: str) -> Link:
        """A percentage as a fraction: 37 g HCl over 100 g solution; 37 over 100 where no such whole is in the line."""
        number, written = self.printed.text(quantity), self.printed.unit(quantity)
        hundred = exact_text(1 / read_unit(written).factor) or "1"
        if quantity.kind != "mass_fraction" or not whole:
            return Link((Term(number),), (Term(hundred),))
        key, of = self.whole_label(quantity)
        return Link(
            (Term(number, pieces_of(unit, key), of),), (Term(hundred, pieces_of(unit, whole), whole.split()[0]),)
        )

    def relation(self, expression: Expression) -> Line:
        """An expression in symbols; () where it holds what has no plain notation."""
        terms = products(expression)
        line: Line = ()
        for term in terms:
            part = self._product_relation(term, alone=len(terms) == 1)
            if not part:
                return ()
            sign = "− " if term.negative else ""
            joint = (Prose(f" {sign or '+ '}"),) if line else ((Prose(sign),) if sign else ())
            line = (*line, *joint, *part)
        return line

    def _product_relation(self, term: Product, *, alone: bool) -> Line:
        if any(isinstance(f, tuple) and f[1][0] != "add" for f in (*term.top, *term.bottom)):
            return ()
        above, below = (self._side(factors) for factors in (term.top, term.bottom))
        if not below:
            return above
        return (*(above or (Prose("1"),)), Prose("/" if alone else " ÷ "), *below)

    def _side(self, factors: tuple[Factor, ...]) -> Line:
        line: Line = ()
        for factor in self._ordered(factors):
            line = (*line, Prose(" × "), *self._piece(factor)) if line else self._piece(factor)
        return line

    def _piece(self, factor: Factor) -> Line:
        """One factor in symbols; a sum in brackets."""
        if isinstance(factor, str):
            return (symbol(self.printed.scene, self.printed.quantities[factor]),)
        if isinstance(factor, tuple):
            return (Prose("("), *self.relation(factor[1]), Prose(")"))
        return (Prose(str(factor)),)

    def line(
        self,
        target: Quantity,
        relation: Line,
        groups: tuple[Group, ...],
        result: Amount,
        unit: str = "",
        *,
        mistaken: bool = False,
    ) -> Calculation:
        """The line; `unit` is the result's, the quantity's own unless it is given. Units of a mistaken one stay."""
        wanted = pieces_of(unit or self.printed.unit(target), self.whole_label(target)[0])
        terms: list[Ratio] = []
        operators: list[str] = []
        for group in groups:
            chain = as_written(group.links) if mistaken else cancelled(group.links, wanted)
            if group.negative and not terms:
                chain = (_negative(chain[0]), *chain[1:])
            operators += ["−" if group.negative else "+"] if terms else []
            operators += ["×"] * (len(chain) - 1)
            terms += chain
        if len(terms) == 1 and _repeats(terms[0], result):
            terms = []
        head = symbol(self.printed.scene, target)
        words = self.printed.scene.words_of(target)
        alt = spoken_chain(words, tuple(terms), tuple(operators), result, self.names)
        return Calculation(head, relation, tuple(terms), tuple(operators), result, alt)


def _in_kelvin(text: str, unit: str) -> Term:
    """A temperature as it enters a law: a reading in °C is added to 273.15 K."""
    kelvin = pieces_of("K")
    sign, size = ("−", text[1:]) if text.startswith("-") else ("+", text)
    if unit == "°C":
        return Term(f"(273.15 {sign} {size})", kelvin)
    if unit == "°F":
        return Term(f"(459.67 {sign} {size}) × 5/9", kelvin)
    return Term(text, pieces_of(unit))


def _mass_unit(terms: Iterable[Term]) -> str:
    """The unit of the mass that a percentage belongs to; grams where there is none."""
    units = (piece.unit for term in terms for piece in term.pieces)
    return next((unit for unit in units if read_unit(unit).dimension == (("mass", 1),)), "g")


def _plain_links(top: tuple[Term, ...], bottom: tuple[Term, ...]) -> list[Link]:
    if bottom:
        return [Link(top or (Term("1"),), bottom)]
    return [Link((term,)) for term in top]


def _unlabelled(link: Link) -> Link:
    """A link that does not say what its amounts are of: the symbols in front say it."""
    top, bottom = (tuple(replace(term, of="") for term in side) for side in (link.top, link.bottom))
    return Link(top, bottom)


def _as_percent(unit: str) -> tuple[Link, ...]:
    """The factor 100 % behind a ratio that is told in percent; none for other units."""
    read = read_unit(unit)
    if read.dimension or not read.factors:
        return ()
    return (Link((Term(exact_text(1 / read.factor) or "1", pieces_of(unit)),)),)


def _repeats(ratio: Ratio, result: Amount) -> bool:
    """Whether a chain only says what the result says, with no figure more."""
    if ratio.bottom or len(ratio.top) != 1:
        return False
    only = ratio.top[0]
    same_unit = [(p.text, p.exponent) for p in only.unit] == [(p.text, p.exponent) for p in result.unit]
    return same_unit and not only.number.startswith("(") and Fraction(only.number) == Fraction(result.number)


def _negative(ratio: Ratio) -> Ratio:
    first, *others = ratio.top
    return Ratio((replace(first, number=f"-{first.number}"), *others), ratio.bottom)
