"""The way a class is taught through the stoichiometry of a problem: by products, by extents, by ratios.

A plan always goes through extents of reaction (ξ = n/ν, n = νξ). Told as "product" or "ratios", the two steps become
one: n(P) = n(A) × ν(P)/ν(A), and no extent is shown but where one is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from math import prod

from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Step
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity, Role
from problemgen.render.worked.printed import Printed
from problemgen.render.worked.products import products

__all__ = ["Copy", "Ratioed", "Route", "Sourced", "times_alone"]

_PER_SPECIES = ("amount", "concentration")


@dataclass(frozen=True)
class Copy:
    """A value carried over from another quantity."""

    source: Quantity
    limited: bool = False


@dataclass(frozen=True)
class Ratioed:
    """An amount from another substance's: times `top` of the one over `bottom` of the other."""

    source: Quantity
    top: int
    bottom: int
    limited: bool = False  # whether the source is the limiting reagent, found by comparing


@dataclass(frozen=True)
class Sourced:
    """The amount behind an extent, and whether reagents were compared to find it."""

    amount: Quantity
    limited: bool


@lru_cache(maxsize=4096)  # as often asked as `products` is
def times_alone(expression: Expression) -> tuple[str, Fraction] | None:
    """The one name of an expression and the number that it is multiplied by; None for any other expression."""
    terms = products(expression)
    if len(terms) != 1 or terms[0].negative:
        return None
    term = terms[0]
    names = [factor for factor in term.top if isinstance(factor, str)]
    numbers = [[f for f in side if isinstance(f, Fraction)] for side in (term.top, term.bottom)]
    if len(names) != 1 or len(term.top) + len(term.bottom) != 1 + len(numbers[0]) + len(numbers[1]):
        return None
    return names[0], prod(numbers[0], start=Fraction(1)) / prod(numbers[1], start=Fraction(1))


@dataclass(frozen=True)
class Route:
    """The way through one plan."""

    printed: Printed
    method: Method

    @cached_property
    def asked_extents(self) -> frozenset[str]:
        """The extents that are asked for as numbers."""
        return frozenset(self.printed.asked_units)

    def compared(self, step: Step) -> tuple[str, ...]:
        """The extents among which a step finds the least; () for any other step."""
        if step.quantity.kind != "extent" or isinstance(step.expression, str) or step.expression[0] != "min":
            return ()
        return tuple(names_in(step.expression))

    def sourced(self, extent: str) -> Sourced | None:
        """The amount that an extent comes from; None where it comes from anything else."""
        step = self.printed.steps.get(extent)
        if step is None:
            return None
        least = self.compared(step)
        if least:
            found = self.sourced(min(least, key=lambda name: self.printed.numbers.values[name]))
            return Sourced(found.amount, limited=True) if found else None
        alone = times_alone(step.expression)
        source = self.printed.quantities.get(alone[0]) if alone else None
        return Sourced(source, limited=False) if source and source.kind == "amount" else None

    def hidden(self, step: Step) -> bool:
        """Whether a step is passed over: an extent that only leads from one amount to another."""
        plain = step.quantity.kind == "extent" and not self.compared(step) and self.method != "extent"
        return plain and step.quantity.id not in self.asked_extents and self.sourced(step.quantity.id) is not None

    def shape(self, step: Step, shown: AbstractSet[str]) -> Copy | Ratioed | None:
        """How a step is told, given what has been shown."""
        alone = times_alone(step.expression)
        source = self.printed.quantities.get(alone[0]) if alone else None
        if alone is None or source is None or step.quantity.kind not in _PER_SPECIES:
            return None
        if source.kind == "extent":
            return self.from_extent(step.quantity, source, shown)
        if source.kind == step.quantity.kind and source.of != step.quantity.of:
            return Ratioed(source, alone[1].numerator, alone[1].denominator)
        return None

    def from_extent(self, target: Quantity, extent: Quantity, shown: AbstractSet[str]) -> Copy | Ratioed | None:
        """An amount that follows from an extent, told from reagent to product."""
        found = self.sourced(extent.id) if self.method != "extent" else None
        if found is None or target == found.amount:
            return None
        allowed = Quantity("amount", target.of, Role.FROM, source=found.amount.of)
        if allowed.id in shown and allowed != target:
            return Copy(allowed, found.limited)
        if found.amount.of == target.of:
            return Copy(found.amount, found.limited)
        return Ratioed(found.amount, *self.printed.scene.numbers(target.of, found.amount.of), found.limited)

    def allowances(self, step: Step, shown: AbstractSet[str]) -> tuple[Quantity, ...]:
        """The amounts of one product that were found from each reagent compared; () where they were not."""
        found = [self.sourced(name) for name in self.compared(step)]
        for product in self.printed.scene.products if self.method != "extent" else ():
            allowed = [Quantity("amount", product.id, Role.FROM, source=f.amount.of) for f in found if f is not None]
            if len(allowed) == len(found) and all(q.id in shown for q in allowed):
                return tuple(allowed)
        return ()

    def needs(self, step: Step, shown: AbstractSet[str]) -> Iterator[str]:
        """The quantities that the telling of a step looks back to, by id."""
        if self.compared(step):
            yield from self._compared_needs(step, shown)
            return
        if self.used_up(step) is not None:
            yield from self._left_over_needs(step, shown)
            return
        shape = self.shape(step, shown)
        for name in [shape.source.id] if shape else names_in(step.expression):
            yield from self._behind(name)
        if shape is not None and shape.limited:
            yield from (name for name in names_in(step.expression) if name in self.printed.steps)

    def _compared_needs(self, step: Step, shown: AbstractSet[str]) -> Iterator[str]:
        allowed = self.allowances(step, shown)
        if allowed:
            yield from (quantity.id for quantity in allowed)
            return
        for name in self.compared(step):
            yield from self._behind(name)

    def used_up(self, step: Step) -> Quantity | None:
        """What a step takes away from an amount to find what is left over; None for any other step."""
        target = step.quantity
        if target.kind != "amount" or target.role is not Role.LEFT or step.solved_for != "left":
            return None
        return Quantity("amount", target.of, Role.CONSUMED)

    def _left_over_needs(self, step: Step, shown: AbstractSet[str]) -> Iterator[str]:
        extent = next(n for n in names_in(step.expression) if self.printed.quantities[n].kind == "extent")
        used = Quantity("amount", step.quantity.of, Role.CONSUMED)
        yield from (n for n in names_in(step.expression) if n != extent)
        if used.id in self.printed.steps:
            yield used.id
            return
        shape = self.from_extent(used, self.printed.quantities[extent], shown)
        yield shape.source.id if shape else extent
        if shape is not None and shape.limited:
            yield extent

    def _behind(self, name: str) -> Iterator[str]:
        """The name itself, or the amount behind a hidden extent."""
        step = self.printed.steps.get(name)
        found = self.sourced(name) if step is not None and self.hidden(step) else None
        if found is not None:
            yield found.amount.id
            return
        yield name
