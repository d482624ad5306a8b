"""Mixtures of two: the mass of the mixture and one measured total tell how much of each there is.

Whatever is measured (acid used, precipitate, loss on heating) is one number if the mixture is all of the one
component, another if it is all of the other; a mixture lies between them as its composition does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.contents import SAMPLE
from problemgen.plan.laws.heating import DRIVEN_OFF, driven_off, drives_off
from problemgen.plan.laws.reactions import RATIO_LEFT_OUT
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS", "Component", "components", "totals"]


@dataclass(frozen=True)
class Component:
    """One component: its species and the equation in which it takes part."""

    species: str
    equation: FurtherEquation

    @property
    def whole(self) -> Quantity:
        """Its amount if the sample were nothing else."""
        return Quantity("amount", self.species, Role.WHOLE)

    def ratio(self, name: str) -> Fraction:
        """How much of another species goes with it."""
        return Fraction(abs(self.equation.coefficients[name]), -self.equation.coefficients[self.species])


def components(scene: Scene) -> tuple[Component, ...]:
    """The two components of a sample; () where it is no mixture of two."""
    beside = [one for one in scene.further if one.beside]
    if len(beside) != 1 or SAMPLE not in scene.given:
        return ()
    both = (scene.main, beside[0])
    found = []
    for equation, another in (both, both[::-1]):
        own = [n for n, nu in equation.coefficients.items() if nu < 0 and another.coefficients.get(n, 0) >= 0]
        found += [Component(name, equation) for name in own if name not in scene.in_excess]
    return tuple(found) if len(found) == len(both) else ()


def totals(scene: Scene) -> tuple[Quantity, ...]:
    """What may be measured of the whole mixture: a species that both equations have on one side, and is given."""
    two = components(scene)
    if not two:
        return ()
    first, second = (one.equation.coefficients for one in two)
    given = [q for q in scene.given if q.of and first.get(q.of, 0) * second.get(q.of, 0) > 0]
    kinds = {q.of: "mass" if scene.is_formed(q.of) and q.kind == "mass" else "amount" for q in given}
    found = [
        Quantity(kind, name, Role.THEORETICAL if scene.is_formed(name) else Role.PLAIN) for name, kind in kinds.items()
    ]
    return (*found, DRIVEN_OFF) if scene.driven_off else tuple(found)


def _each(scene: Scene) -> Iterator[str]:
    yield from (one.species for one in components(scene))


def _first(scene: Scene) -> Iterator[Place]:
    """X and Y are the two components."""
    two = components(scene)
    if two:
        yield Place(two[0].species, two[1].species)


WHOLE = law(
    "sample-of-one", N_("The sample, if it were one substance"),
    where={"n": "amount(X,whole)", "M": "molar_mass(X)", "sample": "mass(,sample)"}, each=_each,
    says={
        "n := sample / M": N_("If the whole sample were this substance, its mass over the molar mass would be the "
                              "amount."),
    },
    source="green-book-2007 2.10: M = m/n",
)  # fmt: skip


def _totals_of_one(scene: Scene) -> Iterator[Place]:
    """X is what is measured, Y one component, all of the sample for a while."""
    two = components(scene)
    for total in totals(scene):
        for one, another in (two, two[::-1]) if total.of else ():
            ratios = {"ratio": one.ratio(total.of), "other_ratio": another.ratio(total.of)}
            yield Place(total.of, one.species, values=ratios)


TOTAL_OF_ONE = law(
    "total-of-one", N_("What is measured, if the sample were one substance"),
    where={"n": "amount(X,from:Y)", "whole": "amount(Y,whole)"}, each=_totals_of_one,
    says={"n := ratio whole": N_("Multiply by the mole ratio of this substance's own equation.")},
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=[
        by(RATIO_LEFT_OUT, "n := whole"),
        error("coefficient-of-the-other", "n := other_ratio whole",
              N_("the coefficients of the other component's equation"),
              N_("Each component has an equation of its own: which of them did you read?")),
    ],
)  # fmt: skip


def _losses_of_one(scene: Scene) -> Iterator[Place]:
    for one in (one for one in components(scene) if drives_off(scene, one.equation)):
        loss = driven_off(scene, one.equation, -one.equation.coefficients[one.species])
        yield Place(y=one.species, values={"loss": loss})


LOSS_OF_ONE = law(
    "loss-of-one", N_("The loss on heating, if the sample were one substance"),
    where={"m": "mass(,from:Y)", "whole": "amount(Y,whole)"}, each=_losses_of_one,
    says={
        "m := whole loss": N_("Each mole of it would lose the molar masses of what is driven off, times their "
                              "coefficients."),
    },
    source="derived: the loss is the mass of what is driven off",
)  # fmt: skip


def _between_two(scene: Scene) -> Iterator[Place]:
    """X is what is measured ("" for the loss on heating), Y and Z are the two components."""
    for total in totals(scene):
        one, other = components(scene)
        yield Place(total.of, one.species, other.species, role=total.role, words={"kind": total.kind})


LEVER = law(
    "share-of-two", N_("Composition of a mixture of two"), "w = (x - all_other) / (all_one - all_other)",
    where={"w": "mass_fraction(Y)", "x": "{kind}(X,*)", "all_one": "{kind}(X,from:Y)", "all_other": "{kind}(X,from:Z)"},
    each=_between_two,
    says={
        "w := (x - all_other) / (all_one - all_other)": N_("Linear interpolation between the values of the pure "
                                                           "substances gives the mass percent."),
        "x := all_other + w (all_one - all_other)": N_("Linear interpolation between the values of the pure "
                                                       "substances gives the mixture's."),
    },
    source="derived: the masses make the sample, their totals make what is measured: two equations in two unknowns",
    errors=[
        error("components-exchanged", "w = (x - all_one) / (all_other - all_one)", N_("the two components exchanged"),
              N_("Towards the value of which pure substance does the mixture's lie when there is more of this one?"),
              at="w"),
        error("all-from-one", "w = x / all_one", N_("everything that was measured put down to one component"),
              N_("Does the other component add nothing to what was measured?"), at="w"),
    ],
)  # fmt: skip

ONE_MASS = law(
    "mass-in-mixture", N_("Mass of a component"), "m = w sample",
    where={"m": "mass(X)", "w": "mass_fraction(X)", "sample": "mass(,sample)"}, each=_first,
    says={
        "m": N_("The mass of the mixture times the mass percent gives the mass of the component."),
        "w": N_("The mass of the component divided by that of the mixture gives the mass percent."),
    },
    source="green-book-2007 2.10: mass fraction w",
)  # fmt: skip

OTHER_MASS = law(
    "rest-of-mixture", N_("The other component"), "sample = m + other",
    where={"m": "mass(X)", "other": "mass(Y)", "sample": "mass(,sample)"}, each=_first,
    says={
        "other := sample - m": N_("What of the mixture is not the one component is the other."),
        "m := sample - other": N_("What of the mixture is not the other component is this one."),
    },
    source="derived: masses add up",
)  # fmt: skip

OTHER_SHARE = law(
    "rest-of-percent", N_("Percentage of the other component"), "1 = w + other",
    where={"w": "mass_fraction(X)", "other": "mass_fraction(Y)"}, each=_first,
    says={
        "other := 1 - w": N_("The mass percents of the two components make the whole."),
        "w := 1 - other": N_("The mass percents of the two components make the whole."),
    },
    source="derived: shares add up to the whole",
)  # fmt: skip

LAWS = (WHOLE, TOTAL_OF_ONE, LOSS_OF_ONE, LEVER, ONE_MASS, OTHER_MASS, OTHER_SHARE)
