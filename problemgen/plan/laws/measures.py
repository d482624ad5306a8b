"""What is taken of a reagent against what is needed: equivalents and percent excess."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity
from problemgen.plan.laws.reactions import RATIO_INVERTED, RATIO_LEFT_OUT
from problemgen.plan.laws.scaling import published_ratio
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS"]


def _reference(scene: Scene, equivalents: Quantity) -> Quantity | None:
    """The amount that equivalents are counted against; None where it is not clear.

    That of the reagent named; else of the only reagent that can limit; else, with two reagents, of the other one.
    """
    if equivalents.source:
        return Quantity("amount", equivalents.source)
    others = [species for species in scene.competing or scene.reagents if species.id != equivalents.of]
    return Quantity("amount", others[0].id) if len(others) == 1 else None


def _all(scene: Scene, kind: str) -> list[Quantity]:
    """The quantities of a kind that a problem gives or asks for."""
    return sorted(quantity for quantity in scene.told if quantity.kind == kind)


def _compared(scene: Scene) -> Iterator[Place]:
    """X is a reagent whose equivalents are told or asked for, Y the one that they are counted against."""
    for quantity in _all(scene, "equivalents"):
        against = _reference(scene, quantity)
        pairs = [*published_ratio(scene, quantity)]
        if not pairs and against is not None and quantity in scene.wanted:
            pairs.append((Quantity("amount", quantity.of), against))
        for own, other in pairs:
            words = {"own": own.role, "other": other.role, "equivalents": quantity.written_role}
            yield Place(quantity.of, other.of, words=words)


EQUIVALENTS = law(
    "equivalents", N_("Equivalents of a reagent"), "r = n / reference",
    where={"n": "amount(X,{own})", "reference": "amount(Y,{other})", "r": "equivalents(X,{equivalents})",
           "own_mass": "mass(X,{own})", "other_mass": "mass(Y,{other})"},
    each=_compared,
    says={"r": N_("The amount of the reagent divided by that of the reference reagent gives its equivalents.")},
    source=("iso-80000-9-2019: amount ratio r; common-practice: a preparation's table counts amounts against one "
            "reagent's, and what the equation asks for is not divided out"),
    errors=[
        error("equivalents-inverted", "r = reference / n", N_("equivalents upside down"),
              N_("Which one is the reference reagent, and which of the two was there in the larger amount?")),
        error("equivalents-of-masses", "r = own_mass / other_mass", N_("masses compared in place of amounts"),
              N_("Equivalents compare amounts: what leads from each mass to its amount?")),
    ],
)  # fmt: skip


def _given_equivalents(scene: Scene) -> Iterator[Place]:
    for quantity in _all(scene, "equivalents"):
        against = _reference(scene, quantity)
        if against is not None and quantity in scene.given:
            yield Place(quantity.of, against.of, role=quantity.written_role)


BY_EQUIVALENTS = law(
    "by-equivalents", N_("Amount to take by equivalents"), "taken = r n",
    where={"taken": "amount(X,taken)", "n": "amount(Y)", "r": "equivalents(X,*)"}, each=_given_equivalents,
    says={
        "taken": N_("The equivalents times the amount of the reference reagent give the amount to take."),
        "n": N_("The amount taken divided by the equivalents gives the amount of the reference reagent."),
    },
    source=EQUIVALENTS.source,
    errors=[
        error("equivalents-left-out", "taken = n", N_("the equivalents left out"),
              N_("Read the procedure once more: how many equivalents of this reagent are taken?")),
        error("equivalents-divided", "taken = n / r", N_("equivalents used upside down"),
              N_("Is more or less of this reagent taken than of the reference reagent?")),
    ],
)  # fmt: skip


def _excesses(scene: Scene) -> list[Quantity]:
    return _all(scene, "excess")


def _needed(scene: Scene) -> Iterator[Species]:
    """What is needed of a reagent follows from the other ones: measured against itself, it is never in excess."""
    for quantity in _excesses(scene):
        species = scene.species.get(quantity.of)
        if species is not None and species.coefficient < 0 and scene.sources != (species.id,):
            yield species


NEEDED = law(
    "needed", N_("What the equation asks for"), "n = nu xi",
    where={"n": "amount(X,needed)", "xi": "extent()"}, each=_needed,
    says={"n": N_("The coefficient times the extent of reaction gives the amount that is needed.")},
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=[by(RATIO_LEFT_OUT, "n = xi"), by(RATIO_INVERTED, "xi = nu n")],
)  # fmt: skip

SURPLUS = law(
    "surplus", N_("Excess over what is needed"), "surplus = n - needed",
    where={"n": "amount(X)", "needed": "amount(X,needed)", "surplus": "amount(X,surplus)", "exc": "excess(X,*)"},
    each=_excesses, asked="exc",
    says={"surplus": N_("What was taken less what is needed is the excess.")},
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=[
        error("excess-of-all", "surplus = n", N_("all that was taken compared with what is needed"),
              N_("The excess is only what goes beyond what is needed.")),
    ],
)  # fmt: skip

EXCESS = law(
    "excess", N_("Percent excess"), "exc = surplus / needed",
    where={"exc": "excess(X,*)", "surplus": "amount(X,surplus)", "needed": "amount(X,needed)", "n": "amount(X)"},
    each=_excesses, asked="exc",
    says={"exc": N_("The excess divided by what is needed is the percent excess.")},
    source="common-practice: an excess is told in percent of the amount that the equation asks for",
    errors=[
        error("excess-against-total", "exc = surplus / n", N_("the excess compared with all that was taken"),
              N_("A percent excess refers to what is needed, not to what was taken.")),
        error("excess-inverted", "exc = needed / surplus", N_("percent excess upside down"),
              N_("What belongs below the line: what is needed, or what is beyond it?")),
    ],
)  # fmt: skip

WITH_EXCESS = law(
    "with-excess", N_("Amount to take with an excess"), "taken = needed (1 + exc)",
    where={"needed": "amount(X,needed)", "taken": "amount(X,taken)", "exc": "excess(X,*)"}, each=_excesses, given="exc",
    says={
        "taken := needed + exc needed": N_("Add the excess, a percentage of what is needed, to the amount required."),
    },
    source=EXCESS.source,
    errors=[
        error("excess-left-out", "taken = needed", N_("the excess left out"),
              N_("Read the procedure once more: is just what is needed taken?")),
        error("excess-alone-taken", "taken = needed exc", N_("the excess taken alone"),
              N_("The excess comes on top: on top of what?")),
        error("excess-of-total", "taken = needed / (1 - exc)", N_("the excess reckoned on all that is taken"),
              N_("A percent excess refers to what is needed, not to what is taken.")),
    ],
)  # fmt: skip

LAWS = (EQUIVALENTS, BY_EQUIVALENTS, NEEDED, SURPLUS, EXCESS, WITH_EXCESS)
