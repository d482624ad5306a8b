"""From what is measured to the amount: density, molar mass, purity, particles."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import SOLUTION_AT, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters

__all__ = ["AMOUNT", "LAWS", "has_mass", "molar_mass_expression", "own_amounts"]

m, n, M, V, rho, w, sample, other, N, L, hydrate = letters("m n M V rho w sample other N L hydrate")
nu = coefficient_letter

_ROLES = (Role.PLAIN, Role.ACTUAL, Role.THEORETICAL, Role.LEFT, Role.CONSUMED, Role.INITIAL, Role.FINAL)
"""The roles in which a substance has a mass, an amount and a volume of its own."""

_NAMED_ROLES = (Role.FLASK, Role.SERVING, Role.TAKEN, Role.RECOVERED, Role.ONWARD, Role.UNCONVERTED)
"""The same, where a problem speaks of them."""


def own_amounts(scene: Scene, species: Species) -> Iterator[Quantity]:
    """A species' own amounts in all their roles, those that one reagent allows among them."""
    told = {q.role for q in scene.given | scene.wanted if q.of == species.id}
    named = (role for role in _NAMED_ROLES if role in told)
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
        counts["H"] -= 2 * species.formula.waters
        counts["O"] -= species.formula.waters
    terms: list[Expression] = [
        ("mul", ("num", str(count)), scene.weights[symbol].quantity.id) for symbol, count in counts.items() if count
    ]
    return ("add", *terms) if len(terms) > 1 else terms[0]


def _densities(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        for amount in own_amounts(scene, species):
            binding = {"m": amount.as_kind("mass"), "V": amount.as_kind("volume")}
            yield Instance(law, {**binding, "rho": Quantity("density", species.id)})
        wholes = {role: role for role in (Role.SOLUTION, Role.SAMPLE)}
        for role, of_mass in {**wholes, **{one: SOLUTION_AT[one] for one in (Role.INITIAL, Role.FINAL)}}.items():
            binding = {"m": Quantity("mass", species.id, of_mass), "V": Quantity("volume", species.id, role)}
            yield Instance(law, {**binding, "rho": Quantity("density", species.id, role)})


DENSITY = Law(
    id="density",
    title="Density",
    relation=rho * V - m,
    instances=_densities,
    words={
        "m": "The volume times the density gives the mass.",
        "V": "The mass divided by the density gives the volume.",
        "rho": "The mass divided by the volume gives the density.",
    },
    source="green-book-2007 2.2: ρ = m/V",
    misuses=(
        Misuse(
            "density-divided",
            "density used upside down",
            "Look at the units of the density: which operation makes the unwanted unit cancel?",
            10**6 * V / rho - m,
            only_for=frozenset({"m", "V", "rho"}),
        ),
        Misuse(
            "density-forgotten",
            "density left out",
            "A volume is not a mass: which property of the liquid leads from one to the other?",
            1000 * V - m,
            only_for=frozenset({"m", "V"}),
        ),
    ),
)


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
        if species.formula is not None and species.formula.waters:
            mistaken["water-left-out", "M"] = molar_mass_expression(scene, species, without_water=True)
        binding = {"M": Quantity("molar_mass", species.id)}
        yield Instance(law, binding, direct={"M": molar_mass_expression(scene, species)}, mistaken=mistaken)


MOLAR_MASS = Law(
    id="molar-mass",
    title="Molar mass",
    relation=None,
    instances=_molar_masses,
    words={"M": "The molar mass is the sum over the atoms of the formula."},
    source="green-book-2007 2.10: molar mass; prohaska-2022: atomic weights, abridged to five figures",
    misuses=(
        Misuse(
            "water-left-out",
            "water of crystallisation left out of the molar mass",
            "What was weighed carries water of crystallisation: does your molar mass belong to the same formula?",
            None,
        ),
    ),
    rounding="molar mass",
)


def _amounts(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if not has_mass(species) and Quantity("molar_mass", species.id) not in scene.given | scene.wanted:
            continue
        extra = _other_molar_mass(scene, species)
        for amount in own_amounts(scene, species):
            binding = {"m": amount.as_kind("mass"), "n": amount, "M": Quantity("molar_mass", species.id)}
            yield Instance(law, binding, nu=species.nu, extra=extra)


def _other_molar_mass(scene: Scene, species: Species) -> dict[str, Expression]:
    """The molar mass that is taken by mistake: the product's for a reagent, the first reagent's for a product."""
    candidates = [scene.species[scene.product]] if scene.product and not species.is_product else []
    candidates += [s for s in scene.reagents if species.is_product]
    for candidate in candidates:
        if has_mass(candidate) and candidate.id != species.id:
            return {"other": molar_mass_expression(scene, candidate)}
    return {}


AMOUNT = Law(
    id="amount",
    title="Amount from mass",
    relation=n * M - m,
    instances=_amounts,
    words={
        "n": "The mass divided by the molar mass gives the amount.",
        "m": "The amount times the molar mass gives the mass.",
        "M": "The mass divided by the amount gives the molar mass.",
    },
    source="green-book-2007 2.10: M = m/n",
    misuses=(
        Misuse(
            "molar-mass-inverted",
            "molar mass used upside down",
            "Write the units beside each number: grams have to cancel.",
            n - m * M,
            only_for=frozenset({"m", "n"}),
            harmless=True,
        ),
        Misuse(
            "coefficient-in-amount",
            "the coefficient brought into the amount",
            "How much was weighed does not depend on the equation: coefficients enter only when two substances are "
            "compared.",
            n * nu * M - m,
            everywhere=True,
            only_for=frozenset({"m", "n"}),
        ),
        Misuse(
            "other-molar-mass",
            "another substance's molar mass",
            "Which substance does this mass belong to, and whose molar mass did you take?",
            n * other - m,
            only_for=frozenset({"m", "n"}),
            harmless=True,
        ),
    ),
)


def _purities(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        in_flask = Quantity("volume", species.id, Role.FLASK)  # a sample that is dissolved in a flask
        own = Quantity("mass_fraction", species.id, Role.PURITY)  # beside the percentage of its solution
        binding = {
            "m": Quantity("mass", species.id, Role.FLASK if in_flask in scene.given else Role.PLAIN),
            "sample": Quantity("mass", species.id, Role.IMPURE),
            "w": own if own in scene.given else Quantity("mass_fraction", species.id),
        }
        yield Instance(law, binding)


PURITY = Law(
    id="purity",
    title="Purity",
    relation=w * sample - m,
    instances=_purities,
    words={
        "m": "The mass of the sample times its purity gives the mass of the pure substance.",
        "sample": "The mass of the pure substance divided by the purity gives the mass to take.",
        "w": "The mass of the pure substance divided by that of the sample gives the purity.",
    },
    source="green-book-2007 2.10: mass fraction w",
    misuses=(
        Misuse(
            "purity-left-out",
            "purity left out",
            "Not all of what was weighed is the substance: read the label once more.",
            sample - m,
            only_for=frozenset({"m", "sample"}),
        ),
        Misuse(
            "purity-divided",
            "purity used upside down",
            "Can there be more of the pure substance than of the sample?",
            sample / w - m,
            only_for=frozenset({"m", "sample"}),
        ),
    ),
)


def _particles(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        always = [Quantity("count", species.id, role) for role in (Role.PLAIN, Role.THEORETICAL)]
        told = {q for q in scene.given | scene.wanted if q.kind == "count" and q.of == species.id}
        for count in (*always, *sorted(told.difference(always))):
            yield Instance(law, {"N": count, "n": count.as_kind("amount"), "L": Quantity("avogadro", "")})


PARTICLES = Law(
    id="particles",
    title="Number of particles",
    relation=n * L - N,
    instances=_particles,
    words={
        "N": "The amount times the Avogadro constant gives the number of particles.",
        "n": "The number of particles divided by the Avogadro constant gives the amount.",
    },
    source="si-brochure-2019: the mole, N = n N_A",
    misuses=(
        Misuse(
            "avogadro-inverted",
            "Avogadro constant used upside down",
            "Is a number of particles larger or smaller than the amount in moles?",
            n - N * L,
            only_for=frozenset({"N", "n"}),
        ),
    ),
)


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


WHOLE_UNITS = Law(
    id="whole-units",
    title="Whole units from counted particles",
    relation=None,
    instances=_whole_units,
    words={"N": "Each kind of particle allows its number over its coefficient; the smallest whole number counts."},
    source="derived: the equation counts particles as it counts amounts",
    rounding="whole",
)


def _hydrates(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        if species.stands_for:
            binding = {"n": Quantity("amount", species.stands_for), "hydrate": Quantity("amount", species.id)}
            yield Instance(law, binding)


HYDRATE = Law(
    id="hydrate",
    title="Hydrate and anhydrous substance",
    relation=n - hydrate,
    instances=_hydrates,
    words={
        "n": "One formula unit of the hydrate contains one of the anhydrous substance.",
        "hydrate": "One formula unit of the hydrate contains one of the anhydrous substance.",
    },
    source="derived: the formula counts the atoms",
)

LAWS = (WHOLE_UNITS, MOLAR_MASS, DENSITY, PURITY, AMOUNT, HYDRATE, PARTICLES)
