"""What an instructor tries when an answer is wrong: at each step, all that may have been worked in its place.

First what the laws list as errors, then what follows from the step's own algebra (`plan/missteps.py`), and then
another value for one that the step looks up: another quantity of the same kind that stands on the sheet, a temperature
in degrees Celsius, the gas constant for other units, the molar volume under other conditions, the formula's molar mass
with a subscript left out. Where a calculation does not come out in the unit that it should, it is tried as well with
the numbers as they stand on the sheet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType
from typing import TypeAlias

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import plain_text
from problemgen.model.expression import Expression, names_in
from problemgen.model.fixed import Datum
from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.quantity import KINDS, OVERALL_EXTENT, Quantity, quantity_named
from problemgen.plan.forms import form_of
from problemgen.plan.missteps import COMMONEST, Misstep, factors_of, missteps_of, product_of, replaced

__all__ = [
    "COMPLEMENT",
    "MISREAD",
    "RANK",
    "Try",
    "Units",
    "moves_point",
    "tries_of",
    "unit_on_sheet",
    "units_on_sheet",
]

Units: TypeAlias = tuple[tuple[str, str], ...]
"""The units in which quantities stand on the sheet, by id: those of given values, and those asked for."""

RANK: Mapping[str, int] = MappingProxyType({"listed": 0, "common": 1, "taken": 2, "rare": 3, "printed": 4})
"""How near at hand an explanation is: a listed error, what every class does, another value taken, and the rest; last
what the numbers as printed lead to."""

MISREAD = "digits"
"""How a molar mass with two digits exchanged goes astray: in reading or typing, not in the chemistry."""

COMPLEMENT = "complement"
"""How the rest of a whole is taken for the part that was asked for."""

_GAS_CONSTANTS = ("8.314", "0.08206", "0.08314", "62.36")
"""R in J/(mol·K), L·atm/(mol·K), L·bar/(mol·K) and L·mmHg/(mol·K), as tables print it: common practice, no source."""

_MOLAR_VOLUMES = ("22.4", "22.711", "24.0", "24.5", "24.79")
"""Molar volumes that are remembered, in L/mol: common practice, no source."""

_HYDROGEN = "atomic_weight(H)"

_ZERO_CELSIUS = ("num", "-273.15")

_CONSTANT_KINDS = frozenset({"atomic_weight", "gas_constant", "avogadro"})

_NUMBERS_AS_PRINTED = frozenset({"upside-down", "inverted", "left-out", "twice", "ratio-left-out", "ratio-inverted"})
"""What does not come out in the unit that it should, so that nobody can say in which units it was worked."""


@dataclass(frozen=True)
class Try:
    """One step worked otherwise: `how` and `what` as in a misstep, and how near at hand the explanation is.

    `group` is what it has in common with the same error at other steps; "" for none.
    """

    mistake: Mistake
    how: str
    what: tuple[str, ...]
    rank: int
    group: str = ""

    @property
    def step(self) -> str:
        """The id of the quantity that the step yields."""
        return self.mistake.rewrites[0][0]

    @property
    def expression(self) -> Expression:
        """What is worked in its place."""
        return self.mistake.rewrites[0][1]


def unit_on_sheet(quantity: Quantity, units: Mapping[str, str]) -> str:
    """The unit in which a quantity stands on the sheet, or the usual one for its kind."""
    return units.get(quantity.id, KINDS[quantity.kind].unit)


def moves_point(step: Step, one: Try) -> bool:
    """Whether a try works the step rightly but for a power of ten: a unit that was not converted."""
    number, factors = factors_of(step.expression)
    other, others = factors_of(one.expression)
    if Counter(factors) != Counter(others) or not number or not other or number == other:
        return False
    ratio = abs(other / number)
    return set(str(ratio.numerator * ratio.denominator)) == {"1", "0"}


def units_on_sheet(plan: Plan, given: Mapping[str, Datum]) -> Units:
    """The units in which quantities stand on the sheet: those of the given values, and those asked for."""
    told = {asked.quantity.id: asked.unit for asked in plan.asked if form_of(asked).has_window}
    told |= {name: datum.unit for name, datum in given.items()}
    return tuple(sorted(told.items()))


@lru_cache(maxsize=512)
def tries_of(plan: Plan, units: Units) -> Mapping[Step, tuple[Try, ...]]:
    """What may have been worked in the place of each step of a plan and of its routes."""
    off = (step for route in plan.routes for step in route.steps)
    maker = _Tries(plan, dict(units))
    return MappingProxyType({step: tuple(maker.of(step)) for step in dict.fromkeys((*plan.steps, *off))})


class _Tries:
    """Makes the tries of a plan, a step after another."""

    def __init__(self, plan: Plan, units: Mapping[str, str]) -> None:
        self.plan, self.units = plan, units
        self.listed: dict[str, list[tuple[Mistake, Expression]]] = {}
        for mistake in plan.mistakes:
            for name, expression in mistake.rewrites:
                self.listed.setdefault(name, []).append((mistake, expression))
        self.given = list(plan.given)
        self.order = [step.quantity for step in plan.steps]
        self.weights = {one.quantity.id: one.value for one in plan.constants}

    def of(self, step: Step) -> Iterator[Try]:
        """All tries of a step, those that come to one expression once, the nearest at hand first."""
        seen = {step.expression}
        for one in self._all(step):
            if one.expression not in seen:
                seen.add(one.expression)
                yield one

    def _all(self, step: Step) -> Iterator[Try]:
        name = step.quantity.id
        for mistake, expression in self.listed.get(name, ()):
            here = replace(mistake, rewrites=((name, expression),))
            group = mistake.id if len(mistake.rewrites) > 1 else mistake.id.partition(":")[0]
            yield Try(here, mistake.id.partition(":")[0], (), RANK["listed"], group)
            if expression[0] == "round" and step.rounding == "whole":
                unrounded = replace(mistake, rewrites=((name, expression[1]),))
                yield Try(unrounded, mistake.id.partition(":")[0], (), RANK["listed"], group)
        derived = list(self._derived(step))
        yield from sorted((one for one, _ in derived), key=lambda one: one.rank)
        for one, misstep in derived:
            if misstep is not None and misstep.how in _NUMBERS_AS_PRINTED:
                yield from self._as_printed(step, one)
                yield from self._percent_kept(step, one, misstep)

    def _derived(self, step: Step) -> Iterator[tuple[Try, Misstep | None]]:
        if step.rounding == "molar mass":
            for misstep in self._formulas(step):
                yield self._made(step, misstep, RANK["rare"]), None
            return
        if step.rounding == "whole":
            inside = missteps_of(step.expression[1]) if step.expression[0] == "round" else ()
            yield from ((self._made(step, one, RANK["rare"]), None) for one in inside)
            return
        for misstep in missteps_of(step.expression):
            yield self._made(step, misstep, RANK["common"] if misstep.how in COMMONEST else RANK["rare"]), misstep
        for misstep in self._taken(step):
            yield self._made(step, misstep, RANK["taken"]), None

    def _made(self, step: Step, misstep: Misstep, rank: int) -> Try:
        name = ":".join((misstep.how, step.quantity.id, *misstep.what))
        mistake = Mistake(name, "", "", ((step.quantity.id, misstep.expression),))
        group = f"{misstep.how}|{step.law}|{step.solved_for}" if misstep.how in COMMONEST else ""
        return Try(mistake, misstep.how, misstep.what, rank, group)

    def _as_printed(self, step: Step, one: Try) -> Iterator[Try]:
        """The same with the numbers as they stand on the sheet, the result in the unit that is asked for."""
        printed: Expression = one.expression
        for name in dict.fromkeys(names_in(printed)):
            unit = read_unit(unit_on_sheet(quantity_named(name), self.units))
            if unit.offset:
                return
            if unit.factor != 1:
                printed = replaced(printed, name, ("div", name, ("num", str(unit.factor))))
        result = read_unit(unit_on_sheet(step.quantity, self.units)).factor
        yield self._scaled(step, one, printed, result)
        if any(self._is_milli(name) for name in names_in(one.expression)):
            yield self._scaled(step, one, printed, result / 1000)

    def _is_milli(self, name: str) -> bool:
        return read_unit(unit_on_sheet(quantity_named(name), self.units)).factor == Fraction(1, 1000)

    def _scaled(self, step: Step, one: Try, expression: Expression, factor: Fraction) -> Try:
        """A try worked by an expression times a factor, as a last resort."""
        number, factors = factors_of(expression)
        scaled = product_of(number * factor, factors) if factors else expression
        rewritten = replace(one.mistake, rewrites=((step.quantity.id, scaled),))
        return replace(one, mistake=rewritten, rank=RANK["printed"])

    def _percent_kept(self, step: Step, one: Try, misstep: Misstep) -> Iterator[Try]:
        """The same where only the number of a percentage went astray, and the hundred that belongs to it stayed."""
        for name in misstep.what:
            if unit_on_sheet(quantity_named(name), self.units) == "%":
                power = next((power for factor, power in factors_of(step.expression)[1] if factor == name), 0)
                times = {"left-out": -power, "inverted": -2 * power, "twice": power}.get(misstep.how, 0)
                if times:
                    yield self._scaled(step, one, one.expression, Fraction(100) ** times)

    # another formula

    def _formulas(self, step: Step) -> Iterator[Misstep]:
        """Molar masses with a subscript or an element left out, with atoms or waters too few, of one atom alone."""
        counts = _counts(step.expression)
        for index, (weight, count) in enumerate(counts):
            if count > 1:
                yield Misstep(
                    "subscript", (weight,), _sum([*counts[:index], (weight, Fraction(1)), *counts[index + 1 :]])
                )
        for times in sorted({count for _, count in counts if count > 1}):
            inside = [weight for weight, count in counts if count % times == 0]
            if len(inside) > 1:
                short = [(weight, count / times if weight in inside else count) for weight, count in counts]
                yield Misstep("subscript", tuple(inside), _sum(short))
        yield from _atoms_short(counts)
        yield from self._digits(counts)
        waters = [expression for mistake, expression in self.listed.get(step.quantity.id, ()) if "water" in mistake.id]
        for dry in waters:
            yield Misstep("one-water", (), ("add", *_terms(dry), ("mul", ("num", "2"), _HYDROGEN), "atomic_weight(O)"))

    def _digits(self, counts: Sequence[tuple[str, Fraction]]) -> Iterator[Misstep]:
        """The molar mass with two neighbouring digits exchanged, as it is read off or typed with two decimals."""
        if not counts or any(weight not in self.weights for weight, _ in counts):
            return
        written = plain_text(sum((self.weights[weight] * count for weight, count in counts), Fraction(0)), -2)
        places = [place for place, character in enumerate(written) if character.isdigit()]
        for one, other in pairwise(places):
            digits = list(written)
            digits[one], digits[other] = digits[other], digits[one]
            if digits[0] != "0" and digits != list(written):
                yield Misstep(MISREAD, (), ("num", "".join(digits)))

    # another value

    def _taken(self, step: Step) -> Iterator[Misstep]:
        """Another value in the place of one that the step looks up."""
        expression = step.expression
        names = list(dict.fromkeys(names_in(expression)))
        at_hand = self._at_hand(step)
        for name in names:
            quantity = quantity_named(name)
            for other in at_hand:
                if other.kind == quantity.kind and other.id not in names and quantity.kind not in _CONSTANT_KINDS:
                    yield Misstep("other", (name, other.id), replaced(expression, name, other.id))
            yield from self._of_kind(expression, quantity, at_hand)
        yield from self._masses(expression, names, at_hand)
        yield from self._molar_volumes(expression)
        yield from self._difference(step)
        yield from self._amounts_compared(expression)
        if KINDS[step.quantity.kind].at_most_whole or step.quantity.kind == "fraction_extracted":
            yield Misstep(COMPLEMENT, (), ("add", ("num", "1"), ("neg", expression)))

    def _at_hand(self, step: Step) -> list[Quantity]:
        """The quantities that a student has at hand beside those of a step: what is given, and what is worked first."""
        behind = {one.quantity.id for one in self.plan.stale([step.quantity.id])}
        return [one for one in (*self.given, *self.order) if one.id not in behind and one != step.quantity]

    def _of_kind(self, expression: Expression, quantity: Quantity, at_hand: Sequence[Quantity]) -> Iterator[Misstep]:
        """What is taken in the place of a quantity of one kind alone."""
        name = quantity.id
        if quantity.kind == "volume":
            yield from self._with_peers(expression, quantity, at_hand)
        for how, instead in self._instead(expression, quantity):
            yield Misstep(how, (name,), replaced(expression, name, instead))

    def _instead(self, expression: Expression, quantity: Quantity) -> Iterator[tuple[str, Expression]]:
        if quantity.kind == "temperature":
            yield "celsius", ("add", quantity.id, _ZERO_CELSIUS)
        elif quantity.kind == "mass_fraction":
            yield COMPLEMENT, ("add", ("num", "1"), ("neg", quantity.id))
        elif quantity.kind == "molar_volume":
            yield from (("molar-volume", ("num", value)) for value in _MOLAR_VOLUMES)
        elif quantity.kind == "gas_constant":
            yield from (("gas-constant", ("num", str(value))) for value in self._constants(expression))

    def _with_peers(self, expression: Expression, quantity: Quantity, at_hand: Sequence[Quantity]) -> Iterator[Misstep]:
        """Two volumes that stand on the sheet together, or the difference of them, in the place of one."""
        name = quantity.id
        for peer in (one for one in at_hand if one.kind == "volume" and one in self.given and one != quantity):
            together: Expression = ("add", name, peer.id)
            apart: Expression = ("max", ("add", name, ("neg", peer.id)), ("add", peer.id, ("neg", name)))
            yield Misstep("together", (name, peer.id), replaced(expression, name, together))
            yield Misstep("apart", (name, peer.id), replaced(expression, name, apart))

    def _constants(self, expression: Expression) -> Iterator[Fraction]:
        """The gas constant for other units than those of the pressure, which stays as it is printed."""
        pressures = [q for q in map(quantity_named, names_in(expression)) if q.kind == "pressure"]
        factor = read_unit(unit_on_sheet(pressures[0], self.units)).factor if pressures else Fraction(1)
        yield from (
            Fraction(value) * scale for value in _GAS_CONSTANTS for scale in dict.fromkeys((factor, Fraction(1)))
        )

    def _molar_volumes(self, expression: Expression) -> Iterator[Misstep]:
        """A remembered molar volume in the place of R T / p."""
        number, factors = factors_of(expression)
        kinds = {quantity_named(factor).kind: power for factor, power in factors if isinstance(factor, str)}
        if {"gas_constant", "temperature", "pressure"} <= kinds.keys():
            gas = ("gas_constant", "temperature", "pressure")
            rest = [(f, p) for f, p in factors if not (isinstance(f, str) and quantity_named(f).kind in gas)]
            for value in _MOLAR_VOLUMES:
                volume: Expression = ("num", value)
                yield Misstep("molar-volume", (), product_of(number, [*rest, (volume, kinds["gas_constant"])]))

    def _difference(self, step: Step) -> Iterator[Misstep]:
        """The difference of two values, as printed, in the place of their quotient."""
        number, factors = factors_of(step.expression)
        (over, up), (under, down) = factors if len(factors) == 2 else (("", 0), ("", 0))
        if (up, down) != (1, -1) or not (isinstance(over, str) and isinstance(under, str)):
            return
        kinds = quantity_named(over).kind, quantity_named(under).kind
        unit = read_unit(unit_on_sheet(quantity_named(over), self.units))
        if kinds[0] != kinds[1] or unit.offset:
            return
        apart: Expression = ("max", ("add", over, ("neg", under)), ("add", under, ("neg", over)))
        result = read_unit(unit_on_sheet(step.quantity, self.units)).factor
        yield Misstep("difference", (over, under), product_of(abs(number) * result / unit.factor, [(apart, 1)]))

    def _amounts_compared(self, expression: Expression) -> Iterator[Misstep]:
        """In a sum, the other reagent's amount in the place of what goes with it, or with the ratio upside down."""
        terms = _terms(expression) if expression[0] == "add" else ()
        for index, term in enumerate(terms):
            number, factors = factors_of(term)
            for source in self.plan.sources if factors == [(OVERALL_EXTENT.id, 1)] else ():
                extent, amount = self.plan.step(Quantity("extent", source)), Quantity("amount", source).id
                ratio = abs(number) * factors_of(extent.expression)[0] if extent is not None else Fraction(1)
                if ratio != 1 and amount not in names_in(expression):
                    for how, times in (("coefficient-left-out", Fraction(1)), ("coefficient-inverted", 1 / ratio)):
                        instead: Expression = product_of(-times if number < 0 else times, [(amount, 1)])
                        yield Misstep(how, (), ("add", *terms[:index], instead, *terms[index + 1 :]))

    def _masses(self, expression: Expression, names: Sequence[str], at_hand: Sequence[Quantity]) -> Iterator[Misstep]:
        """The masses of two substances in the place of their amounts."""
        known = {quantity.id for quantity in at_hand}
        amounts = [quantity for quantity in map(quantity_named, names) if quantity.kind == "amount"]
        if len(amounts) > 1 and all(amount.as_kind("mass").id in known for amount in amounts):
            worked = expression
            for amount in amounts:
                worked = replaced(worked, amount.id, amount.as_kind("mass").id)
            yield Misstep("masses", tuple(amount.id for amount in amounts), worked)


def _counts(expression: Expression) -> list[tuple[str, Fraction]]:
    """The atoms of a molar mass that is a sum over elements: their weights (ids) and how many; none for any other."""
    counts = []
    for term in _terms(expression):
        number, factors = factors_of(term)
        if len(factors) != 1 or factors[0][1] != 1 or not str(factors[0][0]).startswith("atomic_weight("):
            return []
        counts.append((str(factors[0][0]), number))
    return counts


def _atoms_short(counts: Sequence[tuple[str, Fraction]]) -> Iterator[Misstep]:
    """Formulas of these atoms with one of them too few, with an element alone, and with one left out."""
    for index, (weight, count) in enumerate(counts):
        if count > 2 and weight != _HYDROGEN:  # one hydrogen fewer is no more than rounding does
            short = [*counts[:index], (weight, count - 1), *counts[index + 1 :]]
            yield Misstep("subscript", (weight,), _sum(short))
    if len(counts) > 1:
        for index, (weight, _) in enumerate(counts):
            yield Misstep("element", (weight,), weight)
            yield Misstep("element-left-out", (weight,), _sum([*counts[:index], *counts[index + 1 :]]))


def _sum(counts: Iterable[tuple[str, Fraction]]) -> Expression:
    terms: list[Expression] = [("mul", ("num", str(count)), weight) for weight, count in counts]
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _terms(expression: Expression) -> tuple[Expression, ...]:
    return tuple(expression[1:]) if expression[0] == "add" else (expression,)
