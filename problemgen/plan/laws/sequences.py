"""Steps in a row: what one equation gives is the reagent of the next; yields of each step and of all together.

What a step hands on is what was obtained of its product, or a portion of it, or, where nothing is isolated on the
way, all that could form.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.quantity import TAKEN_ROLES, Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS", "Handed", "handed_on"]

_MEASURED = ("mass", "volume", "amount")


@dataclass(frozen=True)
class Handed:
    """A product that the next equation starts from: how it is made, how it is used, and in which role."""

    species: str
    earlier: FurtherEquation
    later: FurtherEquation
    role: Role

    @property
    def amount(self) -> Quantity:
        """The amount that is handed on."""
        return Quantity("amount", self.species, self.role)

    @property
    def used(self) -> int:
        """Its coefficient where it is used."""
        return -self.later.coefficients[self.species]

    @property
    def made(self) -> int:
        """Its coefficient where it is made."""
        return self.earlier.coefficients[self.species]


def handed_on(scene: Scene) -> tuple[Handed, ...]:
    """The products that are handed from an equation to the next, in order."""
    equations = [scene.main, *(one for one in scene.further if not (one.beside or one.parallel))]
    return tuple(
        Handed(earlier.product, earlier, later, _role(scene, earlier.product))
        for earlier, later in pairwise(equations)
        if later.coefficients.get(earlier.product, 0) < 0
    )


def _role(scene: Scene, species: str) -> Role:
    """The role of what is handed on: a portion, what was obtained, or what could form."""
    for role in (Role.ONWARD, Role.ACTUAL):
        if any(Quantity(kind, species, role) in scene.told for kind in ("mass", "amount")):
            return role
    return Role.ACTUAL if Quantity("percent_yield", species) in scene.told else Role.THEORETICAL


def _own(scene: Scene, handed: Handed) -> Iterator[tuple[str, int]]:
    """The species of a later equation that no other equation has, with their coefficients."""
    others = [scene.main, *(one for one in scene.further if one is not handed.later)]
    next_one = {one.species for one in handed_on(scene) if one.earlier is handed.later}
    for name, nu in handed.later.coefficients.items():
        elsewhere = any(name in one.coefficients for one in others)
        if name != handed.species and (not elsewhere or name in next_one):
            yield name, nu


def _rivals(scene: Scene, handed: Handed) -> tuple[tuple[str, int], ...]:
    """The measured reagents that may limit a later step, where the amount handed on is known beside them."""
    begun = scene.sources or any(q.of == handed.species for q in scene.given)
    taken = {q.of for q in scene.given if q.kind in _MEASURED and q.role in TAKEN_ROLES}
    own = _own(scene, handed) if begun else ()
    return tuple((name, -nu) for name, nu in own if nu < 0 and name in taken and name not in scene.in_excess)


def _amount(name: str, nu: int) -> Quantity:
    return Quantity("amount", name, Role.THEORETICAL if nu > 0 else Role.PLAIN)


def _ratios(scene: Scene) -> Iterator[Place]:
    """X is a species of the later equation, Y what is handed on to it."""
    for handed in handed_on(scene):
        rivals = _rivals(scene, handed)
        for name, nu in _own(scene, handed):
            if rivals and nu < 0:
                continue
            target = _amount(name, nu).role if not rivals else f"from:{handed.species}"
            ratio = Fraction(abs(nu), handed.used)
            values = {"ratio": ratio, "earlier": Fraction(abs(nu), handed.made)}
            if name not in scene.in_excess:
                values["back"] = 1 / ratio
            yield Place(name, handed.species, role=target, words={"handed": handed.role}, values=values)


NEXT_STEP = law(
    "next-step", N_("Amounts in the next step"), "n = ratio handed",
    where={"n": "amount(X,*)", "handed": "amount(Y,{handed})", "in_theory": "amount(Y,theoretical)"}, each=_ratios,
    says={
        "n := ratio handed": N_("Multiply the amount that is handed on by the mole ratio of the next equation."),
        "handed := back n": N_("Multiply by the mole ratio of that equation to get the product of the step before "
                               "that is needed."),
    },
    source="green-book-2007 2.10: extent of reaction, each equation by itself",
    errors=[
        error("step-ratio-left-out", "n := handed; handed := n", N_("coefficients of the next equation left out"),
              N_("Read the equation of this step: how many of one substance go with how many of the other?")),
        error("step-ratio-inverted", "n := handed / ratio; handed := ratio n",
              N_("ratio of the next equation's coefficients upside down"),
              N_("Test your ratio on the equation of this step: does it give one coefficient for the other?")),
        error("earlier-coefficient", "n := earlier handed; handed := n / earlier",
              N_("a coefficient of the other equation"),
              N_("The substance stands in both equations: from which of them did you take its coefficient?")),
        error("theory-handed-on", "n := ratio in_theory", N_("the theoretical yield taken on to the next step"),
              N_("What stands in the flask of the next step: what could have formed, or what was obtained?")),
    ],
)  # fmt: skip


def _by_rivals(scene: Scene) -> Iterator[Place]:
    """X is a product of a later equation, Y a reagent that is measured beside what is handed on."""
    for handed in handed_on(scene):
        for rival, used in _rivals(scene, handed):
            formed = ((name, nu) for name, nu in _own(scene, handed) if nu > 0)
            yield from (Place(name, rival, values={"ratio": Fraction(nu, used)}) for name, nu in formed)


OTHER_REAGENT = law(
    "next-step-reagent", N_("Product from the other reagent of a step"),
    where={"n": "amount(X,from:Y)", "other": "amount(Y)"}, each=_by_rivals,
    says={
        "n := ratio other": N_("The other reagent of this step allows as much, by the coefficients of this step's "
                               "equation."),
    },
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=[by(NEXT_STEP.errors[0], "n := other")],
)  # fmt: skip


def _limits(law: Law, scene: Scene) -> Iterator[Instance]:
    for handed in handed_on(scene):
        rivals = [handed.species, *(name for name, _ in _rivals(scene, handed))]
        for name, nu in _own(scene, handed) if len(rivals) > 1 else ():
            if nu > 0:
                allowed = [Quantity("amount", name, Role.FROM, source=rival).id for rival in rivals]
                mistaken: dict[tuple[str, str], Expression] = {("excess-taken", "n"): ("max", *allowed)}
                binding = {"n": Quantity("amount", name, Role.THEORETICAL)}
                yield Instance(law, binding, direct={"n": ("min", *allowed)}, mistaken=mistaken)


STEP_LIMIT = law(
    "next-step-limit", N_("Limiting reagent of a later step"),
    instances=_limits,
    says={"n": N_("In each step the reagent that allows the least product limits.")},
    source="common-practice: the limiting reagent is the one that allows the least extent",
    errors=[
        error("excess-taken", None, N_("the reagent in excess taken as limiting"),
              N_("The reaction stops when the first reagent is used up: which one is that?")),
    ],
    rounding="none",
)  # fmt: skip


def _overall(law: Law, scene: Scene) -> Iterator[Instance]:
    chain = handed_on(scene)
    isolated = all(one.role is Role.ACTUAL for one in chain)
    if not chain or not isolated or any(_rivals(scene, one) for one in chain):
        return
    last = chain[-1].later.product
    each = [Quantity("percent_yield", name).id for name in (*(one.species for one in chain), last)]
    total: Expression = ("add", *each)
    mistaken: dict[tuple[str, str], Expression] = {
        ("yields-added", "Y"): total,
        ("yields-averaged", "Y"): ("div", total, ("num", str(len(each)))),
        ("last-yield-only", "Y"): each[-1],
    }
    binding = {"Y": Quantity("percent_yield", last, Role.OVERALL)}
    yield Instance(law, binding, direct={"Y": ("mul", *each)}, mistaken=mistaken)


OVERALL_YIELD = law(
    "overall-yield", N_("Yield over all steps"),
    instances=_overall,
    says={"Y": N_("Each step gives its own share of what the step before gave: the yields are multiplied.")},
    source="common-practice: yield of a sequence, every step taken up in full",
    errors=[
        error("yields-added", None, N_("yields added instead of multiplied"),
              N_("Does a further step bring more of the product, or lose some of it?")),
        error("yields-averaged", None, N_("the average of the yields"),
              N_("Each step loses a share of what the one before has left: is an average as small as that?")),
        error("last-yield-only", None, N_("the last step's yield taken for that of all"),
              N_("Was nothing lost before the last step?")),
    ],
)  # fmt: skip

LAWS = (NEXT_STEP, OTHER_REAGENT, STEP_LIMIT, OVERALL_YIELD)
