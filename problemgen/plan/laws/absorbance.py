"""Absorbance: the law of Beer and Lambert, and a standard curve by least squares."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS", "LEAST_POINTS", "intercept_of", "points_of", "slope_of"]

A, epsilon, length, c, slope, intercept = letters("A epsilon length c slope intercept")

LEAST_POINTS = 3
"""A line through two points fits them whatever they are: nothing is averaged."""


def slope_of(species: str) -> Quantity:
    """The slope of a species' standard curve."""
    return Quantity("slope", species)


def intercept_of(species: str) -> Quantity:
    """Its absorbance at concentration 0."""
    return Quantity("intercept", species)


def points_of(scene: Scene, species: str) -> tuple[tuple[Quantity, Quantity], ...]:
    """The standards of a curve: concentration and absorbance of each; () where there are too few for a line."""
    if not any(quantity.role is Role.STANDARD for quantity in scene.given):
        return ()
    pairs = tuple(
        (
            Quantity("concentration", species, Role.STANDARD, stage=n),
            Quantity("absorbance", species, Role.STANDARD, stage=n),
        )
        for n in Role.STANDARD.stages
    )
    told = tuple(pair for pair in pairs if pair[1] in scene.given)
    return told if len(told) >= LEAST_POINTS else ()


def _measured(scene: Scene, species: str) -> Iterator[tuple[Quantity, Quantity]]:
    """The absorbance and the concentration of each solution beside the standards."""
    for quantity in sorted(scene.given | scene.wanted):
        if quantity.kind == "absorbance" and quantity.of == species and quantity.role is not Role.STANDARD:
            yield quantity, quantity.as_kind("concentration")


def _absorbances(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        if not points_of(scene, species):
            for absorbance, concentration in _measured(scene, species):
                binding = {"A": absorbance, "c": concentration}
                constants = {"epsilon": "molar_absorption", "length": "path_length"}
                yield Instance(law, binding | {letter: Quantity(kind, species) for letter, kind in constants.items()})


BEER_LAMBERT = Law(
    id="beer-lambert",
    title="Law of Beer and Lambert",
    relation=epsilon * length * c - A,
    instances=_absorbances,
    words={
        "A": "Molar absorption coefficient, path length and amount concentration multiplied give the absorbance.",
        "c": "The absorbance over molar absorption coefficient and path length is the amount concentration.",
        "epsilon": "The absorbance over path length and amount concentration is the molar absorption coefficient.",
    },
    source="green-book-2007 2.7: A = ε c l",
    misuses=(
        Misuse(
            "path-forgotten",
            "the path length left out",
            "The coefficient is told for one centimetre: how far did the light travel through the solution?",
            epsilon * c / 10 - A,  # a path of 1 cm
            harmless=True,
        ),
        Misuse(
            "path-multiplied",
            "the path length used upside down",
            "Does a longer path make the absorbance greater, or smaller?",
            epsilon * c / length / 100 - A,  # in centimetres
            harmless=True,
        ),
        Misuse(
            "absorption-multiplied",
            "multiplied in place of divided",
            "Does the same absorbance mean more of the substance where each mole of it absorbs more strongly?",
            epsilon * A * length - c,  # the centimetres cancel
            only_for=frozenset({"c"}),
        ),
    ),
)


def _plus(terms: Sequence[Expression]) -> Expression:
    return ("add", *terms)


def _less(a: Expression, b: Expression) -> Expression:
    return ("add", a, ("neg", b))


def _mean(terms: Sequence[Expression]) -> Expression:
    return ("div", _plus(terms), ("num", str(len(terms))))


def _product(a: Sequence[Expression], b: Sequence[Expression]) -> Expression:
    """The sum of the products of two rows of numbers."""
    return _plus([("mul", *pair) for pair in zip(a, b, strict=True)])


def _square(a: Sequence[Expression]) -> Expression:
    return _plus([("pow", one, 2) for one in a])


def _sides(points: Sequence[tuple[Quantity, Quantity]]) -> tuple[list[Expression], list[Expression]]:
    """The ids of the concentrations and of the absorbances."""
    return [held.id for held, _ in points], [absorbed.id for _, absorbed in points]


def _fits(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        points = points_of(scene, species)
        if points:
            x, y = _sides(points)
            dx, dy = ([_less(one, _mean(side)) for one in side] for side in (x, y))
            crossed = _product(dx, dy)
            direct: dict[str, Expression] = {"slope": ("div", crossed, _square(dx))}
            mistaken: dict[tuple[str, str], Expression] = {
                ("axes-exchanged", "slope"): ("div", crossed, _square(dy)),
                ("forced-through-zero", "slope"): ("div", _product(x, y), _square(x)),
                ("slope-of-two-points", "slope"): ("div", _less(y[-1], y[0]), _less(x[-1], x[0])),
            }
            yield Instance(law, {"slope": slope_of(species)}, direct=direct, mistaken=mistaken)


SLOPE = Law(
    id="least-squares-slope",
    title="Slope by least squares",
    relation=None,
    instances=_fits,
    words={
        "slope": "The products of both deviations from the means are added up, and divided by the sum of the squares "
        "of those of the concentration."
    },
    source="derived: the least sum of squared deviations in the direction of the absorbance",
    misuses=(
        Misuse(
            "axes-exchanged",
            "concentration and absorbance exchanged",
            "Which of the two was chosen, and which was read? What is chosen belongs along the bottom.",
            None,
        ),
        Misuse(
            "forced-through-zero",
            "the line forced through the origin",
            "Does the blank read zero here? A line of least squares need not go through the origin.",
            None,
        ),
        Misuse(
            "slope-of-two-points",
            "the slope of the first and the last point alone",
            "Five points were measured: which of them did your slope use?",
            None,
            harmless=True,  # on a straight line it comes out nearly alike
        ),
    ),
)


def _intercepts(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        points = points_of(scene, species)
        if points:
            x, y = _sides(points)
            over_all: Expression = _less(_mean(y), ("mul", slope_of(species).id, _mean(x)))
            first: Expression = _less(y[0], ("mul", slope_of(species).id, x[0]))
            mistaken: dict[tuple[str, str], Expression] = {
                ("intercept-added-up", "intercept"): ("add", _mean(y), ("mul", slope_of(species).id, _mean(x))),
                ("intercept-of-one-point", "intercept"): first,
            }
            yield Instance(law, {"intercept": intercept_of(species)}, direct={"intercept": over_all}, mistaken=mistaken)


INTERCEPT = Law(
    id="least-squares-intercept",
    title="Intercept by least squares",
    relation=None,
    instances=_intercepts,
    words={
        "intercept": "The line goes through the mean of all points: what the slope leaves over there is the intercept."
    },
    source="derived: the deviations from a line of least squares add up to 0",
    misuses=(
        Misuse(
            "intercept-added-up",
            "the slope's part added to the mean absorbance",
            "Towards the pure solvent the line falls from its middle: by how much?",
            None,
        ),
        Misuse(
            "intercept-of-one-point",
            "the line drawn through the first point",
            "A line of least squares need not meet any of its points: which one does it surely meet?",
            None,
            harmless=True,  # the first point lies near the line
        ),
    ),
)


def _from_line(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        points = points_of(scene, species)
        line = {"slope": slope_of(species), "intercept": intercept_of(species)}
        for absorbance, concentration in _measured(scene, species) if points else ():
            strongest, absorbed = points[-1]
            ratio: Expression = ("div", ("mul", absorbance.id, strongest.id), absorbed.id)
            binding = {"A": absorbance, "c": concentration, **line}
            yield Instance(law, binding, mistaken={("one-standard-only", "c"): ratio})


FROM_LINE = Law(
    id="from-standard-curve",
    title="Concentration from the standard curve",
    relation=slope * c + intercept - A,
    instances=_from_line,
    words={
        "c": "The absorbance less the intercept, over the slope, is the amount concentration.",
        "A": "The slope times the amount concentration, and the intercept, give the absorbance.",
    },
    source="derived: the line A = slope × c + intercept solved for c",
    misuses=(
        Misuse(
            "intercept-forgotten",
            "the intercept left out",
            "What does the photometer read where there is none of the substance?",
            slope * c - A,
            only_for=frozenset({"c"}),
        ),
        Misuse(
            "intercept-added",
            "the intercept added",
            "The line starts at the intercept: does it belong to what the substance absorbs?",
            slope * c - intercept - A,
            only_for=frozenset({"c"}),
        ),
        Misuse(
            "slope-multiplied",
            "multiplied by the slope in place of divided",
            "A steeper line reaches the same absorbance at a smaller concentration: which operation says so?",
            (A - intercept) * slope - c,
            only_for=frozenset({"c"}),
        ),
        Misuse(
            "one-standard-only",
            "the ratio to one standard alone",
            "One standard takes its own error along, and the blank's: what were the others measured for?",
            None,
        ),
    ),
)


def _coefficients(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species:
        if points_of(scene, species):
            binding = {
                "slope": slope_of(species),
                "epsilon": Quantity("molar_absorption", species),
                "length": Quantity("path_length", species),
            }
            yield Instance(law, binding)


FROM_SLOPE = Law(
    id="absorption-from-slope",
    title="Molar absorption coefficient from the slope",
    relation=epsilon * length - slope,
    instances=_coefficients,
    words={"epsilon": "The slope over the path length is the molar absorption coefficient."},
    source=BEER_LAMBERT.source,
    misuses=(
        Misuse(
            "path-forgotten-in-slope",
            "the path length left out",
            "The coefficient is told for one centimetre: how long was the cell?",
            epsilon / 10 - slope,
            harmless=True,
        ),
    ),
)

LAWS = (BEER_LAMBERT, SLOPE, INTERCEPT, FROM_LINE, FROM_SLOPE)
