"""What is taken of a reagent against what is needed: equivalents and percent excess."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters
from problemgen.plan.laws.reactions import RATIO_INVERTED, RATIO_LEFT_OUT
from problemgen.plan.laws.scaling import published_ratio

__all__ = ["LAWS"]

n, xi, r, reference, exc, needed, surplus, taken = letters("n xi r reference exc needed surplus taken")
own_mass, other_mass = letters("own_mass other_mass")
nu = coefficient_letter


def _told(scene: Scene, kind: str) -> Iterator[Quantity]:
    """The quantities of a kind that a problem gives or asks for."""
    yield from sorted(quantity for quantity in scene.given | scene.wanted if quantity.kind == kind)


def _reference(scene: Scene, equivalents: Quantity) -> Quantity | None:
    """The amount that equivalents are counted against; None where it is not clear.

    That of the reagent named; else of the only reagent that can limit; else, with two reagents, of the other one.
    """
    if equivalents.source:
        return Quantity("amount", equivalents.source)
    others = [species for species in scene.competing or scene.reagents if species.id != equivalents.of]
    return Quantity("amount", others[0].id) if len(others) == 1 else None


def _equivalents(law: Law, scene: Scene) -> Iterator[Instance]:
    for quantity in _told(scene, "equivalents"):
        against = _reference(scene, quantity)
        pairs = [*published_ratio(scene, quantity)]
        if not pairs and against is not None and quantity in scene.wanted:
            pairs.append((Quantity("amount", quantity.of), against))
        for own, other in pairs:
            masses = {"own_mass": own.as_kind("mass").id, "other_mass": other.as_kind("mass").id}
            yield Instance(law, {"n": own, "reference": other, "r": quantity}, extra=masses)


EQUIVALENTS = Law(
    id="equivalents",
    title="Equivalents of a reagent",
    relation=r * reference - n,
    instances=_equivalents,
    words={"r": "The amount of the reagent divided by that of the reference reagent gives its equivalents."},
    source="iso-80000-9-2019: amount ratio r; common-practice: a preparation's table counts amounts against one "
    "reagent's, and what the equation asks for is not divided out",
    misuses=(
        Misuse(
            "equivalents-inverted",
            "equivalents upside down",
            "Which one is the reference reagent, and which of the two was there in the larger amount?",
            r * n - reference,
        ),
        Misuse(
            "equivalents-of-masses",
            "masses compared in place of amounts",
            "Equivalents compare amounts: what leads from each mass to its amount?",
            r * other_mass - own_mass,
        ),
    ),
)


def _by_equivalents(law: Law, scene: Scene) -> Iterator[Instance]:
    for quantity in _told(scene, "equivalents"):
        against = _reference(scene, quantity)
        if against is not None and quantity in scene.given:
            yield Instance(law, {"taken": Quantity("amount", quantity.of, Role.TAKEN), "n": against, "r": quantity})


BY_EQUIVALENTS = Law(
    id="by-equivalents",
    title="Amount to take by equivalents",
    relation=r * n - taken,
    instances=_by_equivalents,
    words={
        "taken": "The equivalents times the amount of the reference reagent give the amount to take.",
        "n": "The amount taken divided by the equivalents gives the amount of the reference reagent.",
    },
    source=EQUIVALENTS.source,
    misuses=(
        Misuse(
            "equivalents-left-out",
            "the equivalents left out",
            "Read the procedure once more: how many equivalents of this reagent are taken?",
            n - taken,
        ),
        Misuse(
            "equivalents-divided",
            "equivalents used upside down",
            "Is more or less of this reagent taken than of the reference reagent?",
            n / r - taken,
        ),
    ),
)


def _needed(law: Law, scene: Scene) -> Iterator[Instance]:
    """What is needed of a reagent follows from the other ones: measured against itself, it is never in excess."""
    for quantity in _told(scene, "excess"):
        species = scene.species.get(quantity.of)
        if species is not None and species.coefficient < 0 and scene.sources != (species.id,):
            binding = {"n": Quantity("amount", species.id, Role.NEEDED), "xi": OVERALL_EXTENT}
            yield Instance(law, binding, nu=species.nu)


NEEDED = Law(
    id="needed",
    title="What the equation asks for",
    relation=n - nu * xi,
    instances=_needed,
    words={"n": "The coefficient times the extent of reaction gives the amount that is needed."},
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=(
        Misuse("ratio-left-out", RATIO_LEFT_OUT.title, RATIO_LEFT_OUT.hint, n - xi, everywhere=True),
        Misuse("ratio-inverted", RATIO_INVERTED.title, RATIO_INVERTED.hint, n * nu - xi, everywhere=True),
    ),
)


def _surplus(law: Law, scene: Scene) -> Iterator[Instance]:
    for quantity in _told(scene, "excess"):
        if quantity in scene.wanted:
            names = {"n": Role.PLAIN, "needed": Role.NEEDED, "surplus": Role.SURPLUS}
            yield Instance(law, {letter: Quantity("amount", quantity.of, role) for letter, role in names.items()})


SURPLUS = Law(
    id="surplus",
    title="Excess over what is needed",
    relation=n - needed - surplus,
    instances=_surplus,
    words={"surplus": "What was taken less what is needed is the excess."},
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=(
        Misuse(
            "excess-of-all",
            "all that was taken compared with what is needed",
            "The excess is only what goes beyond what is needed.",
            n - surplus,
        ),
    ),
)


def _excesses(law: Law, scene: Scene) -> Iterator[Instance]:
    for quantity in _told(scene, "excess"):
        if quantity in scene.wanted:
            binding = {
                "exc": quantity,
                "surplus": Quantity("amount", quantity.of, Role.SURPLUS),
                "needed": Quantity("amount", quantity.of, Role.NEEDED),
            }
            yield Instance(law, binding, extra={"n": Quantity("amount", quantity.of).id})


EXCESS = Law(
    id="excess",
    title="Percent excess",
    relation=exc * needed - surplus,
    instances=_excesses,
    words={"exc": "The excess over what is needed is the percent excess."},
    source="common-practice: an excess is told in percent of the amount that the equation asks for",
    misuses=(
        Misuse(
            "excess-against-total",
            "the excess compared with all that was taken",
            "A percent excess refers to what is needed, not to what was taken.",
            exc * n - surplus,
        ),
        Misuse(
            "excess-inverted",
            "percent excess upside down",
            "What belongs below the line: what is needed, or what is beyond it?",
            exc * surplus - needed,
        ),
    ),
)


def _with_excess(law: Law, scene: Scene) -> Iterator[Instance]:
    for quantity in _told(scene, "excess"):
        if quantity in scene.given:
            need, take = (Quantity("amount", quantity.of, role) for role in (Role.NEEDED, Role.TAKEN))
            sum_of_both: Expression = ("add", need.id, ("mul", quantity.id, need.id))
            yield Instance(law, {"needed": need, "taken": take, "exc": quantity}, direct={"taken": sum_of_both})


WITH_EXCESS = Law(
    id="with-excess",
    title="Amount to take with an excess",
    relation=needed * (1 + exc) - taken,
    instances=_with_excess,
    words={"taken": "Add the excess, a percentage of what is needed, to the amount required."},
    source=EXCESS.source,
    misuses=(
        Misuse(
            "excess-left-out",
            "the excess left out",
            "Read the procedure once more: is just what is needed taken?",
            needed - taken,
        ),
        Misuse(
            "excess-alone-taken",
            "the excess taken alone",
            "The excess comes on top: on top of what?",
            needed * exc - taken,
        ),
        Misuse(
            "excess-of-total",
            "the excess reckoned on all that is taken",
            "A percent excess refers to what is needed, not to what is taken.",
            needed / (1 - exc) - taken,
        ),
    ),
)


LAWS = (EQUIVALENTS, BY_EQUIVALENTS, NEEDED, SURPLUS, EXCESS, WITH_EXCESS)
