"""Weighed, heated, weighed again: what is driven off, and the water of crystallisation of a hydrate."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import FurtherEquation, Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["DRIVEN_OFF", "HEATED", "LAWS", "crystal_water", "driven_off", "drives_off"]

HEATED = Quantity("mass", "", Role.HEATED)
"""What is left of a sample after heating."""

DRIVEN_OFF = Quantity("mass", "", Role.DRIVEN_OFF)
"""What a sample has lost by heating."""


def crystal_water(salt: str) -> Quantity:
    """The water of crystallisation of a salt's hydrate, per formula unit."""
    return Quantity("crystal_water", salt)


def driven_off(scene: Scene, equation: FurtherEquation, times: int = 1) -> Expression:
    """The molar mass of what one equation drives off, over `times` formula units."""
    terms: list[Expression] = []
    for name, nu in equation.coefficients.items():
        if name in scene.driven_off and nu > 0:
            molar = Quantity("molar_mass", name).id
            terms.append(("mul", ("num", str(nu)), molar) if nu > 1 else molar)
    total: Expression = ("add", *terms) if len(terms) > 1 else terms[0]
    return ("div", total, ("num", str(times))) if times > 1 else total


def drives_off(scene: Scene, equation: FurtherEquation) -> bool:
    """Whether an equation has a product that leaves the sample."""
    return any(nu > 0 and name in scene.driven_off for name, nu in equation.coefficients.items())


def _salts(scene: Scene) -> Iterator[tuple[Species, Species]]:
    """The salts whose hydrates' water is asked, each with the water."""
    for salt in scene.species.values():
        for water in scene.species.values():
            is_water = water.formula is not None and water.formula.text == "H2O"
            if is_water and crystal_water(salt.id) in scene.wanted and salt.formula is not None:
                yield salt, water


def _losses(scene: Scene) -> Iterator[Place]:
    if scene.driven_off:
        yield Place(role=Role.DRIVEN_OFF)
    yield from (Place(water.id) for _, water in _salts(scene))


def _hydrates(scene: Scene) -> Iterator[Place]:
    """X is the salt, Y its water."""
    yield from (Place(salt.id, water.id) for salt, water in _salts(scene))


LOSS = law(
    "loss-on-heating", N_("Loss on heating"),
    where={"before": "mass(,sample)", "after": "mass(,heated)", "lost": "mass(X,*)"}, each=_losses,
    says={
        "lost := before - after": N_("The mass before heating less the mass after it is what was driven off."),
        "after := before - lost": N_("The mass before heating less what is driven off is left."),
        "before := after + lost": N_("What is left and what was driven off make the mass before heating."),
    },
    source="derived: masses add up",
    errors=[
        error("rest-for-loss", "lost := after", N_("the mass after heating taken for the loss"),
              N_("Which mass did the heating drive off, and which stayed behind?")),
    ],
)  # fmt: skip


def _losing(scene: Scene) -> Iterator[Place]:
    """What one mole of reaction drives off: all of it, and each of several gases alone."""
    if drives_off(scene, scene.main) and not any(one.beside for one in scene.further):
        values: dict[str, Expression | Fraction] = {"all": driven_off(scene, scene.main)}
        gases = sorted(name for name in scene.driven_off if scene.species[name].is_product)
        for number, name in enumerate(gases if len(gases) > 1 else (), start=1):
            values[f"gas{number}"] = driven_off(scene, FurtherEquation("", {name: scene.species[name].nu}, ""))
        yield Place(values=values)


_ONE_GAS = error(
    "only-one-gas-1", "xi := lost / gas1", N_("one of the substances driven off left out"),
    N_("What is driven off may be more than one substance: does your molar mass stand for all of the loss?"),
)  # fmt: skip

LOSS_OF_REACTION = law(
    "loss-of-reaction", N_("Extent of reaction from the loss"),
    where={"lost": "mass(,driven_off)", "xi": "extent()"}, each=_losing,
    says={
        "xi := lost / all": N_("The loss, divided by the molar masses of all that one mole of reaction drives "
                               "off, gives the extent."),
        "lost := xi all": N_("Each mole of reaction loses the molar masses of what is driven off."),
    },
    source="green-book-2007 2.10: extent of reaction ξ; derived: the loss is the mass of what is driven off",
    errors=[_ONE_GAS, replace(_ONE_GAS, id="only-one-gas-2", relation="xi := lost / gas2")],
)  # fmt: skip

RESIDUE = law(
    "residue", N_("What is left is the salt"),
    where={"n": "amount(X)", "M": "molar_mass(X)", "heated": "mass(,heated)", "sample": "mass(,sample)"},
    each=_hydrates,
    says={
        "n := heated / M": N_("What is left after heating is the salt without water: its mass over its molar mass "
                              "is the amount."),
    },
    source="green-book-2007 2.10: M = m/n",
    errors=[
        error("hydrate-for-salt", "n := sample / M", N_("the mass of the hydrate with the molar mass of the dry salt"),
              N_("To which of the two weighings does the molar mass of the dry salt belong?")),
    ],
)  # fmt: skip

WATERS = law(
    "water-of-crystallisation", N_("Water of crystallisation"),
    where={"x": "crystal_water(X)", "salt": "amount(X)", "water": "amount(Y)", "lost": "mass(Y)",
           "heated": "mass(,heated)"},
    each=_hydrates,
    says={
        "x := round(water / salt)": N_("The amount of water over that of the dry salt is near a whole number: the "
                                       "waters per formula unit."),
    },
    source="derived: a formula unit has a whole number of water molecules",
    errors=[
        error("hydrate-masses-compared", "x := round(lost / heated)", N_("masses compared instead of amounts"),
              N_("A formula counts particles: were the masses turned into amounts before they were compared?")),
        error("hydrate-ratio-inverted", "x := round(salt / water)", N_("water and salt exchanged in the ratio"),
              N_("How many waters go with one of the salt: which amount stands above the line?")),
    ],
    rounding="whole",
)  # fmt: skip

LAWS = (LOSS, LOSS_OF_REACTION, RESIDUE, WATERS)
