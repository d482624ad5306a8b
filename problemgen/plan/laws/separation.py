"""A substance between two solvents: the distribution ratio, one portion of solvent against several."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, coefficient_letter, letters

__all__ = ["LAWS"]

D, c, V, volume_other, content, organic, aqueous, total = letters("D c V volume_other content organic aqueous total")
held_organic, held_aqueous, q, each, left, out, part = letters("held_organic held_aqueous q each left out part")

_CONTENTS = {"mass": "mass_concentration", "amount": "concentration"}
_LAYERS = (Role.ORGANIC, Role.AQUEOUS)


def _shaken(scene: Scene) -> Iterator[str]:
    """The substances between two solvents."""
    told = scene.given | scene.wanted
    for species in scene.species.values():
        if any(quantity.of == species.id and quantity.role in _LAYERS for quantity in told):
            yield species.id


def _layer_contents(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute in _shaken(scene):
        for kind, concentration in _CONTENTS.items():
            for layer in _LAYERS:
                binding = {
                    "content": Quantity(kind, solute, layer),
                    "c": Quantity(concentration, solute, layer),
                    "V": Quantity("volume", solute, layer),
                }
                other = next(one for one in _LAYERS if one != layer)
                yield Instance(law, binding, extra={"volume_other": Quantity("volume", solute, other).id})


LAYER_CONTENT = Law(
    id="layer-content",
    title="What a layer holds",
    relation=c * V - content,
    instances=_layer_contents,
    words={
        "c": "What a layer holds, over its volume, gives its concentration.",
        "content": "The concentration of a layer times its volume gives what it holds.",
        "V": "What a layer holds, over its concentration, gives its volume.",
    },
    source="green-book-2007 2.10: c = n/V",
    misuses=(
        Misuse(
            "other-layers-volume",
            "the volume of the other layer",
            "Which layer does this volume belong to?",
            c * volume_other - content,
            only_for=frozenset({"c", "content"}),
        ),
    ),
)


def _both_layers(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute in _shaken(scene):
        for kind in _CONTENTS:
            layers = {layer.value: Quantity(kind, solute, layer) for layer in _LAYERS}
            yield Instance(law, {**layers, "total": Quantity(kind, solute)})


BOTH_LAYERS = Law(
    id="both-layers",
    title="Both layers together",
    relation=organic + aqueous - total,
    instances=_both_layers,
    words={
        "organic": "What is not in the aqueous layer is in the organic one.",
        "aqueous": "What is not in the organic layer is in the aqueous one.",
        "total": "Both layers together hold all of the substance.",
    },
    source="derived: masses add up",
    misuses=(
        Misuse(
            "all-in-one-layer",
            "all of the substance taken to be in one layer",
            "The other layer holds some of the substance as well.",
            organic - total,
            only_for=frozenset({"organic"}),
        ),
    ),
)


def _distributions(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute in _shaken(scene):
        for kind, concentration in _CONTENTS.items():
            layers = {layer.value: Quantity(concentration, solute, layer) for layer in _LAYERS}
            extra: dict[str, Expression] = {f"held_{layer}": Quantity(kind, solute, layer).id for layer in _LAYERS}
            yield Instance(law, {**layers, "D": Quantity("distribution_ratio", solute)}, extra=extra)


DISTRIBUTION = Law(
    id="distribution",
    title="Distribution ratio",
    relation=D * aqueous - organic,
    instances=_distributions,
    words={
        "D": "The concentration in the organic layer over that in the aqueous one is the distribution ratio.",
        "organic": "The distribution ratio times the concentration in water gives that in the organic layer.",
        "aqueous": "The concentration in the organic layer over the distribution ratio gives that in water.",
    },
    source="gold-book distribution ratio",
    misuses=(
        Misuse(
            "distribution-inverted",
            "distribution ratio upside down",
            "Which layer does the ratio put above the line, and which one holds more here?",
            D * organic - aqueous,
        ),
        Misuse(
            "volumes-left-out",
            "what the layers hold compared, without their volumes",
            "The ratio compares concentrations: how large is each layer?",
            D * held_aqueous - held_organic,
            only_for=frozenset({"D"}),
        ),
    ),
)


def _portions(scene: Scene) -> Iterator[tuple[str, int]]:
    """The substances that are extracted, with the number of the portions that are told or asked for."""
    after = [q for q in scene.given | scene.wanted if q.role in (Role.UNEXTRACTED, Role.EXTRACTED)]
    for species in scene.species.values():
        for number in Role.EXTRACTED.stages:
            if any(quantity.of == species.id and quantity.stage == number for quantity in after):
                yield species.id, number


def _portion(scene: Scene, solute: str, number: int) -> Quantity:
    """The volume of one portion: all of the solvent where there is one portion, else given or worked out."""
    given = Quantity("volume", solute, Role.PORTION)
    if given in scene.given:
        return given
    if number == 1:
        return Quantity("volume", solute, Role.ORGANIC)
    return Quantity("volume", solute, Role.EQUAL_PORTION, stage=number)


def _divided(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        one, all_of_it = _portion(scene, solute, number), Quantity("volume", solute, Role.ORGANIC)
        if one not in scene.given and number > 1:
            yield Instance(law, {"part": one, "V": all_of_it}, nu=number)


PORTION = Law(
    id="portion",
    title="Volume of one portion",
    relation=coefficient_letter * part - V,
    instances=_divided,
    words={"part": "The solvent is divided into equal portions."},
    source="common-practice: the solvent is divided into equal portions",
    misuses=(
        Misuse(
            "whole-volume-each-time",
            "all of the solvent taken for each portion",
            "How much solvent is shaken with the solution each time?",
            part - V,
        ),
    ),
)


def _each(solute: str, number: int) -> Quantity:
    """The fraction that one portion leaves in the water."""
    role = Role.UNEXTRACTED_BY_EACH if number > 1 else Role.UNEXTRACTED
    return Quantity("fraction_left", solute, role, stage=number)


def _leavings(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        binding = {
            "q": _each(solute, number),
            "aqueous": Quantity("volume", solute, Role.AQUEOUS),
            "organic": _portion(scene, solute, number),
            "D": Quantity("distribution_ratio", solute),
        }
        yield Instance(law, binding)


LEFT_BY_PORTION = Law(
    id="left-by-portion",
    title="Left by one portion of solvent",
    relation=q * (aqueous + D * organic) - aqueous,
    instances=_leavings,
    words={
        "q": "The fraction left is the volume of water over the sum of that volume and D times the volume of solvent.",
        "D": "The fraction that one portion leaves gives the distribution ratio.",
    },
    source="gold-book distribution ratio: D = c(organic)/c(aqueous); derived: the amount is conserved",
    misuses=(
        Misuse(
            "distribution-inverted",
            "distribution ratio upside down",
            "Which layer does the ratio put above the line, and which one holds more here?",
            q * (aqueous + organic / D) - aqueous,
            only_for=frozenset({"q"}),
        ),
        Misuse(
            "layers-exchanged",
            "the volumes of water and solvent exchanged",
            "Which of the two volumes belongs to the layer that the substance is left in?",
            q * (organic + D * aqueous) - organic,
            only_for=frozenset({"q"}),
        ),
        Misuse(
            "extracted-for-left",
            "what goes into the solvent taken for what is left",
            "Was the question what stays in the water, or what leaves it?",
            q * (aqueous + D * organic) - D * organic,
            only_for=frozenset({"q"}),
        ),
        Misuse(
            "volumes-left-out-of-fraction",
            "the volumes left out",
            "The ratio compares concentrations: how large is each layer?",
            q * (1 + D) - 1,
            only_for=frozenset({"q"}),
        ),
    ),
)


def _repeated(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        if number > 1:
            one, after_all = _each(solute, number), Quantity("fraction_left", solute, Role.UNEXTRACTED, stage=number)
            mistaken: dict[tuple[str, str], Expression] = {
                ("portions-divided", "q"): ("div", one.id, ("num", str(number))),
                ("one-portion-for-all", "q"): one.id,
            }
            direct: dict[str, Expression] = {"q": ("pow", one.id, number)}
            yield Instance(law, {"q": after_all, "each": one}, direct=direct, mistaken=mistaken)


LEFT_BY_PORTIONS = Law(
    id="left-by-portions",
    title="Left by several portions of solvent",
    relation=None,
    instances=_repeated,
    words={"q": "Each portion leaves the same fraction of what the one before has left: the fractions multiply."},
    source=LEFT_BY_PORTION.source,
    misuses=(
        Misuse(
            "portions-divided",
            "the fraction divided by the number of portions",
            "The second portion finds only what the first has left: is that divided, or multiplied?",
            None,
        ),
        Misuse(
            "one-portion-for-all",
            "one portion taken for all",
            "How many times is the solution shaken with fresh solvent?",
            None,
        ),
    ),
)


def _remainders(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        for kind in _CONTENTS:
            binding = {
                "left": Quantity(kind, solute, Role.UNEXTRACTED, stage=number),
                "total": Quantity(kind, solute),
                "q": Quantity("fraction_left", solute, Role.UNEXTRACTED, stage=number),
            }
            yield Instance(law, binding)


LEFT_IN_WATER = Law(
    id="left-in-water",
    title="Left in the water",
    relation=q * total - left,
    instances=_remainders,
    words={
        "left": "The fraction left times what there was gives what is left in the water.",
        "q": "What is left over what there was is the fraction left.",
    },
    source=LEFT_BY_PORTION.source,
)


def _extracted(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        for kind in _CONTENTS:
            binding = {
                "out": Quantity(kind, solute, Role.EXTRACTED, stage=number),
                "total": Quantity(kind, solute),
                "left": Quantity(kind, solute, Role.UNEXTRACTED, stage=number),
            }
            yield Instance(law, binding)


EXTRACTED = Law(
    id="extracted",
    title="Extracted",
    relation=total - left - out,
    instances=_extracted,
    words={"out": "What is not left in the water is extracted.", "left": "What is not extracted is left in the water."},
    source="derived: masses add up",
    misuses=(
        Misuse(
            "left-for-extracted",
            "what is left taken for what is extracted",
            "Was the question what stays in the water, or what leaves it?",
            left - out,
            only_for=frozenset({"out"}),
        ),
    ),
)


def _fractions(law: Law, scene: Scene) -> Iterator[Instance]:
    for solute, number in _portions(scene):
        binding = {
            "out": Quantity("fraction_extracted", solute, Role.EXTRACTED, stage=number),
            "q": Quantity("fraction_left", solute, Role.UNEXTRACTED, stage=number),
        }
        yield Instance(law, binding)


FRACTION_EXTRACTED = Law(
    id="fraction-extracted",
    title="Fraction extracted",
    relation=1 - q - out,
    instances=_fractions,
    words={"out": "What is not left in the water is extracted.", "q": "What is not extracted is left in the water."},
    source="derived: shares add up to the whole",
    misuses=(
        Misuse(
            "fraction-left-for-extracted",
            "what is left taken for what is extracted",
            "Was the question what stays in the water, or what leaves it?",
            q - out,
        ),
    ),
)

LAWS = (
    LAYER_CONTENT,
    BOTH_LAYERS,
    DISTRIBUTION,
    PORTION,
    LEFT_BY_PORTION,
    LEFT_BY_PORTIONS,
    LEFT_IN_WATER,
    EXTRACTED,
    FRACTION_EXTRACTED,
)
