"""Weighed, heated, weighed again: what is driven off, and the water of crystallisation of a hydrate."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import FurtherEquation, Scene, Species
from problemgen.model.quantity import OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, difference, letters
from problemgen.plan.laws.contents import SAMPLE

__all__ = ["DRIVEN_OFF", "HEATED", "LAWS", "driven_off", "drives_off", "waters"]

before, after, lost, n = letters("before after lost n")

HEATED = Quantity("mass", "", Role.HEATED)
"""What is left of a sample after heating."""

DRIVEN_OFF = Quantity("mass", "", Role.DRIVEN_OFF)
"""What a sample has lost by heating."""


def waters(salt: str) -> Quantity:
    """The water of crystallisation of a salt's hydrate, per formula unit."""
    return Quantity("waters", salt)


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
            if is_water and waters(salt.id) in scene.wanted and salt.formula is not None:
                yield salt, water


def _losses(law: Law, scene: Scene) -> Iterator[Instance]:
    gone = [DRIVEN_OFF] if scene.driven_off else []
    for loss in (*gone, *(Quantity("mass", water.id) for _, water in _salts(scene))):
        direct: dict[str, Expression] = {
            "lost": difference(SAMPLE, HEATED),
            "after": difference(SAMPLE, loss),
            "before": ("add", HEATED.id, loss.id),
        }
        yield Instance(law, {"before": SAMPLE, "after": HEATED, "lost": loss}, direct=direct)


LOSS = Law(
    id="loss-on-heating",
    title="Loss on heating",
    relation=before - after - lost,
    instances=_losses,
    words={
        "lost": "The mass before heating less the mass after it is what was driven off.",
        "after": "The mass before heating less what is driven off is left.",
        "before": "What is left and what was driven off make the mass before heating.",
    },
    source="derived: masses add up",
    misuses=(
        Misuse(
            "rest-for-loss",
            "the mass after heating taken for the loss",
            "Which mass did the heating drive off, and which stayed behind?",
            after - lost,
            only_for=frozenset({"lost"}),
        ),
    ),
)


def _losses_of_reaction(law: Law, scene: Scene) -> Iterator[Instance]:
    if drives_off(scene, scene.main) and not any(one.beside for one in scene.further):
        molar = driven_off(scene, scene.main)
        direct: dict[str, Expression] = {
            "lost": ("mul", OVERALL_EXTENT.id, molar),
            "xi": ("div", DRIVEN_OFF.id, molar),
        }
        several = [name for name in scene.driven_off if scene.species[name].is_product]
        mistaken: dict[tuple[str, str], Expression] = {}
        for name in sorted(several) if len(several) > 1 else ():
            one = driven_off(scene, FurtherEquation("", {name: scene.species[name].nu}, ""))
            mistaken[f"only-one-gas-{len(mistaken) + 1}", "xi"] = ("div", DRIVEN_OFF.id, one)
        yield Instance(law, {"lost": DRIVEN_OFF, "xi": OVERALL_EXTENT}, direct=direct, mistaken=mistaken)


_ONE_GAS = "What is driven off may be more than one substance: does your molar mass stand for all of the loss?"

LOSS_OF_REACTION = Law(
    id="loss-of-reaction",
    title="Extent of reaction from the loss",
    relation=None,
    instances=_losses_of_reaction,
    words={
        "xi": "The loss, divided by the molar masses of all that one mole of reaction drives off, gives the extent.",
        "lost": "Each mole of reaction loses the molar masses of what is driven off.",
    },
    source="green-book-2007 2.10: extent of reaction ξ; derived: the loss is the mass of what is driven off",
    misuses=(
        Misuse("only-one-gas-1", "one of the substances driven off left out", _ONE_GAS, None),
        Misuse("only-one-gas-2", "one of the substances driven off left out", _ONE_GAS, None),
    ),
)


def _residues(law: Law, scene: Scene) -> Iterator[Instance]:
    for salt, _ in _salts(scene):
        molar = Quantity("molar_mass", salt.id).id
        mistaken: dict[tuple[str, str], Expression] = {("hydrate-for-salt", "n"): ("div", SAMPLE.id, molar)}
        direct: dict[str, Expression] = {"n": ("div", HEATED.id, molar)}
        yield Instance(law, {"n": Quantity("amount", salt.id)}, direct=direct, mistaken=mistaken)


RESIDUE = Law(
    id="residue",
    title="What is left is the salt",
    relation=None,
    instances=_residues,
    words={"n": "What is left after heating is the salt without water: its mass over its molar mass is the amount."},
    source="green-book-2007 2.10: M = m/n",
    misuses=(
        Misuse(
            "hydrate-for-salt",
            "the mass of the hydrate with the molar mass of the dry salt",
            "To which of the two weighings does the molar mass of the dry salt belong?",
            None,
        ),
    ),
)


def _water_numbers(law: Law, scene: Scene) -> Iterator[Instance]:
    for salt, water in _salts(scene):
        dry, driven = Quantity("amount", salt.id).id, Quantity("amount", water.id).id
        masses: Expression = ("div", Quantity("mass", water.id).id, HEATED.id)
        mistaken: dict[tuple[str, str], Expression] = {
            ("hydrate-masses-compared", "x"): ("round", masses),
            ("hydrate-ratio-inverted", "x"): ("round", ("div", dry, driven)),
        }
        yield Instance(law, {"x": waters(salt.id)}, direct={"x": ("round", ("div", driven, dry))}, mistaken=mistaken)


WATERS = Law(
    id="water-of-crystallisation",
    title="Water of crystallisation",
    relation=None,
    instances=_water_numbers,
    words={"x": "The amount of water over that of the dry salt is near a whole number: the waters per formula unit."},
    source="derived: a formula unit has a whole number of water molecules",
    misuses=(
        Misuse(
            "hydrate-masses-compared",
            "masses compared instead of amounts",
            "A formula counts particles: were the masses turned into amounts before they were compared?",
            None,
        ),
        Misuse(
            "hydrate-ratio-inverted",
            "water and salt exchanged in the ratio",
            "How many waters go with one of the salt: which amount stands above the line?",
            None,
        ),
    ),
    rounding="whole",
)

LAWS = (LOSS, LOSS_OF_REACTION, RESIDUE, WATERS)
