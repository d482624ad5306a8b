"""Volumes of gases at one temperature and pressure: in the ratio of the coefficients, left over, in vessels."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import permutations

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.laws.gases import own_role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]


def _alike(scene: Scene) -> tuple[Species, ...]:
    """The species of an equation whose volumes alone are told: gases at one temperature and pressure."""
    others = ("pressure", "temperature", "density", "concentration", "mass_fraction", "molar_volume", "mass", "amount")
    reacting = (*scene.reagents, *scene.products)
    if any(q.kind in others and q.of in {s.id for s in reacting} for q in scene.given):
        return ()
    return tuple(s for s in reacting if any(q.kind == "volume" and q.of == s.id for q in scene.told))


def _given_volumes(scene: Scene) -> list[Species]:
    """The reagents whose volumes are given."""
    return [s for s in _alike(scene) if s.coefficient < 0 and Quantity("volume", s.id) in scene.given]


def _allowed_by(reagent: Species, product: Species) -> Quantity:
    """The volume of a product as far as one reagent allows it."""
    return Quantity("volume", product.id, Role.FROM, source=reagent.id)


def _scaled(source: Species, target: Species) -> Expression:
    """A gas volume from another's, in the ratio of the coefficients."""
    volume = Quantity("volume", source.id, own_role(source)).id
    ratio = Fraction(target.nu, source.nu)
    return volume if ratio == 1 else ("mul", ("num", str(ratio)), volume)


def _pairs(scene: Scene) -> Iterator[Place]:
    """Two gases of an equation: Y as X tells it, or, where two are measured, as far as X allows it."""
    limited = len(_given_volumes(scene)) > 1
    for source, target in permutations(_alike(scene), 2):
        if not limited:
            yield _pair(source, target, own_role(target))
        elif source.coefficient < 0 and target.is_product:
            yield _pair(source, target, f"from:{source.id}")


def _pair(source: Species, target: Species, role: str) -> Place:
    ratio = Fraction(target.nu, source.nu)
    values: dict[str, Expression | Fraction] = {
        "ratio": ratio if ratio == 1 else ("num", str(ratio)),
        "inverted": ("num", str(1 / ratio)),
    }
    return Place(source.id, target.id, role=role, words={"own": own_role(source)}, values=values)


GAS_VOLUMES = law(
    "gas-volumes", N_("Gas volumes in an equation"), "V = ratio other",
    where={"V": "volume(Y,*)", "other": "volume(X,{own})"}, each=_pairs,
    says={
        "V := ratio other": N_("Gases at the same temperature and pressure react in volumes that stand in the "
                               "ratio of the coefficients."),
    },
    source="green-book-2007 2.11: at one p and T the volume is proportional to the amount",
    errors=[
        error("volume-ratio-left-out", "V := other", N_("coefficients left out between two gas volumes"),
              N_("Read the equation once more: how many volumes of one gas go with how many of the other?")),
        error("coefficients-inverted", "V := inverted other",
              N_("ratio of coefficients upside down between two gas volumes"),
              N_("Test your ratio on the equation itself: which of the two gases takes more room?")),
    ],
)  # fmt: skip


def _limited_volumes(law: Law, scene: Scene) -> Iterator[Instance]:
    given = _given_volumes(scene)
    for product in _alike(scene) if len(given) > 1 else ():
        if product.is_product:
            parts = [_allowed_by(reagent, product) for reagent in given]
            binding = {"V": Quantity("volume", product.id, Role.THEORETICAL)}
            names = [quantity.id for quantity in parts]
            yield Instance(
                law, binding, direct={"V": ("min", *names)}, mistaken={("larger-volume-taken", "V"): ("max", *names)}
            )


LIMITED_VOLUME = law(
    "limited-gas-volume", N_("Gas volume that the limiting reagent allows"),
    instances=_limited_volumes,
    says={"V": N_("The gas that allows the least product is used up first.")},
    source="common-practice: the limiting reagent is the one that allows the least product",
    errors=[
        error("larger-volume-taken", None, N_("the gas in excess taken as limiting"),
              N_("The reaction stops when the first gas is used up: which one is that?")),
    ],
    rounding="none",
)  # fmt: skip


def _volumes_left(law: Law, scene: Scene) -> Iterator[Instance]:
    """What remains of each gas: the least of what each of the gases would leave of it is used up wholly."""
    given = _given_volumes(scene)
    for gas in given if len(given) > 1 else ():
        volume = Quantity("volume", gas.id)
        used: Expression = ("min", *(_scaled(other, gas) for other in given))
        binding = {"V": Quantity("volume", gas.id, Role.LEFT), "taken": volume}
        yield Instance(law, binding, direct={"V": ("add", volume.id, ("neg", used))})


VOLUME_LEFT = law(
    "gas-volume-left", N_("Gas volume left over"),
    instances=_volumes_left,
    says={"V": N_("What was taken of the gas, less what the limiting gas uses up of it.")},
    source="common-practice: the limiting reagent is the one that allows the least product",
)  # fmt: skip


def _vessels(scene: Scene) -> Iterator[Place]:
    """What a volume that is asked for fills: a thing without a formula, of which the number is asked."""
    for one in scene.species.values():
        if not has_mass(one) and Quantity("portions", one.id) in scene.wanted:
            volumes = (q for q in scene.wanted if q.kind == "volume" and q.of != one.id)
            yield from (Place(one.id, q.of, role=q.written_role) for q in volumes)


VESSELS = law(
    "vessels", N_("Number of vessels"), "N = V / vessel",
    where={"N": "portions(X)", "V": "volume(Y,*)", "vessel": "volume(X)"}, each=_vessels,
    says={"N": N_("The volume divided by that of one vessel gives the number of vessels.")},
    source="derived: the whole over one part is the number of parts",
)  # fmt: skip

LAWS = (GAS_VOLUMES, LIMITED_VOLUME, VOLUME_LEFT, VESSELS)
