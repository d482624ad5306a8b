"""Mixtures of gases: partial pressures and mole fractions, and a gas collected over water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import has_mass, molar_mass_expression
from problemgen.plan.laws.gases import GAS_LAW_MISUSES, own_role, told

__all__ = ["LAWS", "components"]

p, V, n, R, T, x, w, total, vapour, dry = letters("p V n R T x w total vapour dry")


def _of_mixture(kind: str) -> Quantity:
    return Quantity(kind, "", Role.MIXED)


def components(scene: Scene) -> tuple[Species, ...]:
    """The gases of a mixture: what a problem tells of, besides its vessel; none where no mixture is told of.

    Behind a reaction these are its products, or those of them that are driven off, and what was in the vessel before.
    Where something may be left of a reagent, its mixture is not known here, and none is told.
    """
    mixed = (_of_mixture(kind) for kind in ("pressure", "temperature"))
    if not any(quantity in told(scene) for quantity in mixed):
        return ()
    named = {quantity.of for quantity in told(scene)}
    if len(scene.competing) > 1 or scene.in_excess:
        return ()
    if scene.products:
        named = {name for name in named if name in scene.species and not scene.species[name].coefficient}
        named |= _formed(scene)
    return tuple(species for species in scene.species.values() if species.id in named and has_mass(species))


def _formed(scene: Scene) -> frozenset[str]:
    """The gases that a reaction forms: what is driven off, else all products but those written with another state."""
    told = {one.id: one.formula.state if one.formula else None for one in scene.products}
    return scene.driven_off or frozenset(name for name, state in told.items() if state in (None, "g"))


def _amount(species: Species) -> Quantity:
    """The amount of a gas in its mixture: of a product, what can form."""
    return Quantity("amount", species.id, own_role(species))


def _collected(scene: Scene) -> Iterator[Species]:
    """The gases that are collected over water: their pressure comes with that of the water vapour."""
    for species in scene.species.values():
        if {Quantity("pressure", species.id, role) for role in (Role.TOTAL, Role.VAPOUR)} & told(scene):
            yield species


def _dry_gases(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _collected(scene):
        binding = {
            "p": Quantity("pressure", species.id),
            "total": Quantity("pressure", species.id, Role.TOTAL),
            "vapour": Quantity("pressure", species.id, Role.VAPOUR),
        }
        yield Instance(law, binding)


OVER_WATER = Law(
    id="over-water",
    title="Gas collected over water",
    relation=p + vapour - total,
    instances=_dry_gases,
    words={
        "p": "The gas over water is moist: its own pressure is the total pressure less that of the water vapour.",
        "total": "The pressure of the gas and that of the water vapour make the total pressure.",
        "vapour": "The total pressure less that of the gas is the pressure of the water vapour.",
    },
    source="green-book-2007 2.10: partial pressure; derived: Dalton's law, partial pressures add up to the total",
    misuses=(
        Misuse(
            "vapour-forgotten",
            "the water vapour forgotten",
            "What else, besides the gas, is in the vessel above the water?",
            p - total,
            only_for=frozenset({"p", "total"}),
        ),
        Misuse(
            "vapour-wrong-way",
            "the vapour pressure added for subtracted, or the other way round",
            "Which is greater: the pressure of the gas alone, or that of the gas with the water vapour?",
            p - vapour - total,
            only_for=frozenset({"p", "total"}),
        ),
    ),
)


def _dried(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _collected(scene):
        if Quantity("volume", species.id, Role.DRY) in told(scene):
            binding = {
                "dry": Quantity("volume", species.id, Role.DRY),
                "V": Quantity("volume", species.id, own_role(species)),
                "p": Quantity("pressure", species.id),
                "total": Quantity("pressure", species.id, Role.TOTAL),
            }
            yield Instance(law, binding)


DRIED = Law(
    id="dried-gas",
    title="Volume of a gas when dried",
    relation=dry * total - p * V,
    instances=_dried,
    words={
        "dry": "When dried, the gas alone exerts the whole pressure: its volume shrinks in the ratio of the pressures.",
        "V": "With the water vapour the gas exerts only part of the pressure: it takes up more room.",
    },
    source="green-book-2007 2.11: pV = nRT; derived: Boyle's law, the same amount at one temperature",
    misuses=(
        Misuse(
            "pressures-exchanged",
            "the pressures of the moist and of the dry gas exchanged",
            "Does a gas take more room or less when its water vapour is taken away?",
            dry * p - total * V,
            only_for=frozenset({"dry", "V"}),
        ),
    ),
)

# More gases than a mixture in a course has (dry air is told as four).
_MOST = 8
_PARTS = tuple(f"part{index}" for index in range(_MOST))


def _sums(law: Law, scene: Scene, kind: str) -> Iterator[Instance]:
    """A mixture's quantity as the sum of its gases': solved for the whole, or for the one part that lacks."""
    parts = [_amount(one) if kind == "amount" else Quantity(kind, one.id) for one in components(scene)]
    if 1 < len(parts) <= _MOST:
        whole = _of_mixture(kind)
        binding = {"total": whole, **dict(zip(_PARTS, parts, strict=False))}
        direct: dict[str, Expression] = {"total": ("add", *(part.id for part in parts))}
        for letter, part in zip(_PARTS, parts, strict=False):
            direct[letter] = ("add", whole.id, *(("neg", other.id) for other in parts if other != part))
        yield Instance(law, binding, direct=direct, mistaken=_with_the_rest(scene, kind, parts))


def _with_the_rest(scene: Scene, kind: str, parts: Sequence[Quantity]) -> dict[tuple[str, str], Expression]:
    """All products in the place of the gases, where something stays behind."""
    behind = [one for one in scene.products if one not in components(scene)]
    if kind != "amount" or not behind:
        return {}
    return {("residue-counted", "total"): ("add", *(part.id for part in parts), *(_amount(one).id for one in behind))}


TOTAL_PRESSURE = Law(
    id="total-pressure",
    title="Total pressure",
    relation=None,
    instances=lambda law, scene: _sums(law, scene, "pressure"),
    words={
        "total": "The pressures of the gases add up to the total pressure.",
        **dict.fromkeys(_PARTS, "The total pressure less that of the other gases is the pressure of this one."),
    },
    source="green-book-2007 2.10: partial pressure; derived: Dalton's law, partial pressures add up to the total",
)

TOTAL_AMOUNT = Law(
    id="total-amount",
    title="Total amount",
    relation=None,
    instances=lambda law, scene: _sums(law, scene, "amount"),
    words={
        "total": "The amounts of the gases add up.",
        **dict.fromkeys(_PARTS, "The whole amount less that of the other gases is the amount of this one."),
    },
    source="derived: in a mixture that does not react amounts add up",
    misuses=(
        Misuse(
            "residue-counted",
            "what stays behind counted with the gases",
            "Which of the products are gases at this temperature, and which stay behind?",
            None,
        ),
    ),
)


def _fractions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in components(scene):
        binding = {
            "x": Quantity("mole_fraction", species.id),
            "n": _amount(species),
            "total": _of_mixture("amount"),
        }
        yield Instance(law, binding, mistaken=_by_mass(scene, species))


def _by_mass(scene: Scene, species: Species) -> dict[tuple[str, str], Expression]:
    """The mass fraction in place of the mole fraction, where all amounts come from masses."""
    gases = components(scene)
    if not all(Quantity("mass", gas.id) in scene.given for gas in gases):
        return {}
    masses = {gas.id: ("mul", Quantity("amount", gas.id).id, molar_mass_expression(scene, gas)) for gas in gases}
    return {("mass-fraction-taken", "x"): ("div", masses[species.id], ("add", *masses.values()))}


MIXTURE_FRACTION = Law(
    id="gas-mole-fraction",
    title="Mole fraction in a mixture of gases",
    relation=x * total - n,
    instances=_fractions,
    words={
        "x": "The amount of the gas divided by the amount of all gases gives its mole fraction.",
        "n": "The mole fraction times the amount of all gases gives the amount of this one.",
        "total": "The amount of the gas divided by its mole fraction gives the amount of all gases.",
    },
    source="green-book-2007 2.10: mole fraction x, y",
    misuses=(
        Misuse(
            "part-over-rest",
            "compared with the other gases, not with all",
            "A fraction compares a part with the whole: is the gas itself in your denominator?",
            x * (total - n) - n,
            only_for=frozenset({"x"}),
        ),
        Misuse(
            "mass-fraction-taken",
            "masses compared in place of amounts",
            "Pressure goes with the number of molecules: do equal masses hold equal numbers?",
            None,
        ),
    ),
)


def _partial_pressures(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in components(scene):
        by_volume = Quantity("volume_fraction", species.id)
        binding = {
            "p": Quantity("pressure", species.id),
            "x": by_volume if by_volume in told(scene) else Quantity("mole_fraction", species.id),
            "total": _of_mixture("pressure"),
        }
        yield Instance(law, binding)


PARTIAL_PRESSURE = Law(
    id="partial-pressure",
    title="Partial pressure",
    relation=x * total - p,
    instances=_partial_pressures,
    words={
        "p": "The fraction of the gas by amount (or by volume) times the total pressure gives its pressure.",
        "x": "The pressure of the gas divided by the total pressure gives its fraction by amount, or by volume.",
        "total": "The pressure of the gas divided by its fraction gives the total pressure.",
    },
    source="green-book-2007 2.10: partial pressure p(B) = y(B) p",
    misuses=(
        Misuse(
            "fraction-divided",
            "the fraction used upside down",
            "Can one of the gases have a greater pressure than all of them together?",
            p * x - total,
            only_for=frozenset({"p", "total"}),
        ),
    ),
)


def _gas_laws(law: Law, scene: Scene) -> Iterator[Instance]:
    if not components(scene):
        return
    shared = {"V": _of_mixture("volume"), "R": Quantity("gas_constant", ""), "T": _of_mixture("temperature")}
    yield Instance(law, {"p": _of_mixture("pressure"), "n": _of_mixture("amount"), **shared})
    for species in components(scene):
        yield Instance(law, {"p": Quantity("pressure", species.id), "n": _amount(species), **shared})


GAS_IN_MIXTURE = Law(
    id="gas-in-mixture",
    title="Ideal gas in a mixture",
    relation=p * V - n * R * T,
    instances=_gas_laws,
    words={
        "p": "Each gas fills the whole vessel as if it were alone; the temperature is in kelvin.",
        "n": "The equation of state with the pressure of this gas and the volume of the vessel gives its amount.",
        "V": "The equation of state with the amount of all gases gives the volume; the temperature is in kelvin.",
        "T": "The equation of state, solved for the temperature in kelvin.",
    },
    source="green-book-2007 2.11: pV = nRT; derived: Dalton's law, each gas fills the volume as if it were alone",
    misuses=GAS_LAW_MISUSES,
)

LAWS = (
    OVER_WATER,
    DRIED,
    TOTAL_AMOUNT,
    MIXTURE_FRACTION,
    PARTIAL_PRESSURE,
    GAS_IN_MIXTURE,  # before the next: from amounts, all gases are worked at once
    TOTAL_PRESSURE,
)
