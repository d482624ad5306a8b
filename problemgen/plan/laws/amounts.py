"""From what is measured to the amount: density, molar mass, purity, particles."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import SOLUTION_AT, Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "OTHER_MOLAR_MASS", "has_mass", "molar_mass_expression", "own_amounts"]

_ROLES = (Role.PLAIN, Role.ACTUAL, Role.THEORETICAL, Role.LEFT, Role.CONSUMED, Role.INITIAL, Role.FINAL)
"""The roles in which a substance has a mass, an amount and a volume of its own."""

_NAMED_ROLES = (Role.FLASK, Role.SERVING, Role.TAKEN, Role.RECOVERED, Role.ONWARD, Role.UNCONVERTED, Role.PUBLISHED)
"""The same, where a problem speaks of them."""


def own_amounts(scene: Scene, species: Species) -> Iterator[Quantity]:
    """A species' own amounts in all their roles, those that one reagent allows among them."""
    roles = {q.role for q in scene.told if q.of == species.id}
    named = (role for role in _NAMED_ROLES if role in roles)
    later = [name for equation in scene.further for name, nu in equation.coefficients.items() if nu < 0]
    reagents = dict.fromkeys((*(one.id for one in scene.reagents), *later))
    yield from (Quantity("amount", species.id, role) for role in (*_ROLES, *named))
    yield from (Quantity("amount", species.id, Role.FROM, source=name) for name in reagents if name != species.id)


def has_mass(species: Species) -> bool:
    """Whether a molar mass can be worked out: a formula is known, and it is not the electron's."""
    return species.formula is not None and bool(species.formula.counts)


def molar_mass_expression(scene: Scene, species: Species, *, without_water: bool = False) -> Expression:
    """The molar mass as a sum over elements; `without_water` leaves the water of crystallisation out."""
    assert species.formula is not None
    counts = dict(species.formula.counts)
    if without_water:
        counts["H"] -= 2 * species.formula.crystal_water
        counts["O"] -= species.formula.crystal_water
    terms: list[Expression] = [
        ("mul", ("num", str(count)), scene.weights[symbol].quantity.id) for symbol, count in counts.items() if count
    ]
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _measured_out(scene: Scene) -> Iterator[Place]:
    """What is measured as a mass or a volume, with its density: a neat liquid, a solution, a sample."""
    wholes = {"solution": "solution", "sample": "sample"}
    wholes |= {one.value: SOLUTION_AT[one].value for one in (Role.INITIAL, Role.FINAL)}
    for species in scene.species.values():
        for amount in own_amounts(scene, species):
            role = amount.written_role
            yield Place(species.id, words={"weighed": role, "poured": role, "of": ""})
        for role, weighed in wholes.items():
            yield Place(species.id, words={"weighed": weighed, "poured": role, "of": role})


DENSITY = law(
    "density", N_("Density"), "m = rho V",
    where={"m": "mass(X,{weighed})", "V": "volume(X,{poured})", "rho": "density(X,{of})"}, each=_measured_out,
    says={
        "m": N_("The volume times the density gives the mass."),
        "V": N_("The mass divided by the density gives the volume."),
        "rho": N_("The mass divided by the volume gives the density."),
    },
    source="green-book-2007 2.2: ρ = m/V",
    errors=[
        error("density-divided", "(m in g) = (V in mL) / (rho in g/mL)", N_("density used upside down"),
              N_("Look at the units of the density: which operation makes the unwanted unit cancel?"), at="m V rho"),
        error("density-forgotten", "(m in g) = (V in mL)", N_("density left out"),
              N_("A volume is not a mass: which property of the liquid leads from one to the other?"), at="m V"),
    ],
)  # fmt: skip


def _measured_as_gas(scene: Scene, species: Species) -> bool:
    """Whether a molar mass is asked that the measurements of a gas tell: the formula's is not the answer."""
    if Quantity("molar_mass", species.id) not in scene.wanted:
        return False
    kinds = {q.kind for q in scene.given if q.of == species.id}
    return ({"pressure", "temperature"} <= kinds or "molar_volume" in kinds) and (
        "density" in kinds or {"mass", "volume"} <= kinds
    )


def _molar_masses(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if not has_mass(species) or _measured_as_gas(scene, species):
            continue
        mistaken = {}
        if species.formula is not None and species.formula.crystal_water:
            mistaken["water-left-out", "M"] = molar_mass_expression(scene, species, without_water=True)
        binding = {"M": Quantity("molar_mass", species.id)}
        yield Instance(law, binding, direct={"M": molar_mass_expression(scene, species)}, mistaken=mistaken)


MOLAR_MASS = law(
    "molar-mass", N_("Molar mass"),
    instances=_molar_masses,
    says={"M": N_("The molar mass is the sum over the atoms of the formula.")},
    source="green-book-2007 2.10: molar mass; prohaska-2022: atomic weights, abridged to five figures",
    errors=[
        error("water-left-out", None, N_("water of crystallisation left out of the molar mass"),
              N_("What was weighed carries water of crystallisation: does your molar mass belong to the same "
                 "formula?")),
    ],
    rounding="molar mass",
)  # fmt: skip


def _with_molar_mass(scene: Scene) -> Iterator[Place]:
    for species in scene.species.values():
        if has_mass(species) or Quantity("molar_mass", species.id) in scene.told:
            other = _other_molar_mass(scene, species)
            for amount in own_amounts(scene, species):
                yield Place(species.id, role=amount.written_role, nu=species.nu, values=other)


def _other_molar_mass(scene: Scene, species: Species) -> dict[str, Expression]:
    """The molar mass that is taken by mistake: the product's for a reagent, the first reagent's for a product."""
    candidates = [scene.species[scene.product]] if scene.product and not species.is_product else []
    candidates += [s for s in scene.reagents if species.is_product]
    for candidate in candidates:
        if has_mass(candidate) and candidate.id != species.id:
            return {"other": molar_mass_expression(scene, candidate)}
    return {}


OTHER_MOLAR_MASS = error(
    "other-molar-mass", "m = n other", N_("another substance's molar mass"),
    N_("Which substance does this mass belong to, and whose molar mass did you take?"), at="m n", harmless=True,
)  # fmt: skip

AMOUNT = law(
    "amount", N_("Amount from mass"), "m = n M",
    where={"m": "mass(X,*)", "n": "amount(X,*)", "M": "molar_mass(X)"}, each=_with_molar_mass,
    says={
        "n": N_("The mass divided by the molar mass gives the amount."),
        "m": N_("The amount times the molar mass gives the mass."),
        "M": N_("The mass divided by the amount gives the molar mass."),
    },
    source="green-book-2007 2.10: M = m/n",
    errors=[
        error("molar-mass-inverted", "n = m M", N_("molar mass used upside down"),
              N_("Write the units beside each number: grams have to cancel."), at="m n", harmless=True),
        error("coefficient-in-amount", "m = nu n M", N_("the coefficient brought into the amount"),
              N_("How much was weighed does not depend on the equation: coefficients enter only when two "
                 "substances are compared."), at="m n", everywhere=True),
        OTHER_MOLAR_MASS,
    ],
)  # fmt: skip


def _samples(scene: Scene) -> Iterator[Place]:
    for species in scene.species:
        dissolved = Quantity("volume", species, Role.FLASK) in scene.given  # in a flask
        own = Quantity("mass_fraction", species, Role.PURITY) in scene.given  # beside the percentage of its solution
        words = {"pure": Role.FLASK.value if dissolved else "", "label": Role.PURITY.value if own else ""}
        yield Place(species, words=words)


PURITY = law(
    "purity", N_("Purity"), "m = w sample",
    where={"m": "mass(X,{pure})", "sample": "mass(X,impure)", "w": "mass_fraction(X,{label})"}, each=_samples,
    says={
        "m": N_("The mass of the sample times its purity gives the mass of the pure substance."),
        "sample": N_("The mass of the pure substance divided by the purity gives the mass to take."),
        "w": N_("The mass of the pure substance divided by that of the sample gives the purity."),
    },
    source="green-book-2007 2.10: mass fraction w",
    errors=[
        error("purity-left-out", "m = sample", N_("purity left out"),
              N_("Not all of what was weighed is the substance: read the label once more."), at="m sample"),
        error("purity-divided", "m = sample / w", N_("purity used upside down"),
              N_("Can there be more of the pure substance than of the sample?"), at="m sample"),
    ],
)  # fmt: skip


def _counted(scene: Scene) -> Iterator[Quantity]:
    for species in scene.species:
        always = [Quantity("count", species, role) for role in (Role.PLAIN, Role.THEORETICAL)]
        others = {q for q in scene.told if q.kind == "count" and q.of == species}
        yield from (*always, *sorted(others.difference(always)))


PARTICLES = law(
    "particles", N_("Number of particles"), "N = n L",
    where={"N": "count(X,*)", "n": "amount(X,*)", "L": "avogadro()"}, each=_counted,
    says={
        "N": N_("The amount times the Avogadro constant gives the number of particles."),
        "n": N_("The number of particles divided by the Avogadro constant gives the amount."),
    },
    source="si-brochure-2019: the mole, N = n N_A",
    errors=[
        error("avogadro-inverted", "n = N L", N_("Avogadro constant used upside down"),
              N_("Is a number of particles larger or smaller than the amount in moles?"), at="N n"),
    ],
)  # fmt: skip


def _whole_units(law: Law, scene: Scene) -> Iterator[Instance]:
    """Whole molecules from counted atoms or molecules: only where all reagents of the equation are counted."""
    counts = [Quantity("count", species.id) for species in scene.reagents]
    if not counts or not scene.given.issuperset(counts):
        return
    least: Expression = (
        "min",
        *(("div", count.id, ("num", str(s.nu))) for count, s in zip(counts, scene.reagents, strict=True)),
    )
    for species in scene.products:
        times: Expression = ("floor", least)
        if species.nu > 1:
            times = ("mul", ("num", str(species.nu)), times)
        yield Instance(law, {"N": Quantity("count", species.id, Role.THEORETICAL)}, direct={"N": times})


WHOLE_UNITS = law(
    "whole-units", N_("Whole units from counted particles"),
    instances=_whole_units,
    says={"N": N_("Each kind of particle allows its number over its coefficient; the smallest whole number counts.")},
    source="derived: the equation counts particles as it counts amounts",
    rounding="whole",
)  # fmt: skip


def _hydrates(scene: Scene) -> Iterator[Place]:
    yield from (Place(one.stands_for, one.id) for one in scene.species.values() if one.stands_for)


HYDRATE = law(
    "hydrate", N_("Hydrate and anhydrous substance"), "n = hydrate",
    where={"n": "amount(X)", "hydrate": "amount(Y)"}, each=_hydrates,
    says={
        "n": N_("One formula unit of the hydrate contains one of the anhydrous substance."),
        "hydrate": N_("One formula unit of the hydrate contains one of the anhydrous substance."),
    },
    source="derived: the formula counts the atoms",
)  # fmt: skip

LAWS = (WHOLE_UNITS, MOLAR_MASS, DENSITY, PURITY, AMOUNT, HYDRATE, PARTICLES)
