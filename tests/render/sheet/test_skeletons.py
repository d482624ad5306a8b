"""Cages drawn in perspective: nothing crushed, the right side of the cage, the hydroxyl group up or down."""

from __future__ import annotations

from itertools import combinations

import pytest
from rdkit import Chem

from problemgen.render.sheet.skeletons import in_perspective
from problemgen.render.sheet.structures import draw
from tests.support.small_set import banks

CAMPHOR = "CC1(C)C2CCC1(C)C(=O)C2"
NUMBERED = Chem.MolFromSmarts("[CH3]C12[CH2][CH2][CH]([CH2]C1~O)C2([CH3])[CH3]")
"""C10, C1, C6, C5, C4, C3, C2, oxygen, C7, C8, C9 of borneol."""


def smiles_of(name: str) -> str:
    smiles = banks().substances[name].smiles
    assert smiles is not None
    return smiles


def laid_out(smiles: str) -> Chem.Mol:
    molecule = in_perspective(Chem.MolFromSmiles(smiles))
    assert molecule is not None
    return molecule


ENDO = ["norbornene-endo-dicarboxylic-anhydride", "norbornene-endo-dicarboxylic-acid"]


@pytest.mark.parametrize("name", ["camphor", "borneol", "isoborneol", *ENDO])
def test_no_two_atoms_are_crushed(name: str) -> None:
    molecule = laid_out(smiles_of(name))
    places = molecule.GetConformer().GetPositions()
    assert min(float(((a - b) ** 2).sum()) ** 0.5 for a, b in combinations(places, 2)) > 0.9
    assert {float(place[2]) for place in places} == {0.0}
    bonds = [bond for bond in molecule.GetBonds() if bond.GetBondDir() != Chem.BondDir.NONE]
    assert bonds == []


@pytest.mark.source("from-memory: the descriptors of both names; rdkit: descriptors of the structures")
@pytest.mark.parametrize(
    ("name", "centres"),
    [
        ("borneol", {"C1": "R", "C2": "S", "C4": "R"}),
        ("isoborneol", {"C1": "R", "C2": "R", "C4": "R"}),
        ("camphor", {"C1": "R", "C4": "R"}),
    ],
)
def test_the_bank_has_the_descriptors_of_the_names(name: str, centres: dict[str, str]) -> None:
    """(1R,2S,4R)-1,7,7-trimethylbicyclo[2.2.1]heptan-2-ol is borneol, (1R,2R,4R) isoborneol: one enantiomer of each."""
    molecule = Chem.MolFromSmiles(smiles_of(name))
    Chem.AssignStereochemistry(molecule, cleanIt=True, force=True)
    _, one, _, _, four, _, two, *_ = molecule.GetSubstructMatch(NUMBERED)
    numbered = {"C1": one, "C2": two, "C4": four}
    found = {name: molecule.GetAtomWithIdx(numbered[name]).GetProp("_CIPCode") for name in centres}
    assert found == centres


@pytest.mark.parametrize(("name", "down"), [("borneol", True), ("isoborneol", False)])
def test_the_hydroxyl_group_of_borneol_points_down(name: str, *, down: bool) -> None:
    """Borneol is the endo alcohol, isoborneol the exo one: the group turned away from the bridge with two methyls."""
    molecule = laid_out(smiles_of(name))
    (oxygen,) = (atom for atom in molecule.GetAtoms() if atom.GetSymbol() == "O")
    (carbon,) = oxygen.GetNeighbors()
    places = molecule.GetConformer().GetPositions()
    assert bool(places[oxygen.GetIdx()][1] < places[carbon.GetIdx()][1] - 1) is down


@pytest.mark.parametrize("name", ENDO)
def test_endo_groups_point_away_from_the_bridge_of_one_atom(name: str) -> None:
    molecule = laid_out(smiles_of(name))
    places = molecule.GetConformer().GetPositions()
    (bridge,) = molecule.GetSubstructMatch(Chem.MolFromSmarts("[CH2]"))
    carbonyls = [match[0] for match in molecule.GetSubstructMatches(Chem.MolFromSmarts("[CX3]=O"))]
    middle = sum(place[1] for place in places) / len(places)
    assert all(places[atom][1] < middle < places[bridge][1] for atom in carbonyls)


@pytest.mark.parametrize("name", ENDO)
def test_an_exo_isomer_is_not_drawn_as_the_endo_one(name: str) -> None:
    """Both exo: the two centres of the bridgeheads the other way round."""
    exo = {
        ENDO[0]: "O=C1OC(=O)[C@H]2[C@@H]1[C@@H]1C=C[C@H]2C1",
        ENDO[1]: "OC(=O)[C@@H]1[C@H](C(=O)O)[C@H]2C=C[C@@H]1C2",
    }[name]
    assert in_perspective(Chem.MolFromSmiles(exo)) is None


def test_mirror_images_are_drawn_as_mirror_images() -> None:
    right, left = (laid_out(f"CC1(C)[C@{a}H]2CC[C@{b}]1(C)C(=O)C2") for a, b in (("@", "@"), ("", "")))
    pairs = zip(right.GetConformer().GetPositions(), left.GetConformer().GetPositions(), strict=True)
    assert all(a[0] == -b[0] and a[1] == b[1] for a, b in pairs)


@pytest.mark.parametrize("smiles", ["C1CC2CCC1C2", "CC1(C)C2CCC1(C)C(=O)C2Br", "CC(=O)Oc1ccccc1C(=O)O", "CCO"])
def test_what_is_no_known_cage_is_laid_out_as_before(smiles: str) -> None:
    assert in_perspective(Chem.MolFromSmiles(smiles)) is None


def test_the_drawing_is_as_high_as_the_cage() -> None:
    drawing = draw(CAMPHOR)
    assert 55 < drawing.width_pt < 75
    assert 65 < drawing.height_pt < 90
