"""Back titrations: a reagent is added in excess, and what is left of it is titrated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import OVERALL_EXTENT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, difference, letters, scaled
from problemgen.plan.laws.reactions import CONSUMED

__all__ = ["LAWS", "Titrated", "titrated_back"]

xi, n, left, consumed = letters("xi taken rest used")
nu = coefficient_letter


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


def _by_titrant(one: Titrated, role: Role, target: Quantity, law: Law) -> Instance:
    """An amount of the reagent in excess, from the titrant that it takes."""
    source = Quantity("amount", one.titrant, role)
    mistaken: dict[tuple[str, str], Expression] = {
        ("titrant-ratio-left-out", "rest"): source.id,
        ("titrant-ratio-left-out", "titrant"): target.id,
        ("main-coefficient", "rest"): scaled(source.id, Fraction(one.main, one.ratio.denominator)),
    }
    direct = {"rest": scaled(source.id, one.ratio), "titrant": scaled(target.id, 1 / one.ratio)}
    return Instance(law, {"rest": target, "titrant": source}, direct=direct, mistaken=mistaken)


def _rests(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in titrated_back(scene):
        yield _by_titrant(one, Role.PLAIN, Quantity("amount", one.excess, Role.LEFT), law)
        yield _by_titrant(one, Role.NET, Quantity("amount", one.excess, Role.CONSUMED), law)


REST = Law(
    id="titrated-rest",
    title="What the titrant finds",
    relation=None,
    instances=_rests,
    words={
        "rest": "Multiply the titrant's amount by the mole ratio of the titration to get the reagent's.",
        "titrant": "Multiply the rest of the reagent by the mole ratio of the titration to get the titrant's amount.",
    },
    source="orange-book-1998 6: back-titration; green-book-2007 2.10: extent of reaction ξ",
    misuses=(
        Misuse(
            "titrant-ratio-left-out",
            "coefficients of the titration's equation left out",
            "Read the equation of the titration: how much of the reagent goes with how much of the titrant?",
            None,
        ),
        Misuse(
            "main-coefficient",
            "a coefficient of the first equation in the titration",
            "The reagent stands in both equations: which of them describes the titration?",
            None,
        ),
    ),
)


def _differences(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in titrated_back(scene):
        taken, rest, used = (Quantity("amount", one.excess, role) for role in (Role.PLAIN, Role.LEFT, Role.CONSUMED))
        direct: dict[str, Expression] = {
            "used": difference(taken, rest),
            "rest": difference(taken, used),
            "taken": ("add", used.id, rest.id),
        }
        yield Instance(law, {"taken": taken, "rest": rest, "used": used}, direct=direct)


USED = Law(
    id="taken-less-rest",
    title="What the sample has used",
    relation=n - left - consumed,
    instances=_differences,
    words={
        "used": "What was taken less what was left is what the sample has used.",
        "rest": "What was taken less what the sample uses is left over.",
        "taken": "What the sample uses and what is left over make what was taken.",
    },
    source="orange-book-1998 6: back-titration",
    misuses=(
        Misuse(
            "excess-forgotten",
            "the reagent in excess taken as used up",
            "Part of the reagent was still there at the end: did the sample use that part?",
            n - consumed,
            only_for=frozenset({"used"}),
        ),
        Misuse(
            "rest-taken-as-used",
            "what is left taken for what is used",
            "Which part of the reagent does the titration find: what the sample has used, or what it has left?",
            left - consumed,
            only_for=frozenset({"used", "rest"}),
        ),
        Misuse(
            "rest-added",
            "what is left added to what was taken",
            "Can the sample use more of the reagent than was taken?",
            n + left - consumed,
            only_for=frozenset({"used"}),
        ),
    ),
)


def _reacted(law: Law, scene: Scene) -> Iterator[Instance]:
    for one in titrated_back(scene):
        yield Instance(law, {"used": Quantity("amount", one.excess, Role.CONSUMED), "xi": OVERALL_EXTENT}, nu=one.main)


REACTED = Law(
    id="used-by-sample",
    title="What the sample is found by",
    relation=nu * xi - consumed,
    instances=_reacted,
    words={
        "xi": "The amount used up divided by its coefficient gives the extent of the reaction with the sample.",
        "used": "The coefficient times the extent of reaction gives the amount that is used up.",
    },
    source="green-book-2007 2.10: extent of reaction ξ",
    misuses=tuple(
        Misuse(one.id, one.title, one.hint, relation, everywhere=True)
        for one, relation in zip(CONSUMED.misuses, (xi - consumed, xi / nu - consumed), strict=True)
    ),
)

LAWS = (REST, USED, REACTED)
