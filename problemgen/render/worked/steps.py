"""One step of a plan told: a sentence of the law, then the line of working, or the comparison of reagents."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from dataclasses import dataclass

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Amount, Block, Calculation, Line, Paragraph, Prose
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Step
from problemgen.model.quantity import Quantity
from problemgen.plan.laws import LAWS_BY_ID
from problemgen.render.words.symbols import coefficient_symbol, symbol, unit_pieces_of
from problemgen.render.worked.amount_ratios import RATIO_WORDS, compared_by_ratios, ratio_blocks
from problemgen.render.worked.analyses import whole_number_blocks
from problemgen.render.worked.chains import Link, Term, pieces_of
from problemgen.render.worked.comparison import choice_blocks, comparison_blocks, limit_decides, limiting_name
from problemgen.render.worked.curves import deviations, fitted_plot, intercept_relation, slope_relation
from problemgen.render.worked.lines import Group, Lines
from problemgen.render.worked.printed import LEAST_SHOWN, Printed
from problemgen.render.worked.routes import Copy, Ratioed, Route, times_alone
from problemgen.render.worked.vessels import vessel_words

__all__ = ["Teller"]

_BY_FORMULA = frozenset({"content", "hydrate"})
"""Laws whose ratio is the formula's, not the equation's."""
_BY_EXTENT = frozenset({"equivalent-amounts", "used-up"})
"""Laws whose own words speak of the extent of reaction."""
_RATIO_WORDS = N_("Multiply by the mole ratio, the ratio of the coefficients.")


@dataclass(frozen=True)
class Teller:
    """Tells the steps of one variant; a final result is printed as the key prints it."""

    printed: Printed
    lines: Lines
    route: Route

    def tell(self, step: Step, final: Amount | None, shown: AbstractSet[str]) -> tuple[Block, ...]:
        """The blocks of a step; `final` replaces its result, `shown` are the ids that a reader has seen."""
        shown_first = self._shown_first(step)
        if shown_first:
            return (_words(_law_words(step)), *shown_first, self._in_symbols(step, final))
        if step.quantity.kind == "crystal_water":
            return self._near_whole(step, final)
        if step.quantity.kind in ("subscript", "multiple"):
            return whole_number_blocks(self.printed, step)
        if self.route.compared(step):
            by_ratios = compared_by_ratios(self.route, step, shown)
            words = _(RATIO_WORDS) if by_ratios else _law_words(step)
            return (_words(words), *self._compared(step, final, shown))
        used = self.route.used_up(step)
        if used is not None:
            return (_words(_law_words(step)), *self._left_over(step, used, final, shown))
        shape = self.route.shape(step, shown)
        if shape is not None:
            return (_words(self._shape_words(step, shape)), *self._shaped(step, shape, final))
        return (_words(_law_words(step)), *self._worked(step, final))

    def _shown_first(self, step: Step) -> tuple[Block, ...]:
        """What stands between the words of a law and its result, where no chain of factors tells the expression."""
        match step.law:
            case "vessel":
                return (vessel_words(self.printed, step),)
            case "least-squares-slope":
                return deviations(self.printed, step.quantity.of)
            case "least-squares-intercept":
                return (fitted_plot(self.printed, step.quantity.of),)
        return ()

    def _in_symbols(self, step: Step, final: Amount | None) -> Calculation:
        """The line behind that: the relation in symbols, and the result."""
        relations = {"least-squares-slope": slope_relation(), "least-squares-intercept": intercept_relation()}
        result = final or self.lines.amount(step.quantity)
        return self.lines.line(step.quantity, relations.get(step.law, ()), (), result)

    def _near_whole(self, step: Step, final: Amount | None) -> tuple[Block, ...]:
        """A ratio that is near a whole number: the ratio in words, then the line."""
        ratio = step.expression[1]
        number = number_text(figures_text(self.printed.value(ratio), LEAST_SHOWN))
        told = _words(_("The ratio is {ratio}.").format(ratio=number))
        groups, relation = self.lines.groups(ratio, step.quantity), self.lines.relation(ratio)
        line = self.lines.line(step.quantity, relation, groups, final or self.lines.amount(step.quantity))
        return (_words(_law_words(step)), told, line)

    def _compared(self, step: Step, final: Amount | None, shown: AbstractSet[str]) -> tuple[Block, ...]:
        """The comparison; the extent that is reached is worked out where extents are told, or one is asked."""
        if compared_by_ratios(self.route, step, shown):
            blocks = ratio_blocks(self.lines, self.route, step, shown)
        else:
            blocks = comparison_blocks(self.lines, self.route, step, shown)
        if self.route.method != "extent" and final is None:
            return blocks
        least = min(self.route.compared(step), key=lambda name: self.printed.numbers.values[name])
        line = self._least_extent(step, self.printed.steps.get(least), least, final)
        return (*blocks, line) if final else (*blocks[:-1], line, blocks[-1])

    def _least_extent(self, step: Step, least_step: Step | None, least: str, final: Amount | None) -> Calculation:
        source = self.route.sourced(least) if least_step is not None and self.route.hidden(least_step) else None
        if source is not None:
            return self._by_coefficient(step.quantity, source.amount, final)
        groups = self.lines.groups(least, step.quantity)
        result = final or self.lines.amount(step.quantity)
        return self.lines.line(step.quantity, self.lines.relation(least), groups, result)

    def _left_over(
        self, step: Step, used: Quantity, final: Amount | None, shown: AbstractSet[str]
    ) -> tuple[Block, ...]:
        """What was taken, less what is used up: the latter worked out first, unless that was done."""
        target = step.quantity
        taken = Quantity("amount", target.of)
        if used.id in self.printed.steps:
            before: tuple[Block, ...] = ()
            subtrahend = self.lines.amount(used)
        else:
            number = self._used_text(step, taken)
            subtrahend = Amount(number, unit_pieces_of(self.printed.unit(target)))
            before = self._used_lines(step, used, subtrahend, shown)
        unit = read_unit(self.printed.unit(used if used.id in self.printed.steps else target)).text
        groups = (
            *self.lines.groups(taken.id, target),
            Group((Link((Term(subtrahend.number, pieces_of(unit, target.of)),)),), negative=True),
        )
        scene = self.printed.scene
        relation: Line = (symbol(scene, taken), Prose(" − "), symbol(scene, used))
        result = final or self.lines.amount(target)
        return (*before, self.lines.line(target, relation, groups, result))

    def _used_text(self, step: Step, taken: Quantity) -> str:
        """The amount that is used up, as printed: what was taken less what is left."""
        used = self.printed.value(taken.id) - self.printed.value(step.expression)
        value = read_unit(self.printed.unit(step.quantity)).from_engine(used)
        return self.printed.rounded(value, self.printed.kept_figures(taken), LEAST_SHOWN)

    def _used_lines(self, step: Step, used: Quantity, result: Amount, shown: AbstractSet[str]) -> tuple[Block, ...]:
        unit = self.printed.unit(step.quantity)
        extent = next(q for q in self._names(step) if q.kind == "extent")
        shape = self.route.from_extent(used, extent, shown)
        if isinstance(shape, Copy):
            groups, relation = self.lines.groups(shape.source.id, used), self.lines.relation(shape.source.id)
        elif isinstance(shape, Ratioed):
            groups = self.lines.ratio_groups(shape, used)
            relation = self.lines.ratio_relation(shape, used, coefficients=True)
        else:
            groups, relation = self._coefficient_groups(used, extent), self._coefficient_relation(used, extent)
        return (self.lines.line(used, relation, groups, result, unit),)

    def _names(self, step: Step) -> list[Quantity]:
        return [q for name, q in self.printed.quantities.items() if name in set(names_in(step.expression))]

    def _shape_words(self, step: Step, shape: Copy | Ratioed) -> str:
        if not shape.limited:
            return _(_RATIO_WORDS) if step.law in _BY_EXTENT else _law_words(step)
        compared = next(s for s in self.printed.plan.steps if self.route.compared(s))
        return limit_decides(limiting_name(self.route, compared))

    def _shaped(self, step: Step, shape: Copy | Ratioed, final: Amount | None) -> tuple[Block, ...]:
        target = step.quantity
        if isinstance(shape, Copy):
            return self._result(target, shape.source.id, final)
        relation = self.lines.ratio_relation(shape, target, coefficients=step.law not in _BY_FORMULA)
        groups = self.lines.ratio_groups(shape, target)
        return (self.lines.line(target, relation, groups, final or self.lines.amount(target)),)

    def _worked(self, step: Step, final: Amount | None) -> tuple[Block, ...]:
        """A step by its own expression."""
        target = step.quantity
        if step.expression[0] == "num":  # a portion that is chosen, not worked out
            return (self.lines.line(target, (), (), final or self.lines.amount(target)),)
        alone = times_alone(step.expression)
        source = self.printed.quantities.get(alone[0]) if alone else None
        in_main = source is not None and self.printed.scene.species[target.of or source.of].coefficient
        if source is not None and in_main and {source.kind, target.kind} == {"amount", "extent"}:
            return (self._by_coefficient(target, source, final),)
        before, expression = self._chosen(step)
        molar = step.rounding == "molar mass"
        return (*before, *self._result(target, expression, final, silent=molar, sample=step.law == "purity"))

    def _by_coefficient(self, target: Quantity, source: Quantity, final: Amount | None) -> Calculation:
        groups = self._coefficient_groups(target, source)
        relation = self._coefficient_relation(target, source)
        return self.lines.line(target, relation, groups, final or self.lines.amount(target))

    def _coefficient_groups(self, target: Quantity, source: Quantity) -> tuple[Group, ...]:
        """An extent from an amount, or the other way: the coefficient stands there even where it is 1."""
        species = source.of if target.kind == "extent" else target.of
        nu = Term(str(self.printed.scene.species[species].nu))
        amount = self.lines.term(source, plain=True)
        links = (Link((amount,), (nu,)),) if target.kind == "extent" else (Link((nu,)), Link((amount,)))
        return (Group(links),)

    def _coefficient_relation(self, target: Quantity, source: Quantity) -> Line:
        scene = self.printed.scene
        if target.kind == "extent":
            return (symbol(scene, source), Prose("/"), coefficient_symbol(scene, source.of))
        return (coefficient_symbol(scene, target.of), Prose(" × "), symbol(scene, source))

    def _chosen(self, step: Step) -> tuple[tuple[Block, ...], Expression]:
        """What is compared before a line can be worked, and the expression that is left to work."""
        expression = step.expression
        pairs = _pairs(expression)
        if pairs:
            return choice_blocks(self.lines, pairs, step.quantity, most=expression[0] == "max")
        inner = _pairs(_floored(expression))
        return (choice_blocks(self.lines, inner, step.quantity)[0] if inner else ()), expression

    def _result(
        self,
        target: Quantity,
        expression: Expression,
        final: Amount | None,
        *,
        silent: bool = False,
        sample: bool = False,
    ) -> tuple[Block, ...]:
        """The line of an expression, and one more where kelvins are turned into another scale."""
        relation = () if silent else self.lines.relation(expression)
        groups = self.lines.groups(expression, target, sample=sample)
        result = final or self.lines.amount(target)
        if not read_unit(self.printed.unit(target)).offset:
            return (self.lines.line(target, relation, groups, result),)
        return self._on_scale(target, relation, groups, result)

    def _on_scale(
        self, target: Quantity, relation: Line, groups: tuple[Group, ...], result: Amount
    ) -> tuple[Block, ...]:
        """A temperature in kelvin, then on the scale that is asked for."""
        unit = self.printed.unit(target)
        number = self.printed.kelvin_text(target)
        kelvin = self.lines.line(target, relation, groups, Amount(number, unit_pieces_of("K")), "K")
        shifted = f"({number} − 273.15)" if unit == "°C" else f"({number} × 9/5 − 459.67)"
        reading = (Group((Link((Term(shifted, pieces_of(unit)),)),)),)
        return (kelvin, self.lines.line(target, (), reading, result))


def _words(text: str) -> Paragraph:
    return Paragraph((Prose(text),))


def _law_words(step: Step) -> str:
    law = LAWS_BY_ID[step.law]
    return _(law.words[step.solved_for]) if step.solved_for in law.words else f"{_(law.title)}."


def _pairs(expression: Expression) -> tuple[tuple[Expression, Expression], ...]:
    """Keys and values of a least or greatest; () for any other expression."""
    if isinstance(expression, str) or expression[0] not in ("min", "max", "least"):
        return ()
    if expression[0] == "least":
        return tuple((key, value) for key, value in expression[1:])
    return tuple((operand, operand) for operand in expression[1:])


def _floored(expression: Expression) -> Expression:
    """What stands under a whole part, alone or as a factor; the expression itself where there is none."""
    if isinstance(expression, str) or expression[0] not in ("floor", "mul"):
        return expression
    if expression[0] == "floor":
        under: Expression = expression[1]
        return under
    inner = [_floored(factor) for factor in expression[1:] if not isinstance(factor, str)]
    return next((found for found in inner if found[0] in ("min", "max", "least")), expression)
