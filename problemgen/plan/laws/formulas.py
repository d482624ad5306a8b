"""Formulas from analyses: amounts of the elements, the least whole numbers in their ratio, the molecule's multiple.

An unknown compound has the id COMPOUND; the scene's `unknown` lists its elements. A formula that is asked for is the
molar mass that its subscripts make, so that windows, mistakes and follow-through need no path of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan
from problemgen.model.problem import Constant, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Place, error, law

__all__ = [
    "COMPOUND",
    "HUNDRED",
    "LAWS",
    "MULTIPLE_OF",
    "SAMPLE",
    "formula_text",
    "subscript",
]

COMPOUND = "compound"

MULTIPLE_OF = Quantity("multiple", COMPOUND)

SAMPLE = Quantity("mass", "", Role.SAMPLE)

HUNDRED = Constant(SAMPLE, Fraction(100), Fraction(100), Fraction(100))
"""A sample of 100 g, for an analysis that tells percentages of no sample: common practice, no source."""


def subscript(element: str, role: Role = Role.EMPIRICAL) -> Quantity:
    """How many atoms of an element the formula has."""
    return Quantity("subscript", element, role)


def formula_text(plan: Plan, role: Role, values: Mapping[str, Any]) -> str:
    """The formula that the subscripts of a plan make: "C5H7N"; an element of which none was found is left out."""
    pieces = []
    for step in plan.steps:
        if step.quantity.kind == "subscript" and step.quantity.role == role:
            count = int(values[step.quantity.id])
            pieces.append(step.quantity.of * (count > 0) + (str(count) if count > 1 else ""))
    return "".join(pieces)


def _amounts(scene: Scene) -> list[Expression]:
    return [Quantity("amount", element).id for element in scene.unknown]


def _empirical(law: Law, scene: Scene) -> Iterator[Instance]:
    amounts = _amounts(scene)
    masses: list[Expression] = [
        ("mul", amount, scene.weights[element].quantity.id)
        for amount, element in zip(amounts, scene.unknown, strict=True)
    ]
    if len(scene.unknown) == 1:  # an element's own molecule
        yield Instance(law, {"s": subscript(scene.unknown[0])}, direct={"s": ("num", "1")})
        return
    for index, element in enumerate(scene.unknown):
        mistaken: dict[tuple[str, str], Expression] = {
            ("masses-compared", "s"): ("whole", index, *masses),
            ("ratio-rounded", "s"): ("round", ("div", amounts[index], ("min", *amounts))),
        }
        yield Instance(law, {"s": subscript(element)}, direct={"s": ("whole", index, *amounts)}, mistaken=mistaken)


EMPIRICAL_FORMULA = law(
    "empirical-formula", N_("Smallest whole numbers"),
    instances=_empirical,
    says={"s": N_("The amounts are divided by the smallest of them, and multiplied until all are whole numbers.")},
    source="gold-book empirical formula",
    errors=[
        error("masses-compared", None, N_("masses compared instead of amounts"),
              N_("Atoms are counted in moles: were the masses turned into amounts before they were compared?"),
              everywhere=True),
        error("ratio-rounded", None, N_("a ratio such as 1.5 rounded to a whole number"),
              N_("A ratio near a half or a third is not rounded: by which number do all ratios become whole?"),
              everywhere=True, harmless=True),
    ],
    rounding="whole",
)  # fmt: skip


def _molar_mass_of(scene: Scene, role: Role) -> Expression:
    terms: list[Expression] = [
        ("mul", subscript(element, role).id, scene.weights[element].quantity.id) for element in scene.unknown
    ]
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _formula_masses(law: Law, scene: Scene) -> Iterator[Instance]:
    for role in (Role.EMPIRICAL, Role.MOLECULAR) if scene.unknown else ():
        binding = {"M": Quantity("molar_mass", COMPOUND, role)}
        yield Instance(law, binding, direct={"M": _molar_mass_of(scene, role)})


FORMULA_MASS = law(
    "formula-mass", N_("Mass of the formula"),
    instances=_formula_masses,
    says={"M": N_("The subscripts times the molar masses of the elements give the mass of the formula.")},
    source="green-book-2007 2.10: molar mass M",
    rounding="molar mass",
)  # fmt: skip


def _unknown(scene: Scene) -> Iterator[Place]:
    if scene.unknown:
        yield Place(COMPOUND)


MULTIPLE = law(
    "multiple", N_("How many empirical formulas make the molecule"),
    where={"k": "multiple(X)", "molecule": "molar_mass(X)", "simplest": "molar_mass(X,empirical)"}, each=_unknown,
    says={
        "k := round(molecule / simplest)": N_("The molar mass divided by the mass of the empirical formula is a "
                                              "whole number."),
    },
    source="gold-book molecular formula",
    rounding="whole",
)  # fmt: skip


def _elements(scene: Scene) -> Iterator[Place]:
    yield from (Place(element, COMPOUND) for element in scene.unknown)


MOLECULAR_FORMULA = law(
    "molecular-formula", N_("Molecular formula"),
    where={"s": "subscript(X,molecular)", "simplest": "subscript(X,empirical)", "k": "multiple(Y)"}, each=_elements,
    says={"s := k simplest": N_("Each subscript of the empirical formula is multiplied by that whole number.")},
    source="gold-book molecular formula",
    errors=[
        error("multiple-left-out", "s := simplest", N_("the empirical formula taken for the molecule's"),
              N_("Does the mass of your formula agree with the molar mass of the compound?"), everywhere=True,
              harmless=True),
    ],
    rounding="whole",
)  # fmt: skip


def _percentages(scene: Scene) -> Iterator[str]:
    """The elements of which a percentage is told, or found by difference, and no sample was weighed."""
    for element in scene.unknown if SAMPLE not in scene.given else ():
        if Quantity("mass_fraction", element) in scene.given or element == scene.unknown_rest:
            yield element


HUNDRED_GRAMS = law(
    "hundred-grams", N_("A hundred grams of the compound"), "m = w sample",
    where={"m": "mass(X)", "w": "mass_fraction(X)", "sample": "mass(,sample)"}, each=_percentages,
    says={"m": N_("In 100 g of the compound the percentages are grams.")},
    source="common-practice: percentages are read as grams in 100 g",
)  # fmt: skip


def _differences(law: Law, scene: Scene) -> Iterator[Instance]:
    last = scene.unknown_rest
    if not last:
        return
    others = [element for element in scene.unknown if element != last]
    kind = "mass" if SAMPLE in scene.given else "mass_fraction"
    whole: Expression = SAMPLE.id if SAMPLE in scene.given else ("num", "1")
    rest: list[Expression] = [("neg", Quantity(kind, element).id) for element in others]
    yield Instance(law, {"m": Quantity(kind, last)}, direct={"m": ("add", whole, *rest)})


DIFFERENCE = law(
    "by-difference", N_("The rest by difference"),
    instances=_differences,
    says={"m": N_("What is not of the other elements is of the last one.")},
    source="derived: masses add up",
)  # fmt: skip

LAWS = (HUNDRED_GRAMS, DIFFERENCE, EMPIRICAL_FORMULA, FORMULA_MASS, MULTIPLE, MOLECULAR_FORMULA)
