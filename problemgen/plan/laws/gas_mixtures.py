"""Mixtures of gases: partial pressures and mole fractions, and a gas collected over water."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws.amounts import has_mass, molar_mass_expression
from problemgen.plan.laws.gases import GAS_LAW_ERRORS, own_role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "components"]


def _of_mixture(kind: str) -> Quantity:
    return Quantity(kind, "", Role.MIXED)


def components(scene: Scene) -> tuple[Species, ...]:
    """The gases of a mixture: what a problem tells of, besides its vessel; none where no mixture is told of.

    Behind a reaction these are its products, or those of them that are driven off, and what was in the vessel before.
    Where something may be left of a reagent, its mixture is not known here, and none is told.
    """
    mixed = (_of_mixture(kind) for kind in ("pressure", "temperature"))
    if not any(quantity in scene.told for quantity in mixed):
        return ()
    named = {quantity.of for quantity in scene.told}
    if len(scene.competing) > 1 or scene.in_excess:
        return ()
    if scene.products:
        named = {name for name in named if name in scene.species and not scene.species[name].coefficient}
        named |= _formed(scene)
    return tuple(species for species in scene.species.values() if species.id in named and has_mass(species))


def _formed(scene: Scene) -> frozenset[str]:
    """The gases that a reaction forms: what is driven off, else all products but those written with another state."""
    states = {one.id: one.formula.state if one.formula else None for one in scene.products}
    return scene.driven_off or frozenset(name for name, state in states.items() if state in (None, "g"))


def _amount(species: Species) -> Quantity:
    """The amount of a gas in its mixture: of a product, what can form."""
    return Quantity("amount", species.id, own_role(species))


def _collected(scene: Scene) -> Iterator[Place]:
    """The gases that are collected over water: their pressure comes with that of the water vapour."""
    for species in scene.species.values():
        if {Quantity("pressure", species.id, role) for role in (Role.TOTAL, Role.VAPOUR)} & scene.told:
            yield Place(species.id, role=own_role(species))


OVER_WATER = law(
    "over-water", N_("Gas collected over water"), "total = p + vapour",
    where={"p": "pressure(X)", "total": "pressure(X,total)", "vapour": "pressure(X,vapour)"}, each=_collected,
    says={
        "p": N_("The gas over water is moist: its own pressure is the total pressure less that of the water vapour."),
        "total": N_("The pressure of the gas and that of the water vapour make the total pressure."),
        "vapour": N_("The total pressure less that of the gas is the pressure of the water vapour."),
    },
    source="green-book-2007 2.10: partial pressure; derived: Dalton's law, partial pressures add up to the total",
    errors=[
        error("vapour-forgotten", "total = p", N_("the water vapour forgotten"),
              N_("What else, besides the gas, is in the vessel above the water?"), at="p total"),
        error("vapour-wrong-way", "total = p - vapour",
              N_("the vapour pressure added for subtracted, or the other way round"),
              N_("Which is greater: the pressure of the gas alone, or that of the gas with the water vapour?"),
              at="p total"),
    ],
)  # fmt: skip

DRIED = law(
    "dried-gas", N_("Volume of a gas when dried"), "dry / V = p / total",
    where={"dry": "volume(X,dry)", "V": "volume(X,*)", "p": "pressure(X)", "total": "pressure(X,total)"},
    each=_collected, told="dry",
    says={
        "dry": N_("When dried, the gas alone exerts the whole pressure: its volume shrinks in the ratio of the "
                  "pressures."),
        "V": N_("With the water vapour the gas exerts only part of the pressure: it takes up more room."),
    },
    source="green-book-2007 2.11: pV = nRT; derived: Boyle's law, the same amount at one temperature",
    errors=[
        error("pressures-exchanged", "dry / V = total / p",
              N_("the pressures of the moist and of the dry gas exchanged"),
              N_("Does a gas take more room or less when its water vapour is taken away?"), at="dry V"),
    ],
)  # fmt: skip

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


TOTAL_PRESSURE = law(
    "total-pressure", N_("Total pressure"),
    instances=lambda law, scene: _sums(law, scene, "pressure"),
    says={
        "total": N_("The pressures of the gases add up to the total pressure."),
        **dict.fromkeys(_PARTS, N_("The total pressure less that of the other gases is the pressure of this one.")),
    },
    source="green-book-2007 2.10: partial pressure; derived: Dalton's law, partial pressures add up to the total",
)  # fmt: skip

TOTAL_AMOUNT = law(
    "total-amount", N_("Total amount"),
    instances=lambda law, scene: _sums(law, scene, "amount"),
    says={
        "total": N_("The amounts of the gases add up."),
        **dict.fromkeys(_PARTS, N_("The whole amount less that of the other gases is the amount of this one.")),
    },
    source="derived: in a mixture that does not react amounts add up",
    errors=[
        error("residue-counted", None, N_("what stays behind counted with the gases"),
              N_("Which of the products are gases at this temperature, and which stay behind?")),
    ],
)  # fmt: skip


def _in_mixture(scene: Scene) -> Iterator[Place]:
    """The gases of a mixture, with the fraction that is told of each, by amount or by volume."""
    gases = components(scene)
    weighed = all(Quantity("mass", gas.id) in scene.given for gas in gases)
    masses = {gas.id: ("mul", Quantity("amount", gas.id).id, molar_mass_expression(scene, gas)) for gas in gases}
    for species in gases:
        by_volume = Quantity("volume_fraction", species.id) in scene.told
        by_mass: Expression = ("div", masses[species.id], ("add", *masses.values()))
        yield Place(
            species.id,
            role=own_role(species),
            words={"fraction": "volume_fraction" if by_volume else "mole_fraction", "p": ""},
            values={"by_mass": by_mass} if weighed else {},
        )


MIXTURE_FRACTION = law(
    "gas-mole-fraction", N_("Mole fraction in a mixture of gases"), "x = n / total",
    where={"x": "mole_fraction(X)", "n": "amount(X,*)", "total": "amount(,mixed)"}, each=_in_mixture,
    says={
        "x": N_("The amount of the gas divided by the amount of all gases gives its mole fraction."),
        "n": N_("The mole fraction times the amount of all gases gives the amount of this one."),
        "total": N_("The amount of the gas divided by its mole fraction gives the amount of all gases."),
    },
    source="green-book-2007 2.10: mole fraction x, y",
    errors=[
        error("part-over-rest", "x = n / (total - n)", N_("compared with the other gases, not with all"),
              N_("A fraction compares a part with the whole: is the gas itself in your denominator?"), at="x"),
        error("mass-fraction-taken", "x := by_mass", N_("masses compared in place of amounts"),
              N_("Pressure goes with the number of molecules: do equal masses hold equal numbers?")),
    ],
)  # fmt: skip

PARTIAL_PRESSURE = law(
    "partial-pressure", N_("Partial pressure"), "p = x total",
    where={"p": "pressure(X)", "x": "{fraction}(X)", "total": "pressure(,mixed)"}, each=_in_mixture,
    says={
        "p": N_("The fraction of the gas by amount (or by volume) times the total pressure gives its pressure."),
        "x": N_("The pressure of the gas divided by the total pressure gives its fraction by amount, or by volume."),
        "total": N_("The pressure of the gas divided by its fraction gives the total pressure."),
    },
    source="green-book-2007 2.10: partial pressure p(B) = y(B) p",
    errors=[
        error("fraction-divided", "p = total / x", N_("the fraction used upside down"),
              N_("Can one of the gases have a greater pressure than all of them together?"), at="p total"),
    ],
)  # fmt: skip


def _mixture_and_gases(scene: Scene) -> Iterator[Place]:
    if components(scene):
        yield Place(role=Role.MIXED, words={"p": Role.MIXED})
        yield from _in_mixture(scene)


GAS_IN_MIXTURE = law(
    "gas-in-mixture", N_("Ideal gas in a mixture"), "p V = n R T",
    where={"p": "pressure(X,{p})", "n": "amount(X,*)", "V": "volume(,mixed)", "R": "gas_constant()",
           "T": "temperature(,mixed)"},
    each=_mixture_and_gases,
    says={
        "p": N_("Each gas fills the whole vessel as if it were alone; the temperature is in kelvin."),
        "n": N_("The equation of state with the pressure of this gas and the volume of the vessel gives its amount."),
        "V": N_("The equation of state with the amount of all gases gives the volume; the temperature is in kelvin."),
        "T": N_("The equation of state, solved for the temperature in kelvin."),
    },
    source="green-book-2007 2.11: pV = nRT; derived: Dalton's law, each gas fills the volume as if it were alone",
    errors=GAS_LAW_ERRORS,
)  # fmt: skip

LAWS = (
    OVER_WATER,
    DRIED,
    TOTAL_AMOUNT,
    MIXTURE_FRACTION,
    PARTIAL_PRESSURE,
    GAS_IN_MIXTURE,  # before the next: from amounts, all gases are worked at once
    TOTAL_PRESSURE,
)
