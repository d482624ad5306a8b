"""What an instrument shows of a mixture: peak areas and integrals as relative amounts, and an internal standard.

Response factors are relative ones on a basis of equal amounts: the area that a substance gives for each mole, over the
area that the standard gives for each mole; the standard's own is 1. An NMR integral is told by the number of protons
behind its signal.
"""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import has_mass

__all__ = ["LAWS", "are_isomers", "found_amount", "relative"]

a, f, area, N, integral, M = letters("a f area N integral M")
n, own, standard_n, standard_a, standard_m = letters("n own standard_n standard_a standard_m")


def relative(name: str) -> Quantity:
    """The relative amount of a substance in the mixture that was measured."""
    return Quantity("relative_amount", name)


def are_isomers(scene: Scene, one: str, other: str) -> bool:
    """Whether two substances are of the same atoms, and so of one molar mass."""
    formulas = [scene.species[name].formula for name in (one, other)]
    counts = [None if formula is None else dict(formula.counts) for formula in formulas]
    return counts[0] is not None and counts[0] == counts[1]


def found_amount(scene: Scene, name: str) -> Quantity:
    """What the measured amount of a substance is: of a product what was obtained, of a reagent what came back."""
    return Quantity("amount", name, Role.ACTUAL if scene.is_formed(name) else Role.RECOVERED)


def _measured(scene: Scene, kind: str) -> Iterator[Species]:
    """The substances whose signal of a kind is told; none where there are neither two products nor a standard."""
    if scene.pair or scene.standard:
        told = {q.of for q in scene.given | scene.wanted if q.kind == kind and q.role is Role.PLAIN}
        yield from (species for species in scene.species.values() if species.id in told)


def _with_factor(scene: Scene, name: str) -> bool:
    return Quantity("response_factor", name) in scene.given | scene.wanted


def _molar_mass(scene: Scene, species: Species) -> dict[str, Expression]:
    """The molar mass, for those who take areas as masses; of isomers it makes no odds."""
    of_one_mass = bool(scene.pair) and not scene.standard and are_isomers(scene, *(e.product for e in scene.pair))
    return {"M": Quantity("molar_mass", species.id).id} if has_mass(species) and not of_one_mass else {}


AREAS_AS_MASSES = Misuse(
    "areas-as-masses",
    "areas taken as masses",
    "Read once more what the response factors are told for: equal masses or equal amounts?",
    a * M - area,
    everywhere=True,
    only_for=frozenset({"a"}),
)


def _by_factor(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _measured(scene, "peak_area"):
        if _with_factor(scene, species.id):
            binding = {
                "a": relative(species.id),
                "f": Quantity("response_factor", species.id),
                "area": Quantity("peak_area", species.id),
            }
            yield Instance(law, binding, extra=_molar_mass(scene, species))


AREA_BY_RESPONSE = Law(
    id="area-by-response",
    title="Relative amount from a peak area",
    relation=a * f - area,
    instances=_by_factor,
    words={
        "a": "The peak area over the response factor is a measure of the amount, the same for all substances.",
        "f": "The peak area over the relative amount is the response factor.",
        "area": "The relative amount times the response factor is the peak area.",
    },
    source="ettre-1993: relative detector response factor, on a basis of equal amounts",
    misuses=(
        Misuse(
            "response-left-out",
            "response factors left out",
            "Does the detector show every substance equally strongly?",
            a - area,
            everywhere=True,
            only_for=frozenset({"a"}),
        ),
        Misuse(
            "response-inverted",
            "response factors used upside down",
            "A substance that the detector shows strongly has a large peak: is there more or less of it than it seems?",
            a - area * f,
            everywhere=True,
            only_for=frozenset({"a"}),
        ),
        AREAS_AS_MASSES,
    ),
)


def _without_factor(law: Law, scene: Scene) -> Iterator[Instance]:
    """The standard's response factor is 1 by definition; isomers without factors have one and the same."""
    alike = bool(scene.pair) and are_isomers(scene, *(equation.product for equation in scene.pair))
    for species in _measured(scene, "peak_area"):
        in_pair = species.id in {equation.product for equation in scene.pair}
        if not _with_factor(scene, species.id) and (species.id == scene.standard or (in_pair and alike)):
            binding = {"a": relative(species.id), "area": Quantity("peak_area", species.id)}
            yield Instance(law, binding, extra=_molar_mass(scene, species))


AREA_ALONE = Law(
    id="area-alone",
    title="Relative amount from a peak area alone",
    relation=a - area,
    instances=_without_factor,
    words={
        "a": "The response factor is 1 here: the peak area itself is the measure of the amount.",
        "area": "The response factor is 1 here: the peak area itself is the measure of the amount.",
    },
    source="ettre-1993: relative detector response factor, that of the standard; common-practice: isomers give a "
    "detector the same signal",
    misuses=(AREAS_AS_MASSES,),
)


def _by_protons(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _measured(scene, "integral"):
        binding = {
            "a": relative(species.id),
            "N": Quantity("protons", species.id),
            "integral": Quantity("integral", species.id),
        }
        yield Instance(law, binding)


INTEGRAL_BY_PROTONS = Law(
    id="integral-by-protons",
    title="Relative amount from an NMR integral",
    relation=a * N - integral,
    instances=_by_protons,
    words={
        "a": "The integral over the number of protons behind the signal is a measure of the amount.",
        "N": "The integral over the relative amount is the number of protons behind the signal.",
        "integral": "Each of the protons behind the signal adds the relative amount to the integral.",
    },
    source="common-practice: an NMR integral is proportional to the number of protons behind it",
    misuses=(
        Misuse(
            "protons-left-out",
            "numbers of protons left out",
            "How many protons of one molecule stand behind each of the two signals?",
            a - integral,
            everywhere=True,
            only_for=frozenset({"a"}),
        ),
        Misuse(
            "protons-inverted",
            "numbers of protons used upside down",
            "Many protons make a large integral: is there then more or less of the substance than it seems?",
            a - integral * N,
            everywhere=True,
            only_for=frozenset({"a"}),
        ),
    ),
)


def _beside_standard(law: Law, scene: Scene) -> Iterator[Instance]:
    if not scene.standard:
        return
    standard = scene.species[scene.standard]
    for species in (*_measured(scene, "peak_area"), *_measured(scene, "integral")):
        if species.id != standard.id:
            binding = {
                "n": found_amount(scene, species.id),
                "own": relative(species.id),
                "standard_n": Quantity("amount", standard.id),
                "standard_a": relative(standard.id),
            }
            extra: dict[str, Expression] = {"standard_m": Quantity("mass", standard.id).id}
            if has_mass(species):
                extra["M"] = Quantity("molar_mass", species.id).id
            yield Instance(law, binding, extra=extra)


INTERNAL_STANDARD = Law(
    id="internal-standard",
    title="Amount beside an internal standard",
    relation=n * standard_a - standard_n * own,
    instances=_beside_standard,
    words={
        "n": "The relative amounts stand to each other as the amounts do, and that of the standard was weighed in.",
        "own": "The amount over that of the standard tells the relative amount.",
        "standard_n": "The relative amounts stand to each other as the amounts do.",
        "standard_a": "The amount of the standard over that of the substance tells the standard's relative amount.",
    },
    source="orange-book-1998 9: internal standard; ettre-1993: internal standard",
    misuses=(
        Misuse(
            "standard-amount-taken",
            "the internal standard's own amount taken",
            "How does the peak of the substance compare with that of the standard?",
            n - standard_n,
            only_for=frozenset({"n"}),
        ),
        Misuse(
            "standard-inverted",
            "substance and internal standard exchanged in the ratio",
            "A peak larger than the standard's: is there more of the substance than of the standard, or less?",
            n * own - standard_n * standard_a,
            everywhere=True,
            only_for=frozenset({"n"}),
        ),
        Misuse(
            "standard-by-mass",
            "the mass of the internal standard used with response factors for amounts",
            "The response factors are told for equal amounts: in which unit does the standard enter?",
            n * M * standard_a - standard_m * own,
            everywhere=True,
            only_for=frozenset({"n"}),
        ),
    ),
)

LAWS = (AREA_BY_RESPONSE, AREA_ALONE, INTEGRAL_BY_PROTONS, INTERNAL_STANDARD)
