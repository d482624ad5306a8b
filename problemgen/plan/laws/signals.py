"""What an instrument shows of a mixture: peak areas and integrals as relative amounts, and an internal standard.

Response factors are relative ones on a basis of equal amounts: the area that a substance gives for each mole, over the
area that the standard gives for each mole; the standard's own is 1. An NMR integral is told by the number of protons
behind its signal.
"""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.amounts import has_mass
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "are_isomers", "found_amount", "relative"]


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
        told = {q.of for q in scene.told if q.kind == kind and q.role is Role.PLAIN}
        yield from (species for species in scene.species.values() if species.id in told)


def _with_factor(scene: Scene, name: str) -> bool:
    return Quantity("response_factor", name) in scene.told


AREAS_AS_MASSES = error(
    "areas-as-masses",
    "area = a M",
    N_("areas taken as masses"),
    N_("Read once more what the response factors are told for: equal masses or equal amounts?"),
    at="a",
    everywhere=True,
)


def _measured_area(scene: Scene, species: Species) -> Place:
    """Y has a molar mass, for those who take areas as masses; of isomers it makes no odds."""
    of_one_mass = bool(scene.pair) and not scene.standard and are_isomers(scene, *(e.product for e in scene.pair))
    return Place(species.id, species.id if has_mass(species) and not of_one_mass else "")


def _with_factors(scene: Scene) -> Iterator[Place]:
    for species in _measured(scene, "peak_area"):
        if _with_factor(scene, species.id):
            yield _measured_area(scene, species)


AREA_BY_RESPONSE = law(
    "area-by-response", N_("Relative amount from a peak area"), "a = area / f",
    where={"a": "relative_amount(X)", "f": "response_factor(X)", "area": "peak_area(X)", "M": "molar_mass(Y)"},
    each=_with_factors,
    says={
        "a": N_("The peak area over the response factor is a measure of the amount, the same for all substances."),
        "f": N_("The peak area over the relative amount is the response factor."),
        "area": N_("The relative amount times the response factor is the peak area."),
    },
    source="ettre-1993: relative detector response factor, on a basis of equal amounts",
    errors=[
        error("response-left-out", "a = area", N_("response factors left out"),
              N_("Does the detector show every substance equally strongly?"), at="a", everywhere=True),
        error("response-inverted", "a = area f", N_("response factors used upside down"),
              N_("A substance that the detector shows strongly has a large peak: is there more or less of it than "
                 "it seems?"), at="a", everywhere=True),
        AREAS_AS_MASSES,
    ],
)  # fmt: skip


def _without_factor(scene: Scene) -> Iterator[Place]:
    """The standard's response factor is 1 by definition; isomers without factors have one and the same."""
    alike = bool(scene.pair) and are_isomers(scene, *(equation.product for equation in scene.pair))
    for species in _measured(scene, "peak_area"):
        in_pair = species.id in {equation.product for equation in scene.pair}
        if not _with_factor(scene, species.id) and (species.id == scene.standard or (in_pair and alike)):
            yield _measured_area(scene, species)


AREA_ALONE = law(
    "area-alone", N_("Relative amount from a peak area alone"), "a = area",
    where={"a": "relative_amount(X)", "area": "peak_area(X)", "M": "molar_mass(Y)"}, each=_without_factor,
    says={
        "a": N_("The response factor is 1 here: the peak area itself is the measure of the amount."),
        "area": N_("The response factor is 1 here: the peak area itself is the measure of the amount."),
    },
    source=("ettre-1993: relative detector response factor, that of the standard; common-practice: isomers give a "
            "detector the same signal"),
    errors=[AREAS_AS_MASSES],
)  # fmt: skip

INTEGRAL_BY_PROTONS = law(
    "integral-by-protons", N_("Relative amount from an NMR integral"), "a = integral / N",
    where={"a": "relative_amount(X)", "N": "protons(X)", "integral": "integral(X)"},
    each=lambda scene: _measured(scene, "integral"),
    says={
        "a": N_("The integral over the number of protons behind the signal is a measure of the amount."),
        "N": N_("The integral over the relative amount is the number of protons behind the signal."),
        "integral": N_("Each of the protons behind the signal adds the relative amount to the integral."),
    },
    source="common-practice: an NMR integral is proportional to the number of protons behind it",
    errors=[
        error("protons-left-out", "a = integral", N_("numbers of protons left out"),
              N_("How many protons of one molecule stand behind each of the two signals?"), at="a", everywhere=True),
        error("protons-inverted", "a = integral N", N_("numbers of protons used upside down"),
              N_("Many protons make a large integral: is there then more or less of the substance than it seems?"),
              at="a", everywhere=True),
    ],
)  # fmt: skip


def _beside_standard(scene: Scene) -> Iterator[Place]:
    """Y is the internal standard; Z is X where it has a molar mass."""
    for species in (*_measured(scene, "peak_area"), *_measured(scene, "integral")) if scene.standard else ():
        if species.id != scene.standard:
            role = found_amount(scene, species.id).role
            yield Place(species.id, scene.standard, species.id if has_mass(species) else "", role=role)


INTERNAL_STANDARD = law(
    "internal-standard", N_("Amount beside an internal standard"), "n / standard_n = own / standard_a",
    where={"n": "amount(X,*)", "own": "relative_amount(X)", "standard_n": "amount(Y)",
           "standard_a": "relative_amount(Y)", "standard_m": "mass(Y)", "M": "molar_mass(Z)"},
    each=_beside_standard,
    says={
        "n": N_("The relative amounts stand to each other as the amounts do, and that of the standard was weighed in."),
        "own": N_("The amount over that of the standard tells the relative amount."),
        "standard_n": N_("The relative amounts stand to each other as the amounts do."),
        "standard_a": N_("The amount of the standard over that of the substance tells the standard's relative amount."),
    },
    source="orange-book-1998 9: internal standard; ettre-1993: internal standard",
    errors=[
        error("standard-amount-taken", "n = standard_n", N_("the internal standard's own amount taken"),
              N_("How does the peak of the substance compare with that of the standard?"), at="n"),
        error("standard-inverted", "n / standard_n = standard_a / own",
              N_("substance and internal standard exchanged in the ratio"),
              N_("A peak larger than the standard's: is there more of the substance than of the standard, or less?"),
              at="n", everywhere=True),
        error("standard-by-mass", "n M / standard_m = own / standard_a",
              N_("the mass of the internal standard used with response factors for amounts"),
              N_("The response factors are told for equal amounts: in which unit does the standard enter?"), at="n",
              everywhere=True),
    ],
)  # fmt: skip

LAWS = (AREA_BY_RESPONSE, AREA_ALONE, INTEGRAL_BY_PROTONS, INTERNAL_STANDARD)
