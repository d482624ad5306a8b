"""What a substance holds: atoms, crystal water, ions; the ions of dissolved salts.

An ion is a species with a charge that stands in no equation; how many of it a salt holds, the salt's formula tells.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.chemistry.formula import Formula
from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, scaled
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.table import Place, by, error, law

__all__ = ["LAWS", "held", "times_held"]

_LEFT_OUT = error(
    "subscript-left-out", None, N_("the subscript left out"), N_("How many are there in one formula unit?")
)

_INVERTED = error(
    "subscript-inverted", None, N_("the subscript used upside down"),
    N_("Each formula unit gives several of this ion: is there more of the ion in the solution, or more of the salt?"),
)  # fmt: skip


def times_held(part: Species, whole: Species) -> int:
    """How many atoms, ions, or molecules of crystal water outside the equation a substance contains; 0 for none."""
    in_equation = part.coefficient or part.stands_for
    if in_equation or part.id == whole.id or not (has_mass(part) and has_mass(whole)):
        return 0
    assert part.formula is not None
    assert whole.formula is not None
    return held(part.formula, whole.formula)


def held(part: Formula, whole: Formula) -> int:
    """How often a formula contains an atom, an ion, crystal water or the salt that carries it; 0 for anything else.

    A compound is no part of another that happens to hold its atoms: there is no water in ethanol.
    """
    if part.text == "H2O":
        return whole.crystal_water
    if whole.crystal_water and part.text == whole.text.rpartition(".")[0]:
        return 1
    is_atom = sum(count for _, count in part.counts) == 1
    if not (is_atom or part.charge):
        return 0
    return min(whole.count(symbol) // count for symbol, count in part.counts)


def _contents(scene: Scene) -> Iterator[Place]:
    """X is held by Y. Two substances that are both measured are two portions: neither is what the other contains."""
    measured = {quantity.of for quantity in scene.given}
    apart = {scene.unknown_rest, *(name for equation in scene.further for name in equation.coefficients)}
    for part in scene.species.values():
        if part.id in apart or len(_salts(scene, part)) > 1:
            continue  # what one of several salts gives of an ion is not all of it
        for whole in scene.species.values():
            times = times_held(part, whole)
            if times and not measured.issuperset((part.id, whole.id)):
                yield Place(part.id, whole.id, nu=times, words={"kind": "amount"})
                yield Place(part.id, whole.id, nu=times, words={"kind": "concentration"}, role=Role.MIXED)


CONTENT = law(
    "content", N_("What a substance contains"), "n = nu parent",
    where={"n": "{kind}(X,*)", "parent": "{kind}(Y,*)"}, each=_contents,
    says={
        "n": N_("The formula shows how many there are in each formula unit."),
        "parent": N_("The formula shows how many there are in each formula unit."),
    },
    source="derived: the formula counts the atoms",
    errors=[by(_LEFT_OUT, "n = parent")],
)  # fmt: skip


def _salts(scene: Scene, ion: Species) -> tuple[tuple[Species, int], ...]:
    """The dissolved salts that give an ion, each with how many of it a formula unit holds; none for what is no ion."""
    if ion.formula is None or not ion.formula.charge:
        return ()
    told = {quantity.of for quantity in scene.told}
    salts = (one for one in scene.species.values() if one.formula is not None and not one.formula.charge)
    found = ((salt, times_held(ion, salt)) for salt in salts if not (salt.coefficient or salt.stands_for))
    weighed = {one.stands_for for one in scene.species.values() if one.id in told}
    return tuple((salt, times) for salt, times in found if times and salt.id in told | weighed)


def _other_number(scene: Scene, ion: Species, salt: Species) -> int:
    """The subscript of another ion of the salt, where it is told apart from this one's and from none; else 0."""
    numbers = (times_held(one, salt) for one in scene.species.values() if one.formula and one.formula.charge)
    return next((number for number in numbers if number > 1 and number != times_held(ion, salt)), 0)


def _ions(scene: Scene) -> Iterator[Place]:
    """X is an ion, Y the only salt that gives it."""
    for ion in scene.species.values():
        salts = _salts(scene, ion)
        for salt, times in salts if len(salts) == 1 else ():
            number = _other_number(scene, ion, salt)
            yield Place(ion.id, salt.id, nu=times, values={"other": ("num", str(number))} if number else {})


ION = law(
    "ion", N_("Ions of a dissolved salt"), "c = nu parent",
    where={"c": "concentration(X)", "parent": "concentration(Y)"}, each=_ions,
    says={
        "c": N_("The formula shows how many of this ion each formula unit gives when the salt dissolves."),
        "parent": N_("Each formula unit gives as many of this ion as its formula shows: the salt is that much less."),
    },
    source="green-book-2007 2.10: entities to which an amount refers; derived: the formula counts the ions",
    errors=[
        by(_LEFT_OUT, "c = parent"),
        by(_INVERTED, "c = parent / nu"),
        error("other-ions-subscript", "c = other parent", N_("the subscript of the other ion"),
              N_("Which of the subscripts counts this ion, and which one counts the ion beside it?")),
    ],
)  # fmt: skip

# More salts than one solution of a course has.
_MOST = 6

_PARENTS = tuple(f"parent{index}" for index in range(_MOST))


def _shared_ions(law: Law, scene: Scene) -> Iterator[Instance]:
    for ion in scene.species.values():
        salts = _salts(scene, ion)
        if 1 < len(salts) <= _MOST:
            yield _shared(law, ion, salts)


def _shared(law: Law, ion: Species, salts: tuple[tuple[Species, int], ...]) -> Instance:
    """The sum over the salts, solved for the ion, or for the one salt whose concentration lacks."""
    parents = [Quantity("concentration", salt.id) for salt, _ in salts]
    whole = Quantity("concentration", ion.id)
    terms = [scaled(one.id, Fraction(times)) for one, (_, times) in zip(parents, salts, strict=True)]
    direct: dict[str, Expression] = {"c": ("add", *terms)}
    for letter, mine, (_, times) in zip(_PARENTS, terms, salts, strict=False):
        rest: Expression = ("add", whole.id, *(("neg", term) for term in terms if term != mine))
        direct[letter] = ("div", rest, ("num", str(times))) if times > 1 else rest
    mistaken: dict[tuple[str, str], Expression] = {
        ("subscript-left-out", "c"): ("add", *(one.id for one in parents)),
        ("subscript-inverted", "c"): (
            "add",
            *(scaled(one.id, Fraction(1, times)) for one, (_, times) in zip(parents, salts, strict=True)),
        ),
    }
    binding = {"c": whole, **dict(zip(_PARENTS, parents, strict=False))}
    return Instance(law, binding, direct=direct, mistaken=mistaken)


SHARED_ION = law(
    "shared-ion", N_("An ion that several salts share"),
    instances=_shared_ions,
    says={
        "c": N_("Each salt gives as many of this ion as its formula shows; in one solution they add up."),
        **dict.fromkeys(_PARENTS, N_("What the other salts do not give of this ion, this one does.")),
    },
    source="derived: amounts add up, and the formula counts the ions",
    errors=[_LEFT_OUT, _INVERTED],
)  # fmt: skip

LAWS = (CONTENT, ION, SHARED_ION)
