"""The atoms of a structure, and texts that are none."""

from __future__ import annotations

import pytest

from problemgen.chemistry.structure import structure_composition
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
