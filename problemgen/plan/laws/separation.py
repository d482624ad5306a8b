"""A substance between two solvents: the distribution ratio, one portion of solvent against several."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]

_CONTENTS = {"mass": "mass_concentration", "amount": "concentration"}

_LAYERS = (Role.ORGANIC, Role.AQUEOUS)


def _shaken(scene: Scene) -> Iterator[str]:
    """The substances between two solvents."""
    for species in scene.species.values():
        if any(quantity.of == species.id and quantity.role in _LAYERS for quantity in scene.told):
            yield species.id


def _layers(scene: Scene) -> Iterator[Place]:
    for solute in _shaken(scene):
        for kind, per_volume in _CONTENTS.items():
            for own, other in (_LAYERS, _LAYERS[::-1]):
                words = {"content": kind, "concentration": per_volume, "other": other}
                yield Place(solute, role=own, words=words)


def _between_layers(scene: Scene) -> Iterator[Place]:
    for solute in _shaken(scene):
        for kind, per_volume in _CONTENTS.items():
            yield Place(solute, words={"content": kind, "concentration": per_volume})


LAYER_CONTENT = law(
    "layer-content", N_("What a layer holds"), "content = c V",
    where={"content": "{content}(X,*)", "c": "{concentration}(X,*)", "V": "volume(X,*)",
           "volume_other": "volume(X,{other})"},
    each=_layers,
    says={
        "c": N_("What a layer holds, over its volume, gives its concentration."),
        "content": N_("The concentration of a layer times its volume gives what it holds."),
        "V": N_("What a layer holds, over its concentration, gives its volume."),
    },
    source="green-book-2007 2.10: c = n/V",
    errors=[
        error("other-layers-volume", "content = c volume_other", N_("the volume of the other layer"),
              N_("Which layer does this volume belong to?"), at="c content"),
    ],
)  # fmt: skip

BOTH_LAYERS = law(
    "both-layers", N_("Both layers together"), "total = organic + aqueous",
    where={"organic": "{content}(X,organic)", "aqueous": "{content}(X,aqueous)", "total": "{content}(X)"},
    each=_between_layers,
    says={
        "organic": N_("What is not in the aqueous layer is in the organic one."),
        "aqueous": N_("What is not in the organic layer is in the aqueous one."),
        "total": N_("Both layers together hold all of the substance."),
    },
    source="derived: masses add up",
    errors=[
        error("all-in-one-layer", "total = organic", N_("all of the substance taken to be in one layer"),
              N_("The other layer holds some of the substance as well."), at="organic"),
    ],
)  # fmt: skip

DISTRIBUTION = law(
    "distribution", N_("Distribution ratio"), "D = organic / aqueous",
    where={"organic": "{concentration}(X,organic)", "aqueous": "{concentration}(X,aqueous)",
           "D": "distribution_ratio(X)", "held_organic": "{content}(X,organic)",
           "held_aqueous": "{content}(X,aqueous)"},
    each=_between_layers,
    says={
        "D": N_("The concentration in the organic layer over that in the aqueous one is the distribution ratio."),
        "organic": N_("The distribution ratio times the concentration in water gives that in the organic layer."),
        "aqueous": N_("The concentration in the organic layer over the distribution ratio gives that in water."),
    },
    source="gold-book distribution ratio",
    errors=[
        error("distribution-inverted", "D = aqueous / organic", N_("distribution ratio upside down"),
              N_("Which layer does the ratio put above the line, and which one holds more here?")),
        error("volumes-left-out", "D = held_organic / held_aqueous",
              N_("what the layers hold compared, without their volumes"),
              N_("The ratio compares concentrations: how large is each layer?"), at="D"),
    ],
)  # fmt: skip


def _portions(scene: Scene) -> Iterator[tuple[str, int]]:
    """The substances that are extracted, with the number of the portions that are told or asked for."""
    after = [q for q in scene.told if q.role in (Role.UNEXTRACTED, Role.EXTRACTED)]
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


def _extractions(scene: Scene) -> Iterator[Place]:
    """Each substance, with the number of portions as `nu`, what one portion is, and what is left after all of them."""
    for solute, number in _portions(scene):
        each = Role.UNEXTRACTED_BY_EACH if number > 1 else Role.UNEXTRACTED
        words = {
            "portion": _portion(scene, solute, number).written_role,
            "each": Quantity("fraction_left", solute, each, stage=number).written_role,
            "left": Quantity("fraction_left", solute, Role.UNEXTRACTED, stage=number).written_role,
            "out": Quantity("fraction_left", solute, Role.EXTRACTED, stage=number).written_role,
        }
        yield Place(solute, nu=number, words=words)


def _divided(scene: Scene) -> Iterator[Place]:
    yield from (one for one in _repeated(scene) if one.words["portion"] != Role.PORTION)


def _repeated(scene: Scene) -> Iterator[Place]:
    yield from (one for one in _extractions(scene) if one.nu > 1)


def _left(scene: Scene) -> Iterator[Place]:
    for one in _extractions(scene):
        yield from (one._replace(words={**one.words, "content": kind}) for kind in _CONTENTS)


PORTION = law(
    "portion", N_("Volume of one portion"), "part = V / nu",
    where={"part": "volume(X,{portion})", "V": "volume(X,organic)"}, each=_divided,
    says={"part": N_("The solvent is divided into equal portions.")},
    source="common-practice: the solvent is divided into equal portions",
    errors=[
        error("whole-volume-each-time", "part = V", N_("all of the solvent taken for each portion"),
              N_("How much solvent is shaken with the solution each time?")),
    ],
)  # fmt: skip

LEFT_BY_PORTION = law(
    "left-by-portion", N_("Left by one portion of solvent"), "q = aqueous / (aqueous + D organic)",
    where={"q": "fraction_left(X,{each})", "aqueous": "volume(X,aqueous)", "organic": "volume(X,{portion})",
           "D": "distribution_ratio(X)"},
    each=_extractions,
    says={
        "q": N_("The fraction left is the volume of water over the sum of that volume and D times the volume of "
                "solvent."),
        "D": N_("The fraction that one portion leaves gives the distribution ratio."),
    },
    source="gold-book distribution ratio: D = c(organic)/c(aqueous); derived: the amount is conserved",
    errors=[
        error("distribution-inverted", "q = aqueous / (aqueous + organic / D)", N_("distribution ratio upside down"),
              N_("Which layer does the ratio put above the line, and which one holds more here?"), at="q"),
        error("layers-exchanged", "q = organic / (organic + D aqueous)",
              N_("the volumes of water and solvent exchanged"),
              N_("Which of the two volumes belongs to the layer that the substance is left in?"), at="q"),
        error("extracted-for-left", "q = D organic / (aqueous + D organic)",
              N_("what goes into the solvent taken for what is left"),
              N_("Was the question what stays in the water, or what leaves it?"), at="q"),
        error("volumes-left-out-of-fraction", "q = 1 / (1 + D)", N_("the volumes left out"),
              N_("The ratio compares concentrations: how large is each layer?"), at="q"),
    ],
)  # fmt: skip

LEFT_BY_PORTIONS = law(
    "left-by-portions", N_("Left by several portions of solvent"), "q = each^nu",
    where={"q": "fraction_left(X,{left})", "each": "fraction_left(X,{each})"}, each=_repeated,
    says={
        "q := each^nu": N_("Each portion leaves the same fraction of what the one before has left: the fractions "
                           "multiply."),
    },
    source=LEFT_BY_PORTION.source,
    errors=[
        error("portions-divided", "q := each / nu", N_("the fraction divided by the number of portions"),
              N_("The second portion finds only what the first has left: is that divided, or multiplied?")),
        error("one-portion-for-all", "q := each", N_("one portion taken for all"),
              N_("How many times is the solution shaken with fresh solvent?")),
    ],
)  # fmt: skip

LEFT_IN_WATER = law(
    "left-in-water", N_("Left in the water"), "left = q total",
    where={"left": "{content}(X,{left})", "total": "{content}(X)", "q": "fraction_left(X,{left})"}, each=_left,
    says={
        "left": N_("The fraction left times what there was gives what is left in the water."),
        "q": N_("What is left over what there was is the fraction left."),
    },
    source=LEFT_BY_PORTION.source,
)  # fmt: skip

EXTRACTED = law(
    "extracted", N_("Extracted"), "out = total - left",
    where={"out": "{content}(X,{out})", "total": "{content}(X)", "left": "{content}(X,{left})"}, each=_left,
    says={
        "out": N_("What is not left in the water is extracted."),
        "left": N_("What is not extracted is left in the water."),
    },
    source="derived: masses add up",
    errors=[
        error("left-for-extracted", "out = left", N_("what is left taken for what is extracted"),
              N_("Was the question what stays in the water, or what leaves it?"), at="out"),
    ],
)  # fmt: skip

FRACTION_EXTRACTED = law(
    "fraction-extracted", N_("Fraction extracted"), "out = 1 - q",
    where={"out": "fraction_extracted(X,{out})", "q": "fraction_left(X,{left})"}, each=_extractions,
    says={
        "out": N_("What is not left in the water is extracted."),
        "q": N_("What is not extracted is left in the water."),
    },
    source="derived: shares add up to the whole",
    errors=[
        error("fraction-left-for-extracted", "out = q", N_("what is left taken for what is extracted"),
              N_("Was the question what stays in the water, or what leaves it?")),
    ],
)  # fmt: skip

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
