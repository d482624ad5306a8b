"""The atoms of a structure, and texts that are none."""

from __future__ import annotations

import pytest

from problemgen.chemistry.structure import oxidation_numbers, structure_composition, structure_key
from problemgen.errors import FormulaError


@pytest.mark.parametrize(
    ("smiles", "atoms"),
    [
        ("O", {"O": 1, "H": 2}),
        ("c1ccccc1Br", {"C": 6, "H": 5, "Br": 1}),
        ("[Na+].[Cl-]", {"Na": 1, "Cl": 1}),
        ("CC(=O)Oc1ccccc1C(=O)O", {"C": 9, "H": 8, "O": 4}),
    ],
)
def test_hydrogen_counts_too(smiles: str, atoms: dict[str, int]) -> None:
    assert dict(structure_composition(smiles)) == atoms


@pytest.mark.parametrize("text", ["C1CC", "not a structure"])
def test_text_that_is_no_structure(text: str) -> None:
    with pytest.raises(FormulaError) as caught:
        structure_composition(text)
    assert str(caught.value) == f"formula {text!r}, character 1: no structure can be read from this SMILES"


@pytest.mark.parametrize(
    ("smiles", "numbers"),
    [
        ("[Fe+3].[Cl-].[Cl-].[Cl-]", {3}),
        ("Cl[Cr](Cl)Cl", {3}),
        ("Cl[Pt-2](Cl)(Cl)Cl.[K+].[K+]", {1, 2}),
        ("CCO", set()),
    ],
)
def test_oxidation_numbers_of_metals(smiles: str, numbers: set[int]) -> None:
    assert oxidation_numbers(smiles) == numbers


def test_a_structure_has_one_key_however_it_is_written() -> None:
    assert structure_key("C1=CC=CC=C1O") == structure_key("Oc1ccccc1") != structure_key("CCO")
