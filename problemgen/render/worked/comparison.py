"""What each reagent allows, and which allows least: the limiting reagent in a table and in words."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import _
from problemgen.language.numbers import listed
from problemgen.model.blocks import Block, Inline, Line, Paragraph, Prose, Strong, Symbol, Table
from problemgen.model.expression import Expression
from problemgen.model.lines import filled
from problemgen.model.plan import Step
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import EXACT_FIGURES
from problemgen.render.words.symbols import capitalised, prose_number
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.routes import Route

__all__ = ["Allowance", "allowances", "choice_blocks", "comparison_blocks", "limit_decides", "limiting_name", "verdict"]


@dataclass(frozen=True)
class Allowance:
    """What one reagent allows: its id, the exact value, and the number and unit for print."""

    reagent: str
    value: Fraction
    number: str
    unit: str


def allowances(route: Route, step: Step, shown: AbstractSet[str]) -> tuple[Allowance, ...]:
    """What each compared reagent allows: an amount of product where that was found, else an extent."""
    printed = route.printed
    products = route.allowances(step, shown)
    quantities = products or tuple(printed.quantities[name] for name in route.compared(step))
    unit = printed.unit(products[0]) if products else _extent_unit(route, step)
    return tuple(
        Allowance(q.source or q.of, printed.numbers.values[q.id], _number(route, q, unit), unit) for q in quantities
    )


def _number(route: Route, quantity: Quantity, unit: str) -> str:
    """A number in the unit of the comparison; a given value keeps the digits it was given with."""
    printed = route.printed
    value = read_unit(unit).from_engine(printed.numbers.values[quantity.id])
    supported = printed.numbers.figures.get(quantity.id, EXACT_FIGURES)
    given = printed.numbers.data.get(quantity.id)
    if given is None:
        return printed.rounded(value, printed.kept_figures(quantity), supported)
    return given[0] if given[1] == unit else figures_text(value, supported)


def _extent_unit(route: Route, step: Step) -> str:
    """The unit of the least extent: one for all, so that they can be compared at a glance."""
    printed = route.printed
    least = min(route.compared(step), key=lambda name: printed.numbers.values[name])
    return printed.unit(printed.quantities[least])


def limiting_name(route: Route, step: Step) -> str:
    """The name of the reagent that allows least."""
    least = min(route.compared(step), key=lambda name: route.printed.numbers.values[name])
    return _name(route, route.printed.quantities[least].of)


def limit_decides(name: str) -> str:
    """What is said where the working goes on from the reagent that limits."""
    return _("The limiting reagent, {name}, decides how far the reaction goes.").format(name=name)


def _name(route: Route, reagent: str) -> str:
    return route.printed.scene.species[reagent].name


def comparison_blocks(lines: Lines, route: Route, step: Step, shown: AbstractSet[str]) -> tuple[Block, ...]:
    """The comparison: a table of n/ν where nothing else was shown to compare, then the words."""
    told = bool(route.allowances(step, shown)) or route.method == "extent"
    table: tuple[Block, ...] = () if told else (_table(lines, route, step),)
    return (*table, Paragraph(verdict(route, step, shown)))


def verdict(route: Route, step: Step, shown: AbstractSet[str]) -> Line:
    """The comparison in words: "Magnesium would allow 12.0 mmol of reaction, …: the smallest is …"."""
    found = allowances(route, step, shown)
    least = min(found, key=lambda one: one.value)
    products = route.allowances(step, shown)
    what = _name(route, products[0].of) if products else _("reaction")
    told = [f"{_name(route, one.reagent)} {prose_number(one.number)} {one.unit}" for one in found]
    first = _("{reagent} would allow {number} {unit} of {product}").format(
        reagent=_name(route, found[0].reagent), number=prose_number(found[0].number), unit=found[0].unit, product=what
    )
    # Translators: {amounts} is "Magnesium would allow 12.0 mmol of reaction and bromobenzene 10.0 mmol".
    return filled(
        _("{amounts}: the smallest is {number} {unit}. {limiting} is the limiting reagent."),
        amounts=capitalised(listed([first, *told[1:]])),
        number=prose_number(least.number),
        unit=least.unit,
        limiting=(Strong(capitalised(_name(route, least.reagent))),),
    )


def _table(lines: Lines, route: Route, step: Step) -> Table:
    """The amount of each reagent over its coefficient."""
    unit = _extent_unit(route, step)
    header: tuple[Line, ...] = (
        (Prose(_("Reagent")),),
        (Symbol("n"), Prose(f" / {unit}")),
        (Symbol("ν"),),
        (Prose("("), Symbol("n"), Prose("/"), Symbol("ν"), Prose(f") / {unit}")),
    )
    rows = tuple(_row(lines, route, name, unit) for name in route.compared(step))
    return Table(_("What each reagent would allow"), header, rows, (False, True, True, True))


def _row(lines: Lines, route: Route, name: str, unit: str) -> tuple[Line, ...]:
    extent = route.printed.quantities[name]
    found = route.sourced(name)
    amount = _number(route, found.amount, unit) if found else "–"
    nu = str(route.printed.scene.species[extent.of].nu)
    numbers = (amount, nu, _number(route, extent, unit))
    label: Inline = Prose(capitalised(lines.printed.scene.species[extent.of].name))
    return ((label,), *((Prose(prose_number(number)),) for number in numbers))


def choice_blocks(
    lines: Lines, pairs: Iterable[tuple[Expression, Expression]], target: Quantity, *, most: bool = False
) -> tuple[tuple[Block, ...], Expression]:
    """Any least or greatest: a table of what is compared, and the expression that counts."""
    pairs = tuple(pairs)
    printed = lines.printed
    pick = max if most else min
    chosen = pick(pairs, key=lambda pair: printed.value(pair[0]))[1]
    rows = tuple(_choice_row(lines, key, target) for key, _counts in pairs)
    header: tuple[Line, ...] = ((Prose(_("Compared")),), (Prose(_("Value")),))
    words = _("The largest of these counts.") if most else _("The smallest of these counts.")
    return (Table(_("What is compared"), header, rows, (False, True)), Paragraph((Prose(words),))), chosen


def _choice_row(lines: Lines, key: Expression, target: Quantity) -> tuple[Line, ...]:
    whole = lines.whole(key, target)
    unit = " ".join(piece.unit for piece in whole.pieces)
    text = f"{prose_number(whole.number)} {unit}".strip()
    return (lines.relation(key) or (Prose(_("value")),), (Prose(text),))
