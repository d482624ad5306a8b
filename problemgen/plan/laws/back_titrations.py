"""Back titrations: a reagent is added in excess, and what is left of it is titrated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Role
from problemgen.plan.laws.reactions import RATIO_INVERTED, RATIO_LEFT_OUT
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS", "Titrated", "titrated_back"]


@dataclass(frozen=True)
class Titrated:
    """A reagent in excess and what titrates the rest of it; the ratio is of their coefficients there."""

    excess: str
    titrant: str
    ratio: Fraction
    main: int  # the coefficient of the reagent in excess in the main equation


def titrated_back(scene: Scene) -> tuple[Titrated, ...]:
    """The pairs of a reagent in excess and its titrant."""
    found = []
    for equation in scene.further:
        reagents = {name: -nu for name, nu in equation.coefficients.items() if nu < 0}
        shared = [one for one in scene.reagents if one.id in reagents and one.id in scene.in_excess]
        others = [name for name in reagents if not scene.species[name].coefficient and name not in scene.in_excess]
        if not (equation.beside or equation.parallel) and len(shared) == len(others) == 1:
            excess, titrant = shared[0], others[0]
            ratio = Fraction(reagents[excess.id], reagents[titrant])
            found.append(Titrated(excess.id, titrant, ratio, excess.nu))
    return tuple(found)


def _found_by_titrant(scene: Scene) -> Iterator[Place]:
    """What is found of the reagent in excess: the rest of it, or, beside a blank, what was used up."""
    for one in titrated_back(scene):
        values = {"ratio": one.ratio, "main": Fraction(one.main, one.ratio.denominator)}
        yield Place(one.excess, one.titrant, words={"found": Role.LEFT, "by": Role.PLAIN}, values=values)
        yield Place(one.excess, one.titrant, words={"found": Role.CONSUMED, "by": Role.NET}, values=values)


REST = law(
    "titrated-rest", N_("What the titrant finds"),
    where={"rest": "amount(X,{found})", "titrant": "amount(Y,{by})"}, each=_found_by_titrant,
    says={
        "rest := ratio titrant": N_("Multiply the titrant's amount by the mole ratio of the titration to get the "
                                    "reagent's."),
        "titrant := rest / ratio": N_("Multiply the rest of the reagent by the mole ratio of the titration to get "
                                      "the titrant's amount."),
    },
    source="orange-book-1998 6: back-titration; green-book-2007 2.10: extent of reaction ξ",
    errors=[
        error("titrant-ratio-left-out", "rest := titrant; titrant := rest",
              N_("coefficients of the titration's equation left out"),
              N_("Read the equation of the titration: how much of the reagent goes with how much of the titrant?")),
        error("main-coefficient", "rest := main titrant", N_("a coefficient of the first equation in the titration"),
              N_("The reagent stands in both equations: which of them describes the titration?")),
    ],
)  # fmt: skip


def _in_excess(scene: Scene) -> Iterator[Place]:
    yield from (Place(one.excess, nu=one.main) for one in titrated_back(scene))


USED = law(
    "taken-less-rest", N_("What the sample has used"),
    where={"taken": "amount(X)", "rest": "amount(X,left)", "used": "amount(X,consumed)"}, each=_in_excess,
    says={
        "used := taken - rest": N_("What was taken less what was left is what the sample has used."),
        "rest := taken - used": N_("What was taken less what the sample uses is left over."),
        "taken := used + rest": N_("What the sample uses and what is left over make what was taken."),
    },
    source="orange-book-1998 6: back-titration",
    errors=[
        error("excess-forgotten", "used := taken", N_("the reagent in excess taken as used up"),
              N_("Part of the reagent was still there at the end: did the sample use that part?")),
        error("rest-taken-as-used", "used := rest; rest := used", N_("what is left taken for what is used"),
              N_("Which part of the reagent does the titration find: what the sample has used, or what it has left?")),
        error("rest-added", "used := rest + taken", N_("what is left added to what was taken"),
              N_("Can the sample use more of the reagent than was taken?")),
    ],
)  # fmt: skip

REACTED = law(
    "used-by-sample", N_("What the sample is found by"), "used = nu xi",
    where={"used": "amount(X,consumed)", "xi": "extent()"}, each=_in_excess,
    says={
        "xi": N_("The amount used up divided by its coefficient gives the extent of the reaction with the sample."),
        "used": N_("The coefficient times the extent of reaction gives the amount that is used up."),
    },
    source="green-book-2007 2.10: extent of reaction ξ",
    errors=[by(RATIO_LEFT_OUT, "used = xi"), by(RATIO_INVERTED, "used = xi / nu")],
)  # fmt: skip

LAWS = (REST, USED, REACTED)
