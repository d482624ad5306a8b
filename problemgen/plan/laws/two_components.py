"""Mixtures of two: the mass of the mixture and one measured total tell how much of each there is.

Whatever is measured (acid used, precipitate, loss on heating) is one number if the mixture is all of the one
component, another if it is all of the other; a mixture lies between them as its composition does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, difference, letters, scaled
from problemgen.plan.laws.contents import SAMPLE
from problemgen.plan.laws.heating import DRIVEN_OFF, driven_off, drives_off
from problemgen.plan.laws.reactions import RATIO_LEFT_OUT

__all__ = ["LAWS", "Component", "components", "totals"]

w, x, all_one, all_other, m, sample, other = letters("w x all_one all_other m sample other")


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


def _if_all(total: Quantity, component: Component) -> Quantity:
    """The total if the sample were one component only."""
    return Quantity(total.kind, total.of, Role.FROM, source=component.species)


def _wholes(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in components(scene):
        molar = Quantity("molar_mass", one.species)
        yield Instance(law, {"n": one.whole}, direct={"n": ("div", SAMPLE.id, molar.id)})


WHOLE = Law(
    id="sample-of-one",
    title="The sample, if it were one substance",
    relation=None,
    instances=_wholes,
    words={"n": "If the whole sample were this substance, its mass over the molar mass would be the amount."},
    source="green-book-2007 2.10: M = m/n",
)


def _totals_of_one(law: Law, scene: Scene) -> Iterator[Instance]:
    two = components(scene)
    for total in totals(scene):
        for one, another in (two, two[::-1]) if total.of else ():
            source = one.whole.id
            mistaken: dict[tuple[str, str], Expression] = {
                (RATIO_LEFT_OUT.id, "n"): source,
                ("coefficient-of-the-other", "n"): scaled(source, another.ratio(total.of)),
            }
            target = Quantity("amount", total.of, Role.FROM, source=one.species)
            direct = {"n": scaled(source, one.ratio(total.of))}
            yield Instance(law, {"n": target}, direct=direct, mistaken=mistaken)


TOTAL_OF_ONE = Law(
    id="total-of-one",
    title="What is measured, if the sample were one substance",
    relation=None,
    instances=_totals_of_one,
    words={"n": "Multiply by the mole ratio of this substance's own equation."},
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=(
        Misuse(RATIO_LEFT_OUT.id, RATIO_LEFT_OUT.title, RATIO_LEFT_OUT.hint, None, everywhere=True),
        Misuse(
            "coefficient-of-the-other",
            "the coefficients of the other component's equation",
            "Each component has an equation of its own: which of them did you read?",
            None,
        ),
    ),
)


def _losses_of_one(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in (one for one in components(scene) if drives_off(scene, one.equation)):
        loss = driven_off(scene, one.equation, -one.equation.coefficients[one.species])
        binding = {"m": _if_all(DRIVEN_OFF, one)}
        yield Instance(law, binding, direct={"m": ("mul", one.whole.id, loss)})


LOSS_OF_ONE = Law(
    id="loss-of-one",
    title="The loss on heating, if the sample were one substance",
    relation=None,
    instances=_losses_of_one,
    words={"m": "Each mole of it would lose the molar masses of what is driven off, times their coefficients."},
    source="derived: the loss is the mass of what is driven off",
)


def _shares(law: Law, scene: Scene) -> Iterator[Instance]:
    two = components(scene)
    for total in totals(scene):
        share = Quantity("mass_fraction", two[0].species)
        one, another = (_if_all(total, component) for component in two)
        span = difference(one, another)
        direct: dict[str, Expression] = {
            "w": ("div", difference(total, another), span),
            "x": ("add", another.id, ("mul", share.id, span)),
        }
        binding = {"w": share, "x": total, "all_one": one, "all_other": another}
        yield Instance(law, binding, direct=direct)


LEVER = Law(
    id="share-of-two",
    title="Composition of a mixture of two",
    relation=w * (all_one - all_other) - (x - all_other),
    instances=_shares,
    words={
        "w": "Linear interpolation between the values of the pure substances gives the mass percent.",
        "x": "Linear interpolation between the values of the pure substances gives the mixture's.",
    },
    source="derived: the masses make the sample, their totals make what is measured: two equations in two unknowns",
    misuses=(
        Misuse(
            "components-exchanged",
            "the two components exchanged",
            "Towards the value of which pure substance does the mixture's lie when there is more of this one?",
            w * (all_other - all_one) - (x - all_one),
            only_for=frozenset({"w"}),
        ),
        Misuse(
            "all-from-one",
            "everything that was measured put down to one component",
            "Does the other component add nothing to what was measured?",
            w * all_one - x,
            only_for=frozenset({"w"}),
        ),
    ),
)


def _masses(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in components(scene)[:1]:
        share, mass = Quantity("mass_fraction", one.species), Quantity("mass", one.species)
        yield Instance(law, {"m": mass, "w": share, "sample": SAMPLE})


ONE_MASS = Law(
    id="mass-in-mixture",
    title="Mass of a component",
    relation=w * sample - m,
    instances=_masses,
    words={
        "m": "The mass of the mixture times the mass percent gives the mass of the component.",
        "w": "The mass of the component divided by that of the mixture gives the mass percent.",
    },
    source="green-book-2007 2.10: mass fraction w",
)


def _other_masses(law: Law, scene: Scene) -> Iterator[Instance]:
    two = components(scene)
    if two:
        one, another = (Quantity("mass", component.species) for component in two)
        direct = {"m": difference(SAMPLE, another), "other": difference(SAMPLE, one)}
        yield Instance(law, {"m": one, "other": another, "sample": SAMPLE}, direct=direct)


OTHER_MASS = Law(
    id="rest-of-mixture",
    title="The other component",
    relation=sample - m - other,
    instances=_other_masses,
    words={
        "other": "What of the mixture is not the one component is the other.",
        "m": "What of the mixture is not the other component is this one.",
    },
    source="derived: masses add up",
)


def _other_shares(law: Law, scene: Scene) -> Iterator[Instance]:
    two = components(scene)
    if two:
        one, another = (Quantity("mass_fraction", component.species) for component in two)
        direct: dict[str, Expression] = {
            "w": ("add", ("num", "1"), ("neg", another.id)),
            "other": ("add", ("num", "1"), ("neg", one.id)),
        }
        yield Instance(law, {"w": one, "other": another}, direct=direct)


OTHER_SHARE = Law(
    id="rest-of-percent",
    title="Percentage of the other component",
    relation=1 - w - other,
    instances=_other_shares,
    words={
        "other": "The mass percents of the two components make the whole.",
        "w": "The mass percents of the two components make the whole.",
    },
    source="derived: shares add up to the whole",
)

LAWS = (WHOLE, TOTAL_OF_ONE, LOSS_OF_ONE, LEVER, ONE_MASS, OTHER_MASS, OTHER_SHARE)
