"""What a solution or mixture is made of: mole fraction and molality, and the portion that such sums start from.

`scene.solvent` names the solvent; its mass and amount carry the solute's id and the role `SOLVENT`.
"""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws.amounts import OTHER_MOLAR_MASS, has_mass
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]

BY_AMOUNT = frozenset({"mole_fraction", "molality"})

PER_VOLUME = frozenset(
    {"trace_fraction", "volume_fraction", "mass_volume_percent", "concentration", "mass_concentration"}
)

CONTENTS = BY_AMOUNT | {"trace_fraction", "volume_fraction", "mass_volume_percent"}

EXTENSIVE = frozenset(kind.name for kind in KINDS.values() if kind.extensive)


def _is_gaseous(scene: Scene) -> bool:
    """Whether a problem is about gases: their mixtures have laws of their own."""
    return any(q.kind in ("pressure", "temperature") for q in scene.told)


def _solutes(scene: Scene) -> Iterator[Species]:
    """The species whose place in a solution the problem is about."""
    named = {q.of for q in scene.told if q.kind in BY_AMOUNT or q.role is Role.SOLVENT} if scene.solvent else set()
    yield from (s for s in scene.species.values() if s.id in named and s.id != scene.solvent)


def _in_solvent(scene: Scene) -> Iterator[Place]:
    """X is the solute, Y its solvent."""
    if scene.solvent in scene.species and has_mass(scene.species[scene.solvent]):
        yield from (Place(species.id, scene.solvent) for species in _solutes(scene))


AMOUNT_OF_SOLVENT = law(
    "amount-of-solvent", N_("Amount of the solvent"), "m = n M",
    where={"m": "mass(X,solvent)", "n": "amount(X,solvent)", "M": "molar_mass(Y)", "other": "molar_mass(X)"},
    each=_in_solvent,
    says={
        "n": N_("The mass of the solvent divided by its molar mass gives its amount."),
        "m": N_("The amount of the solvent times its molar mass gives its mass."),
    },
    source="green-book-2007 2.10: M = m/n",
    errors=[OTHER_MOLAR_MASS],
)  # fmt: skip


def _poured(scene: Scene) -> Iterator[Place]:
    yield from (Place(species, scene.solvent) for species in scene.species if scene.solvent)


MASS_OF_SOLVENT = law(
    "mass-of-solvent", N_("Mass of the solvent"), "m = rho V",
    where={"m": "mass(X,solvent)", "V": "volume(X,solvent)", "rho": "density(Y)"}, each=_poured, told="V",
    says={
        "m": N_("The volume of the solvent times its density gives its mass."),
        "V": N_("The mass of the solvent divided by its density gives its volume."),
    },
    source="green-book-2007 2.2: ρ = m/V",
)  # fmt: skip

TOTAL_AMOUNT = law(
    "amount-of-solution", N_("All amounts together"), "total = n + solvent",
    where={"n": "amount(X)", "solvent": "amount(X,solvent)", "total": "amount(X,solution)"}, each=_solutes,
    says={
        "total": N_("The amounts of solute and solvent together are the whole."),
        "solvent": N_("What is not solute is solvent."),
        "n": N_("What is not solvent is solute."),
    },
    source="derived: amounts add up",
    errors=[
        error("solute-left-out", "total = solvent", N_("the solute left out of the total amount"),
              N_("A mole fraction compares with all amounts together: is the solute in your total?"), at="total"),
    ],
)  # fmt: skip


def _fractions(scene: Scene) -> Iterator[Place]:
    """Y and Z are the part, X is the solute of its solution; "" for a mixture without a solvent."""
    for species in _solutes(scene):
        words = {"all": Role.SOLUTION, "own": Role.PLAIN, "part": Role.PLAIN, "rest": Role.SOLVENT}
        yield Place(species.id, species.id, species.id, words=words)
        words = {"all": Role.SOLUTION, "own": Role.SOLVENT, "part": Role.SOLVENT, "rest": Role.PLAIN}
        yield Place(species.id, scene.solvent, species.id, words=words)
    for species in _mixed(scene):
        yield Place("", species.id, species.id, words={"all": Role.MIXED, "own": Role.PLAIN})


MOLE_FRACTION = law(
    "mole-fraction", N_("Mole fraction"), "x = n / total",
    where={"x": "mole_fraction(Y)", "n": "amount(Z,{own})", "total": "amount(X,{all})", "solute": "mass(X,{part})",
           "solvent": "mass(X,{rest})"},
    each=_fractions,
    says={
        "x": N_("The amount divided by all amounts together gives the mole fraction."),
        "n": N_("The mole fraction times all amounts together gives the amount."),
        "total": N_("The amount divided by the mole fraction gives all amounts together."),
    },
    source="green-book-2007 2.10: amount fraction x",
    errors=[
        error("fraction-of-masses", "x = solute / (solute + solvent)",
              N_("masses in the place of amounts in a mole fraction"),
              N_("A mole fraction counts particles: in which unit were the parts compared?"), at="x"),
    ],
)  # fmt: skip

MIXTURE = Quantity("amount", "", Role.MIXED)
"""All amounts of a mixture without a solvent."""


def _mixed(scene: Scene) -> tuple[Species, ...]:
    """The parts of a mixture that names no solvent: all that is measured out; gases under a pressure are elsewhere."""
    wanted = any(q.kind == "mole_fraction" for q in scene.told)
    if scene.solvent or not wanted or _is_gaseous(scene):
        return ()
    measured = {q.of for q in scene.given if q.kind in EXTENSIVE and q.of and not q.role}
    parts = tuple(s for s in scene.species.values() if s.id in measured and not s.coefficient)
    return parts if len(parts) > 1 else ()


def _mixture_totals(law: Law, scene: Scene) -> Iterator[Instance]:
    parts = _mixed(scene)
    if parts:
        amounts = [Quantity("amount", species.id).id for species in parts]
        yield Instance(law, {"total": MIXTURE}, direct={"total": ("add", *amounts)})


MIXTURE_AMOUNT = law(
    "mixture-amount", N_("All amounts of the mixture"),
    instances=_mixture_totals,
    says={"total": N_("The amounts of all parts together are the whole.")},
    source="derived: amounts add up",
)  # fmt: skip

MOLALITY = law(
    "molality", N_("Molality"), "b = n / solvent",
    where={"b": "molality(X)", "n": "amount(X)", "solvent": "mass(X,solvent)", "solute": "mass(X)",
           "V": "volume(X,solution)"},
    told="b",
    says={
        "b": N_("The amount of the solute divided by the mass of the solvent gives the molality."),
        "n": N_("The molality times the mass of the solvent gives the amount of the solute."),
        "solvent": N_("The amount of the solute divided by the molality gives the mass of the solvent."),
    },
    source="green-book-2007 2.10: molality b",
    errors=[
        error("solution-for-solvent", "b = n / (solute + solvent)", N_("the solution taken for the solvent"),
              N_("Molality counts per kilogram of only one part of the solution: of which?"), at="b"),
        error("litres-for-kilograms", "(b in mol/kg) = n / V", N_("litres of solution taken for kilograms of solvent"),
              N_("Molality is not amount concentration: what stands below the line?"), at="b"),
        error("grams-as-kilograms", "(b in mol/kg) = n / solvent", N_("grams taken as kilograms"),
              N_("Molality is per kilogram: in which unit did the mass enter?")),
    ],
)  # fmt: skip


def _bases(law: Law, scene: Scene) -> Iterator[Instance]:
    """A handy portion where only contents are told: whatever its size, the contents are the same."""
    for species in scene.species.values():
        basis = _basis_of(scene, species)
        if basis is not None:
            letter, quantity, size = basis
            yield Instance(law, {letter: quantity}, direct={letter: ("num", size)})


def _basis_of(scene: Scene, species: Species) -> tuple[str, Quantity, str] | None:
    """The letter, the quantity and the size of a species' portion; None where one is told, or none is needed."""
    if species.id == scene.solvent or _is_gaseous(scene):
        return None
    own = {q for q in scene.told if q.of == species.id or (scene.solvent and q.of == scene.solvent)}
    kinds, given = {q.kind for q in own}, {q.kind for q in own & scene.given}
    return None if kinds & EXTENSIVE or not kinds & CONTENTS else _basis(species.id, given)


def _basis(solute_id: str, given: set[str]) -> tuple[str, Quantity, str] | None:
    if "mass_fraction" in given:
        return "solution", Quantity("mass", solute_id, Role.SOLUTION), "100"
    if "molality" in given:
        return "solvent", Quantity("mass", solute_id, Role.SOLVENT), "1000"
    if "mole_fraction" in given:
        return "total", Quantity("amount", solute_id, Role.SOLUTION), "1"
    return ("V", Quantity("volume", solute_id, Role.SOLUTION), "1") if given & PER_VOLUME else None


BASIS = law(
    "basis", N_("A portion to work with"),
    instances=_bases,
    says={
        "solution": N_("Any portion has the same contents: take 100 g of the solution."),
        "solvent": N_("Any portion has the same contents: take the solution that holds 1 kg of the solvent."),
        "total": N_("Any portion has the same contents: take one mole in all."),
        "V": N_("Any portion has the same contents: take 1 L of the solution."),
    },
    source="common-practice: contents do not depend on the size of the portion",
    rounding="none",
)  # fmt: skip


def _hundred_grams(scene: Scene) -> Iterator[str]:
    for species in scene.species.values():
        basis = _basis_of(scene, species)
        if basis is not None and basis[0] == "solution":
            yield species.id


SHARE_OF_PORTION = law(
    "share-of-portion", N_("Grams in a hundred grams"), "m = w solution",
    where={"m": "mass(X)", "w": "mass_fraction(X)", "solution": "mass(X,solution)"}, each=_hundred_grams,
    says={"m": N_("In 100 g of the solution the percentages are grams.")},
    source="green-book-2007 2.10: mass fraction w",
)  # fmt: skip

LAWS = (
    BASIS,
    SHARE_OF_PORTION,
    MASS_OF_SOLVENT,
    AMOUNT_OF_SOLVENT,
    TOTAL_AMOUNT,
    MIXTURE_AMOUNT,
    MOLE_FRACTION,
    MOLALITY,
)
