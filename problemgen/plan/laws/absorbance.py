"""Absorbance: the law of Beer and Lambert, and a standard curve by least squares."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "LEAST_POINTS", "intercept_of", "points_of", "slope_of"]

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
    given = tuple(pair for pair in pairs if pair[1] in scene.given)
    return given if len(given) >= LEAST_POINTS else ()


def _measured(scene: Scene, species: str) -> Iterator[Quantity]:
    """The absorbance of each solution beside the standards."""
    for quantity in sorted(scene.told):
        if quantity.kind == "absorbance" and quantity.of == species and quantity.role is not Role.STANDARD:
            yield quantity


def _without_curve(scene: Scene) -> Iterator[Quantity]:
    for species in scene.species:
        if not points_of(scene, species):
            yield from _measured(scene, species)


BEER_LAMBERT = law(
    "beer-lambert", N_("Law of Beer and Lambert"), "A = epsilon length c",
    where={"A": "absorbance(X,*)", "c": "concentration(X,*)", "epsilon": "molar_absorption(X)",
           "length": "path_length(X)"},
    each=_without_curve,
    says={
        "A": N_("Molar absorption coefficient, path length and amount concentration multiplied give the absorbance."),
        "c": N_("The absorbance over molar absorption coefficient and path length is the amount concentration."),
        "epsilon": N_("The absorbance over path length and amount concentration is the molar absorption coefficient."),
    },
    source="green-book-2007 2.7: A = ε c l",
    errors=[
        error("path-forgotten", "A = (epsilon in L/mol/cm) c", N_("the path length left out"),
              N_("The coefficient is told for one centimetre: how far did the light travel through the solution?"),
              harmless=True),
        error("path-multiplied", "A = (epsilon in L/mol/cm) c / (length in cm)", N_("the path length used upside down"),
              N_("Does a longer path make the absorbance greater, or smaller?"), harmless=True),
        error("absorption-multiplied", "c = A epsilon length", N_("multiplied in place of divided"),
              N_("Does the same absorbance mean more of the substance where each mole of it absorbs more strongly?"),
              at="c"),
    ],
)  # fmt: skip


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


SLOPE = law(
    "least-squares-slope", N_("Slope by least squares"),
    instances=_fits,
    says={
        "slope": N_("The products of both deviations from the means are added up, and divided by the sum of the "
                    "squares of those of the concentration."),
    },
    source="derived: the least sum of squared deviations in the direction of the absorbance",
    errors=[
        error("axes-exchanged", None, N_("concentration and absorbance exchanged"),
              N_("Which of the two was chosen, and which was read? What is chosen belongs along the bottom.")),
        error("forced-through-zero", None, N_("the line forced through the origin"),
              N_("Does the blank read zero here? A line of least squares need not go through the origin.")),
        error("slope-of-two-points", None, N_("the slope of the first and the last point alone"),
              N_("More than two points were measured: which of them did your slope use?"),
              harmless=True),  # on a straight line it comes out nearly alike
    ],
)  # fmt: skip


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


INTERCEPT = law(
    "least-squares-intercept", N_("Intercept by least squares"),
    instances=_intercepts,
    says={
        "intercept": N_("The line goes through the mean of all points: what the slope leaves over there is the "
                        "intercept."),
    },
    source="derived: the deviations from a line of least squares add up to 0",
    errors=[
        error("intercept-added-up", None, N_("the slope's part added to the mean absorbance"),
              N_("Towards the pure solvent the line falls from its middle: by how much?")),
        error("intercept-of-one-point", None, N_("the line drawn through the first point"),
              N_("A line of least squares need not meet any of its points: which one does it surely meet?"),
              harmless=True),  # the first point lies near the line
    ],
)  # fmt: skip


def _on_curve(scene: Scene) -> Iterator[Place]:
    for species in _with_curve(scene):
        strongest, absorbed = points_of(scene, species)[-1]
        for absorbance in _measured(scene, species):
            values = {"strongest": strongest.id, "absorbed": absorbed.id}
            yield Place(species, role=absorbance.written_role, values=values)


def _with_curve(scene: Scene) -> Iterator[str]:
    yield from (species for species in scene.species if points_of(scene, species))


FROM_LINE = law(
    "from-standard-curve", N_("Concentration from the standard curve"), "A = slope c + intercept",
    where={"A": "absorbance(X,*)", "c": "concentration(X,*)", "slope": "slope(X)", "intercept": "intercept(X)"},
    each=_on_curve,
    says={
        "c": N_("The absorbance less the intercept, over the slope, is the amount concentration."),
        "A": N_("The slope times the amount concentration, and the intercept, give the absorbance."),
    },
    source="derived: the line A = slope × c + intercept solved for c",
    errors=[
        error("intercept-forgotten", "A = slope c", N_("the intercept left out"),
              N_("What does the photometer read where there is none of the substance?"), at="c"),
        error("intercept-added", "A = slope c - intercept", N_("the intercept added"),
              N_("The line starts at the intercept: does it belong to what the substance absorbs?"), at="c"),
        error("slope-multiplied", "c = (A - intercept) slope", N_("multiplied by the slope in place of divided"),
              N_("A steeper line reaches the same absorbance at a smaller concentration: which operation says so?"),
              at="c"),
        error("one-standard-only", "c := A strongest / absorbed", N_("the ratio to one standard alone"),
              N_("One standard takes its own error along, and the blank's: what were the others measured for?")),
    ],
)  # fmt: skip

FROM_SLOPE = law(
    "absorption-from-slope", N_("Molar absorption coefficient from the slope"), "slope = epsilon length",
    where={"slope": "slope(X)", "epsilon": "molar_absorption(X)", "length": "path_length(X)"}, each=_with_curve,
    says={"epsilon": N_("The slope over the path length is the molar absorption coefficient.")},
    source=BEER_LAMBERT.source,
    errors=[
        error("path-forgotten-in-slope", "slope = (epsilon in L/mol/cm)", N_("the path length left out"),
              N_("The coefficient is told for one centimetre: how long was the cell?"), harmless=True),
    ],
)  # fmt: skip

LAWS = (BEER_LAMBERT, SLOPE, INTERCEPT, FROM_LINE, FROM_SLOPE)
