"""The bank's substances against RDKit (structures) and the `chemicals` package (CAS numbers, densities)."""

from __future__ import annotations

import math
import re
import tomllib
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import chemicals
import pytest
from chemicals import volume
from rdkit import Chem
from rdkit.Chem import rdCIPLabeler, rdDistGeom

from problemgen.chemistry.formula import read_formula
from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"


def bank(name: str) -> list[dict[str, Any]]:
    """The entries of one bank file, numbers as written."""
    text = (BANKS / f"{name}s.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)[name]
    return entries


SUBSTANCES = {entry["id"]: entry for entry in bank("substance")}
WEIGHTS = {entry["symbol"]: float(entry["weight"]) for entry in bank("element")}
STRUCTURES = {key: entry for key, entry in SUBSTANCES.items() if "smiles" in entry}
LIQUIDS = {key: entry for key, entry in SUBSTANCES.items() if entry["state"] == "liquid"}
WITHOUT_CAS = frozenset({"magnesium-bromide-chloride", "potassium-diethyl-phosphate", "potassium-sodium-phthalate"})
"""No number could be confirmed."""
NUMBERED = {key: entry for key, entry in SUBSTANCES.items() if "cas" in entry}
HYDRATES = {key: entry for key, entry in SUBSTANCES.items() if "hydrate_of" in entry}

# Not in the chemicals package: the CAS number is from memory and only its check digit is tested.
UNLISTED = frozenset(
    {
        "1-1-diacetylferrocene",
        "acetylferrocene",
        "2-butoxynaphthalene",
        "ammonium-iron-ii-sulfate",
        "biginelli-dihydropyrimidinone",
        "cyclohexanone-semicarbazone",
        "dehydroascorbic-acid",
        "furfural-semicarbazone",
        "hexaamminecobalt-iii-chloride",
        "iron-iii-acetylacetonate",
        "nickel-dimethylglyoximate",
        "potassium-adipate",
        "potassium-hexacyanoferrate-ii",
        "potassium-hexacyanoferrate-ii-trihydrate",
        "potassium-trioxalatoferrate",
        "potassium-trioxalatoferrate-trihydrate",
        "sodium-tetrathionate",
        "tris-hydrochloride",
        "xylene",
        "zinc-disodium-edta",
    }
)
# Listed there under the same CAS number with a formula that is not the substance's; ours is kept.
FORMULA_DIFFERS = {
    "aluminium-sulfate-octadecahydrate": "AlH4O5S",  # fragments
    "calcium-carbide": "C13H16O5",  # another substance altogether
    "calcium-disodium-edta": "C10H16N2O8",  # the acid
    "cobalt-ii-chloride-hexahydrate": "Cl2CoH2O",  # one water of six
    "copper-ii-acetylacetonate": "C10H16CuO4",  # neutral ligands, two hydrogen atoms too many
    "disodium-edta": "C10H16N2O8",  # the acid
    "disodium-edta-dihydrate": "C10H16N2O8",  # the acid
    "hexaamminenickel-ii-chloride": "H12N6Ni-6",  # amide ligands, no chloride
    "magnesium-chloride-hexahydrate": "Cl2H2MgO",  # one water of six
    "manganese-ii-sulfate": "H2MnO4S",  # written as the acid
    "methyl-orange": "C14H15N3O3S",  # the acid, not its sodium salt
    "nickel-salen": "C16H16N2NiO2",  # neutral ligand, two hydrogen atoms too many
    "potassium-aluminium-sulfate-dodecahydrate": "AlH4KO5S",  # fragments
}
# One enantiomer, from nature.
NATURAL = frozenset(
    {
        "alpha-glucose-pentaacetate",
        "ascorbic-acid",
        "dehydroascorbic-acid",
        "glucose",
        "glucose-pentaacetate",
        "sodium-tartrate",
        "sucrose",
        "tartaric-acid",
    }
)
# No density table of the chemicals package has them: from memory only.
NO_TABLE = frozenset(
    {
        "1-bromobutane",
        "1-iodobutane",
        "1-methylcyclohexene",
        "1-phenylethanol",
        "2-chloro-2-methylbutane",
        "2-chloro-2-methylpropane",
        "2-methylbutan-2-ol",
        "2-methylcyclohexanol",
        "2-methylhexan-2-ol",
        "3-methylbenzoyl-chloride",
        "3-methylcyclohexene",
        "4-methylacetophenone",
        "acetyl-chloride",
        "acetylacetone",
        "benzoyl-chloride",
        "benzyl-acetate",
        "cinnamaldehyde",
        "cyclopentadiene",
        "diethyl-benzylphosphonate",
        "ethyl-acetoacetate",
        "ethyl-acetoacetate-ethylene-acetal",
        "glyceryl-trioleate",
        "hexane-2-5-dione",
        "isopentyl-acetate",
        "methyl-oleate",
        "methylenecyclohexane",
        "n-n-diethyl-3-methylbenzamide",
        "octyl-acetate",
        "trans-1-2-dibromocyclohexane",
        "xylene",
    }
)


def molar_mass(entry: dict[str, Any]) -> float:
    """The molar mass in g/mol."""
    return sum(WEIGHTS[symbol] * count for symbol, count in read_formula(entry["formula"]).counts)


def kelvins(text: str) -> float:
    """The temperature of "20 °C" in kelvins."""
    match = re.fullmatch(r"([0-9]+) °C", text)
    assert match is not None, text
    return int(match[1]) + 273.15


def perry(cas: str, temperature: float, mass: float) -> float | None:
    """Density in g/mL by DIPPR equation 105 with Perry's coefficients (mol/m³)."""
    table = volume.rho_data_Perry_8E_105_l
    if cas not in table.index or cas == chemicals.CAS_from_any("water"):  # water's row is another equation
        return None
    row = table.loc[cas]
    return float(row.C1 / row.C2 ** (1 + (1 - temperature / row.C3) ** row.C4)) * mass / 1e6


def heat_atlas(cas: str, temperature: float, _mass: float) -> float | None:
    """Density in g/mL by the VDI Heat Atlas equation (kg/m³)."""
    table = volume.rho_data_VDI_PPDS_2
    if cas not in table.index:
        return None
    row = table.loc[cas]
    reduced = 1 - temperature / row.Tc
    powers = (reduced**0.35, reduced ** (2 / 3), reduced, reduced ** (4 / 3))
    return float(row.rhoc + sum(c * p for c, p in zip((row.A, row.B, row.C, row.D), powers, strict=True))) / 1000


def crc_line(cas: str, temperature: float, _mass: float) -> float | None:
    """Density in g/mL by the CRC Handbook's straight line from the melting point (kg/m³)."""
    table = volume.rho_data_CRC_inorg_l
    if cas not in table.index:
        return None
    row = table.loc[cas]
    return float(row.rho - row.k * (temperature - row.Tm)) / 1000


def crc_room(cas: str, _temperature: float, mass: float) -> float | None:
    """Density in g/mL from the CRC Handbook's molar volume near room temperature (m³/mol)."""
    table = volume.rho_data_CRC_inorg_l_const
    return mass / float(table.loc[cas].Vm) / 1e6 if cas in table.index else None


TABLES: tuple[Callable[[str, float, float], float | None], ...] = (perry, heat_atlas, crc_line, crc_room)


def published(entry: dict[str, Any]) -> list[float]:
    """What the tables say of a liquid's density at the temperature that the bank states."""
    temperature = kelvins(entry["density"]["at"])
    found = (table(entry["cas"], temperature, molar_mass(entry)) for table in TABLES)
    return [density for density in found if density is not None]


def test_each_id_cas_number_and_name_stands_once() -> None:
    entries = bank("substance")
    assert len(entries) >= 240
    for key in ("id", "cas", "name"):
        assert [
            text for text, times in Counter(entry.get(key, entry["id"]) for entry in entries).items() if times > 1
        ] == []


def test_no_synonym_names_another_substance() -> None:
    owners: dict[str, set[str]] = {}
    for key, entry in SUBSTANCES.items():
        for name in (entry["name"], *entry["synonyms"]):
            owners.setdefault(name.lower(), set()).add(key)
    assert {name: ids for name, ids in owners.items() if len(ids) > 1} == {}


@pytest.mark.source("rdkit: atoms and charge of the structure")
@for_every(STRUCTURES)
def test_structure_has_the_formula(identifier: str) -> None:
    entry = SUBSTANCES[identifier]
    molecule = Chem.AddHs(Chem.MolFromSmiles(entry["smiles"]))
    atoms = Counter(atom.GetSymbol() for atom in molecule.GetAtoms())
    formula = read_formula(entry["formula"])
    assert dict(atoms) == dict(formula.composition)
    assert Chem.GetFormalCharge(molecule) == formula.charge == 0


def mirrored(molecule: Chem.Mol) -> Chem.Mol:
    """The mirror image."""
    image = Chem.Mol(molecule)
    for atom in image.GetAtoms():
        atom.InvertChirality()
    return image


@pytest.mark.source("rdkit: a structure and its mirror image; from-memory: which substances are sold as racemates")
@for_every(STRUCTURES)
def test_an_enantiomer_that_is_drawn_is_natural_or_told_to_be_one_of_a_racemate(identifier: str) -> None:
    molecule = Chem.MolFromSmiles(SUBSTANCES[identifier]["smiles"])
    is_chiral = Chem.MolToSmiles(molecule) != Chem.MolToSmiles(mirrored(molecule))
    assert SUBSTANCES[identifier].get("racemic", False) is (is_chiral and identifier not in NATURAL)


@pytest.mark.source("rdkit: the descriptor of the double bond; from-memory: indigo is the (E)-isomer")
@for_every(["indigo", "e-stilbene", "cinnamic-acid", "chalcone", "cinnamaldehyde", "methyl-cinnamate", "fumaric-acid"])
def test_double_bonds_of_e_isomers(identifier: str) -> None:
    molecule = Chem.MolFromSmiles(SUBSTANCES[identifier]["smiles"])
    rdCIPLabeler.AssignCIPLabels(molecule)
    assert [bond.GetProp("_CIPCode") for bond in molecule.GetBonds() if bond.HasProp("_CIPCode")] == ["E"]


@pytest.mark.source("rdkit: a structure in space; derived: endo groups are nearer the double bond than the bridge")
@for_every(key for key in SUBSTANCES if "norbornene-endo" in key)
def test_endo_groups_are_near_the_double_bond(identifier: str) -> None:
    molecule = Chem.AddHs(Chem.MolFromSmiles(SUBSTANCES[identifier]["smiles"]))
    assert rdDistGeom.EmbedMolecule(molecule, randomSeed=7) == 0
    places = molecule.GetConformer().GetPositions()
    atoms = molecule.GetSubstructMatch(Chem.MolFromSmarts("[CH2]1C2C=CC1C(C=O)C2C=O"))
    bridge, one, other, *carbonyls = (places[atoms[index]] for index in (0, 2, 3, 6, 9))
    for carbonyl in carbonyls:
        assert math.dist(carbonyl, (one + other) / 2) < math.dist(carbonyl, bridge)


def test_every_substance_but_the_named_has_a_cas_number() -> None:
    assert set(SUBSTANCES) - set(NUMBERED) == WITHOUT_CAS


@pytest.mark.source("cas-registry: digits weighted 1, 2, 3 … from the right, their sum modulo 10")
@for_every(NUMBERED)
def test_cas_check_digit(identifier: str) -> None:
    match = re.fullmatch(r"([1-9][0-9]{1,6})-([0-9]{2})-([0-9])", SUBSTANCES[identifier]["cas"])
    assert match is not None
    weighted = sum(weight * int(digit) for weight, digit in enumerate(reversed(match[1] + match[2]), 1))
    assert weighted % 10 == int(match[3])


@pytest.mark.source("chemicals: molar mass of a CAS number")
@for_every(sorted(set(NUMBERED) - UNLISTED - set(FORMULA_DIFFERS)))
def test_cas_number_means_a_substance_of_the_same_molar_mass(identifier: str) -> None:
    entry = SUBSTANCES[identifier]
    assert chemicals.MW(entry["cas"]) == pytest.approx(molar_mass(entry), rel=1e-3)


@pytest.mark.source("chemicals: formula of a CAS number")
@for_every(FORMULA_DIFFERS)
def test_listed_with_another_formula(identifier: str) -> None:
    assert chemicals.search_chemical(SUBSTANCES[identifier]["cas"]).formula == FORMULA_DIFFERS[identifier]


@pytest.mark.source("chemicals: no such CAS number; from-memory: the number")
@for_every(sorted(UNLISTED))
def test_unlisted_substances_are_still_unlisted(identifier: str) -> None:
    with pytest.raises(ValueError, match="not in the database"):
        chemicals.search_chemical(SUBSTANCES[identifier]["cas"])


def test_neat_liquids_and_nothing_else_have_a_density() -> None:
    assert {key for key, entry in SUBSTANCES.items() if "density" in entry} == set(LIQUIDS)


@pytest.mark.source("chemicals: density in each of its tables")
@for_every(sorted(set(LIQUIDS) - NO_TABLE))
def test_density_agrees_with_every_table_within_1_5_percent(identifier: str) -> None:
    # 1.5 %: the tables differ among themselves by up to 0.5 %, and two of them hold near 25 °C, not 20 °C.
    entry = LIQUIDS[identifier]
    assert entry["density"]["unit"] == "g/mL"
    found = published(entry)
    assert found != []
    assert found == pytest.approx([float(entry["density"]["value"])] * len(found), rel=0.015)


@pytest.mark.source("chemicals: no density; from-memory: the density")
@for_every(sorted(NO_TABLE))
def test_densities_from_memory_are_those_that_no_table_has(identifier: str) -> None:
    assert published(LIQUIDS[identifier]) == []


@pytest.mark.source("derived: a hydrate's atoms are those of the anhydrous substance and of water")
@for_every(HYDRATES)
def test_hydrate_is_its_anhydrous_substance_and_water(identifier: str) -> None:
    hydrate = read_formula(HYDRATES[identifier]["formula"])
    dry = read_formula(SUBSTANCES[HYDRATES[identifier]["hydrate_of"]]["formula"])
    assert hydrate.crystal_water >= 1
    assert dry.crystal_water == 0
    expected = Counter(dry.composition) + Counter({"H": 2 * hydrate.crystal_water, "O": hydrate.crystal_water})
    assert Counter(hydrate.composition) == expected
