"""Volumes of gases at one temperature and pressure: in the ratio of the coefficients, left over, in vessels."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.laws.gases import own_role, told

__all__ = ["LAWS"]

V, N, vessel = letters("V N vessel")


def _alike(scene: Scene) -> tuple[Species, ...]:
    """The species of an equation whose volumes alone are told: gases at one temperature and pressure."""
    others = ("pressure", "temperature", "density", "concentration", "mass_fraction", "molar_volume", "mass", "amount")
    reacting = (*scene.reagents, *scene.products)
    if any(q.kind in others and q.of in {s.id for s in reacting} for q in scene.given):
        return ()
    return tuple(s for s in reacting if any(q.kind == "volume" and q.of == s.id for q in told(scene)))


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


def _gas_volumes(law: Law, scene: Scene) -> Iterator[Instance]:
    species = _alike(scene)
    limited = len(_given_volumes(scene)) > 1
    for source in species:
        for target in species:
            if source != target and not limited:
                yield _volume_ratio(law, source, target, Quantity("volume", target.id, own_role(target)))
            elif limited and source.coefficient < 0 and target.is_product:
                yield _volume_ratio(law, source, target, _allowed_by(source, target))


def _volume_ratio(law: Law, source: Species, target: Species, volume: Quantity) -> Instance:
    binding = {"V": volume, "other": Quantity("volume", source.id, own_role(source))}
    other = binding["other"].id
    mistaken: dict[tuple[str, str], Expression] = {
        ("volume-ratio-left-out", "V"): other,
        ("coefficients-inverted", "V"): ("mul", ("num", str(Fraction(source.nu, target.nu))), other),
    }
    return Instance(law, binding, direct={"V": _scaled(source, target)}, mistaken=mistaken)


GAS_VOLUMES = Law(
    id="gas-volumes",
    title="Gas volumes in an equation",
    relation=None,
    instances=_gas_volumes,
    words={
        "V": "Gases at the same temperature and pressure react in volumes that stand in the ratio of the coefficients."
    },
    source="green-book-2007 2.11: at one p and T the volume is proportional to the amount",
    misuses=(
        Misuse(
            "volume-ratio-left-out",
            "coefficients left out between two gas volumes",
            "Read the equation once more: how many volumes of one gas go with how many of the other?",
            None,
        ),
        Misuse(
            "coefficients-inverted",
            "ratio of coefficients upside down between two gas volumes",
            "Test your ratio on the equation itself: which of the two gases takes more room?",
            None,
        ),
    ),
)


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


LIMITED_VOLUME = Law(
    id="limited-gas-volume",
    title="Gas volume that the limiting reagent allows",
    relation=None,
    instances=_limited_volumes,
    words={"V": "The gas that allows the least product is used up first."},
    source="common-practice: the limiting reagent is the one that allows the least product",
    misuses=(
        Misuse(
            "larger-volume-taken",
            "the gas in excess taken as limiting",
            "The reaction stops when the first gas is used up: which one is that?",
            None,
        ),
    ),
    rounding="none",
)


def _volumes_left(law: Law, scene: Scene) -> Iterator[Instance]:
    """What remains of each gas: the least of what each of the gases would leave of it is used up wholly."""
    given = _given_volumes(scene)
    for gas in given if len(given) > 1 else ():
        volume = Quantity("volume", gas.id)
        used: Expression = ("min", *(_scaled(other, gas) for other in given))
        binding = {"V": Quantity("volume", gas.id, Role.LEFT), "taken": volume}
        yield Instance(law, binding, direct={"V": ("add", volume.id, ("neg", used))})


VOLUME_LEFT = Law(
    id="gas-volume-left",
    title="Gas volume left over",
    relation=None,
    instances=_volumes_left,
    words={"V": "What was taken of the gas, less what the limiting gas uses up of it."},
    source="common-practice: the limiting reagent is the one that allows the least product",
)


def _vessels(law: Law, scene: Scene) -> Iterator[Instance]:
    """How often a volume that is asked for holds the volume of a vessel."""
    for one in scene.species.values():
        number = Quantity("portions", one.id)
        if has_mass(one) or number not in scene.wanted:
            continue
        for volume in (q for q in scene.wanted if q.kind == "volume" and q.of != one.id):
            binding = {"N": number, "V": volume, "vessel": Quantity("volume", one.id)}
            yield Instance(law, binding)


VESSELS = Law(
    id="vessels",
    title="Number of vessels",
    relation=N * vessel - V,
    instances=_vessels,
    words={"N": "The volume divided by that of one vessel gives the number of vessels."},
    source="derived: the whole over one part is the number of parts",
)

LAWS = (GAS_VOLUMES, LIMITED_VOLUME, VOLUME_LEFT, VESSELS)
