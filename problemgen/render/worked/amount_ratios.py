"""The limiting reagent by amount ratios: what the others need for all of the first reagent, against what is there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits, listed
from problemgen.model.blocks import Amount, Block, Calculation, Line, Paragraph, Strong
from problemgen.model.lines import filled
from problemgen.model.plan import Step
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.arithmetic import EXACT_FIGURES
from problemgen.render.words.symbols import capitalised, prose_number, unit_pieces_of
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import LEAST_SHOWN
from problemgen.render.worked.routes import Ratioed, Route

__all__ = ["RATIO_WORDS", "Need", "compared_by_ratios", "needs_of", "ratio_blocks", "ratio_verdict"]

RATIO_WORDS = N_(
    "Where less is there of a reagent than the others need, it is used up first: it is the limiting reagent."
)


@dataclass(frozen=True)
class Need:
    """One reagent beside the first: what is there of it, and what all of the first needs (mol)."""

    amount: Quantity
    shape: Ratioed
    there: Fraction
    needed: Fraction

    @property
    def target(self) -> Quantity:
        """The quantity that is worked out."""
        return Quantity("amount", self.amount.of, Role.NEEDED)

    @property
    def enough(self) -> bool:
        """Whether there is as much as is needed."""
        return self.there >= self.needed


def compared_by_ratios(route: Route, step: Step, shown: AbstractSet[str]) -> bool:
    """Whether a comparison is told by amount ratios: where it is taught so, and no product of each was asked for.

    Nor where what is needed is worked out further on for its own sake: nothing is told twice.
    """
    if route.method != "ratios" or route.allowances(step, shown):
        return False
    needs = needs_of(route, step)
    return bool(needs) and all(need.target.id in shown or need.target.id not in route.printed.steps for need in needs)


def needs_of(route: Route, step: Step) -> tuple[Need, ...]:
    """What each reagent but the first is needed for all of the first; () where an amount is not known by itself."""
    found = [route.sourced(name) for name in route.compared(step)]
    amounts = [one.amount for one in found if one is not None]
    if len(amounts) < max(len(found), 2):
        return ()
    values, species = route.printed.numbers.values, route.printed.scene.species
    first, *others = amounts
    needs = []
    for other in others:
        shape = Ratioed(first, species[other.of].nu, species[first.of].nu)
        needed = values[first.id] * shape.top / shape.bottom
        needs.append(Need(other, shape, values[other.id], needed))
    return tuple(needs)


def ratio_blocks(lines: Lines, route: Route, step: Step, shown: AbstractSet[str]) -> tuple[Block, ...]:
    """A line of working for what is needed of each reagent, unless it was `shown`; then the words."""
    needs = (need for need in needs_of(route, step) if need.target.id not in shown)
    worked = (_needed_line(lines, route, need) for need in needs)
    return (*worked, Paragraph(ratio_verdict(route, step)))


def _needed_line(lines: Lines, route: Route, need: Need) -> Calculation:
    target = need.target
    unit = _unit(route, need)
    result = Amount(_needed_text(route, need), unit_pieces_of(unit))
    relation = lines.ratio_relation(need.shape, target, coefficients=True)
    return lines.line(target, relation, lines.ratio_groups(need.shape, target), result, unit)


def _unit(route: Route, need: Need) -> str:
    """The unit of the first reagent's amount: one for all, so that they can be compared at a glance."""
    return route.printed.unit(need.shape.source)


def _needed_text(route: Route, need: Need) -> str:
    """What is needed, with as many figures as the first reagent's amount."""
    printed, source = route.printed, need.shape.source
    value = read_unit(_unit(route, need)).from_engine(need.needed)
    return printed.rounded(value, printed.kept_figures(source), printed.numbers.figures.get(source.id, EXACT_FIGURES))


def _there_text(route: Route, need: Need) -> str:
    """What is there: as it is printed elsewhere, where the unit is the same."""
    printed, unit = route.printed, _unit(route, need)
    if printed.unit(need.amount) == unit:
        return printed.text(need.amount)
    value = read_unit(unit).from_engine(need.there)
    supported = printed.numbers.figures.get(need.amount.id, EXACT_FIGURES)
    return printed.rounded(value, printed.kept_figures(need.amount), supported)


def ratio_verdict(route: Route, step: Step) -> Line:
    """The comparison in words, and the limiting reagent."""
    needs = needs_of(route, step)
    species, values = route.printed.scene.species, route.printed.numbers.values
    names = {need.amount.of: species[need.amount.of].name for need in needs}
    told = "; ".join(_need_told(route, need, names[need.amount.of]) for need in needs)
    first = species[needs[0].shape.source.of].name
    least = min(route.compared(step), key=lambda name: values[name])
    limiting = species[route.printed.quantities[least].of].name
    # Translators: "For all of the zinc, 24.0 mmol of hydrogen chloride is needed, 30.0 mmol is there: enough. Zinc is
    # the limiting reagent."
    words = _("For all of the {reagent}, {needs}: {judged}. {limiting} is the limiting reagent.")
    strong = (Strong(capitalised(limiting)),)
    return filled(words, reagent=first, needs=told, judged=_judged(needs, names), limiting=strong)


def _need_told(route: Route, need: Need, name: str) -> str:
    needed, there = prose_number(_needed_text(route, need)), prose_number(_there_text(route, need))
    told = _("{needed} {unit} of {name} is needed, {there} {unit} is there")
    return told.format(needed=needed, there=there, unit=_unit(route, need), name=name)


def _judged(needs: Sequence[Need], names: Mapping[str, str]) -> str:
    """Whether there is enough; of several that fall short, the one that falls shortest."""
    short = sorted((need for need in needs if not need.enough), key=lambda need: need.there / need.needed)
    if not short:
        return _("enough") if len(needs) == 1 else _("enough of each")
    if len(short) == 1:
        return _("too little") if len(needs) == 1 else _("too little {name}").format(name=names[short[0].amount.of])
    # Translators: how much there is of what is needed: "0.85 of the zinc".
    share = _("{share} of the {name}")
    shares = [(figures_text(need.there / need.needed, LEAST_SHOWN), names[need.amount.of]) for need in short]
    told = listed([share.format(share=in_digits(number), name=name) for number, name in shares])
    return _("of what is needed there is only {shares}, and the smallest share counts").format(shares=told)
