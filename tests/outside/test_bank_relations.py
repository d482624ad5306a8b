"""The banks among themselves: nothing is left over, and products of one reaction are the reagents of another.

An entry that nothing uses is a fault of upkeep, not of a user's file: so it is told here and not by `problemgen check`.
"""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks.banks import load_banks
from tests.support.every_row import for_every

ROOT = Path(__file__).parents[2]
BANKS = load_banks(ROOT / "banks")
# Nothing but solvents: for exercises on density, and for templates to come.
SOLVENTS = frozenset({"acetonitrile", "heptane", "trichloromethane"})
# Each product is the next one's reagent.
SEQUENCES = (
    "benzoin benzil tetraphenylcyclopentadienone hexaphenylbenzene",
    "benzoin benzil 2-3-diphenylquinoxaline",
    "benzoin benzil meso-hydrobenzoin",
    "e-stilbene stilbene-dibromide diphenylacetylene hexaphenylbenzene",
    "acetanilide 4-bromoacetanilide 4-bromoaniline",
    "acetanilide 4-nitroacetanilide 4-nitroaniline para-red",
    "acetanilide 4-acetamidobenzenesulfonyl-chloride 4-acetamidobenzenesulfonamide sulfanilamide",
    "4-methylacetanilide 4-acetamidobenzoic-acid 4-aminobenzoic-acid benzocaine",
    "benzoic-acid methyl-benzoate triphenylmethanol",
    "benzoic-acid methyl-benzoate methyl-3-nitrobenzoate 3-nitrobenzoic-acid",
    "salicylic-acid aspirin aspirin-hydrolysis",
    "sulfanilic-acid methyl-orange",
    "1-bromobutane 2-methylhexan-2-ol",
    "n-benzylideneaniline n-benzylaniline",
    "camphor isoborneol",
    "cyclohexene adipic-acid-with-peroxide",
    "cyclohexanone cyclohexanone-oxime caprolactam",
    "ethyl-acetoacetate pechmann-coumarin",
    "maleanilic-acid n-phenylmaleimide",
    "cyclopentadiene diels-alder norbornene-endo-dicarboxylic-acid",
    "salen nickel-salen",
    "copper-ii-nitrate copper-ii-hydroxide copper-ii-oxide copper-ii-sulfate copper-from-zinc",
    "copper-ii-carbonate-hydroxide copper-ii-oxide-from-malachite copper-ii-sulfate",
    "calcium-oxalate calcium-carbonate-from-oxalate calcium-oxide",
    "magnesium-ammonium-phosphate magnesium-diphosphate",
    "iron-iii-hydroxide iron-iii-oxide",
    "mohrs-salt iron-ii-oxalate potassium-trioxalatoferrate-from-oxalate",
)
# The reagent in excess of the first, titrated in the second.
BACK_TITRATIONS = (
    ("carbon-dioxide-from-marble", "hydrogen-chloride", "hcl-naoh"),
    ("magnesium-hydroxide-hcl", "hydrogen-chloride", "hcl-naoh"),
    ("aspirin-hydrolysis", "sodium-hydroxide", "hcl-naoh"),
    ("ammonium-chloride-naoh", "sodium-hydroxide", "hcl-naoh"),
    ("ammonia-hcl", "hydrogen-chloride", "hcl-naoh"),
    ("ammonia-sulfuric-acid", "sulfuric-acid", "h2so4-naoh"),
    ("silver-chloride", "silver-nitrate", "silver-thiocyanate"),
)


def reagents(reaction: str) -> set[str]:
    """The substances on the left of a reaction."""
    return {name for name, nu in BANKS.reactions[reaction].coefficients.items() if nu < 0}


def texts(value: Any) -> set[str]:
    """All texts and keys anywhere in a TOML document."""
    if isinstance(value, dict):
        return set(value).union(*map(texts, value.values()))
    if isinstance(value, list):
        return set().union(*map(texts, value))
    return {value} if isinstance(value, str) else set()


def used() -> set[str]:
    """The substances that a reaction, a bottle, a hydrate or a template uses."""
    found = {name for one in BANKS.reactions.values() for name in (*one.coefficients, *one.auxiliaries)}
    found |= {bottle.of for bottle in BANKS.bottles.values()}
    for hydrate in BANKS.substances.values():
        found |= {hydrate.id, hydrate.hydrate_of} if hydrate.hydrate_of is not None else set()
    for path in (ROOT / "templates").rglob("*.toml"):
        found |= texts(tomllib.loads(path.read_text(encoding="utf-8")))
    return found


def test_nothing_but_solvents_is_left_over() -> None:
    assert set(BANKS.substances) - used() <= SOLVENTS <= set(BANKS.substances)


@pytest.mark.source("common-practice: sequences that classes carry out over several afternoons")
@pytest.mark.parametrize("sequence", SEQUENCES)
def test_the_product_of_one_is_the_reagent_of_the_next(sequence: str) -> None:
    steps = sequence.split()
    for first, second in pairwise(steps):
        assert BANKS.reactions[first].product in reagents(second), (first, second)


@pytest.mark.source("common-practice: back titrations of teaching laboratories")
@pytest.mark.parametrize(("reaction", "excess", "titration"), BACK_TITRATIONS)
def test_the_excess_of_one_is_titrated_in_the_other(reaction: str, excess: str, titration: str) -> None:
    assert excess in reagents(reaction) & reagents(titration)


def test_the_reactions_use_flasks_that_the_bank_has() -> None:
    sizes = {glass.capacity.value for glass in BANKS.glassware.values() if glass.kind == "reaction flask"}
    assert {flask.value for reaction in BANKS.reactions.values() for flask in reaction.flasks} <= sizes


def test_every_later_session_is_told_over_the_arrow() -> None:
    for reaction in BANKS.reactions.values():
        if reaction.sessions and reaction.kind == "organic preparation":
            assert (reaction.above[:2], reaction.below[:2]) == ("1.", "2."), reaction.id


@pytest.mark.parametrize(
    ("file", "old", "new", "expected"),
    [
        ("hazards", 'of = "salicylic-acid"', 'of = "cyclopropane"', ("banks/hazards.toml: salicylic-acid: found "
         "nothing; expected an entry for every reagent of the laboratory")),
        ("hazards", 'of = "pyridine"', 'of = "cyclopropane"', ("banks/hazards.toml: pyridine: found nothing; expected "
         "an entry for every reagent of the laboratory")),
        ("substances", 'formula = "CuSO4.5H2O"', 'formula = "CuSO3.5H2O"', ("banks/substances.toml: "
         "copper-ii-sulfate-pentahydrate.hydrate_of: found CuSO3.5H2O of CuSO4; expected the anhydrous substance, and "
         "water behind a dot")),
        ("reactions", 'product = "acetylsalicylic-acid"', 'product = "salicylic-acid"', ("banks/reactions.toml: "
         "aspirin.product: found 'salicylic-acid'; expected a substance on the right of the equation")),
        ("reactions", "{ sulfuric-acid = 2 }", "{ hydrogen = 2 }", ("banks/reactions.toml: potassium-alum.sessions: "
         "found 'hydrogen'; expected a substance on the left of the equation")),
        ("water_vapour", "celsius = 20", "celsius = 19", ("banks/water_vapour.toml: 19 °C: found 19; expected 20, the "
         "next")),
        ("water_vapour", "2.339", "2.139", ("banks/water_vapour.toml: 20 °C: found 2.139; expected more than at 19 °C: "
         "2.198")),
    ],
)  # fmt: skip
def test_a_broken_relation_is_a_fault(tmp_path: Path, file: str, old: str, new: str, expected: str) -> None:
    folder = tmp_path / "banks"
    shutil.copytree(ROOT / "banks", folder)
    path = folder / f"{file}.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    found = [fault.replace(f"{folder}/", "banks/") for fault in found_faults(lambda: load_banks(folder))]
    assert expected in found


def found_faults(load: Callable[[], object]) -> list[str]:
    """The faults that loading tells."""
    with pytest.raises(FaultsError) as caught:
        load()
    return [str(fault) for fault in caught.value.faults]


def fixed_densities() -> list[tuple[str, str, str, float]]:
    """The densities that templates fix: template, substance, mass percent ("" of the neat liquid), density in g/mL."""
    found = []
    for path in sorted((ROOT / "templates").rglob("*.toml")):
        for name, given in tomllib.loads(path.read_text(encoding="utf-8")).get("given", {}).items():
            if "value" in given.get("density", {}):
                percent = given.get("mass_fraction", {}).get("value", "")
                found.append((path.stem, name, str(percent), given["density"]["value"]))
    return found


@for_every(fixed_densities())
def test_a_template_has_no_density_beside_the_banks(one: tuple[str, str, str, float]) -> None:
    """A neat liquid has the bank's; a solution that stands among the bottles has the bottle's."""
    _, name, percent, density = one
    assert percent != ""
    bottles = [b for b in BANKS.bottles.values() if b.of == name and float(b.mass_percent.text) == float(percent)]
    assert {float(bottle.density.value.text) for bottle in bottles} == {density}


def test_the_readme_counts_the_entries() -> None:
    lines = [line.split("|") for line in (ROOT / "banks" / "README.md").read_text(encoding="utf-8").splitlines()]
    told = {cells[1].strip(): cells[3].strip() for cells in lines if len(cells) == 6 and ".toml" in cells[1]}
    counted = {}
    for path in (ROOT / "banks").glob("*.toml"):
        document = tomllib.loads(path.read_text(encoding="utf-8"))
        counted[path.name] = str(sum(len(entries) for kind, entries in document.items() if kind != "about"))
    assert told == counted


def test_each_reaction_has_a_name_of_its_own() -> None:
    assert len({reaction.name for reaction in BANKS.reactions.values()}) == len(BANKS.reactions)
