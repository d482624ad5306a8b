"""Formulas as laboratories write them, from structures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.salts import hill_formula, is_organometallic, written_formula
from problemgen.chemistry.structure import structure_composition
from problemgen.errors import FormulaError
from tests.support.every_row import for_every
from tests.support.small_set import banks


@pytest.mark.parametrize(
    ("smiles", "formula"),
    [
        ("CCCO", "C3H8O"),
        ("[Na+].[Cl-]", "NaCl"),
        ("[Ni+2].[N+](=O)([O-])[O-].[N+](=O)([O-])[O-].O.O.O.O.O.O", "Ni(NO3)2.6H2O"),
        ("[O-]S(=O)(=O)[O-].[Cu+2].O", "CuSO4.H2O"),
        ("Cl[Cr](Cl)Cl.O.O", "CrCl3.2H2O"),
        ("CC(=O)[O-].CC(=O)[O-].[Cu+2]", "Cu(C2H3O2)2"),
        ("[NH4+].[NH4+].[O-]S(=O)(=O)[O-]", "(NH4)2SO4"),
        ("[Ca+2].[OH-].[OH-]", "Ca(OH)2"),
        ("[Li+].[CH2-]CCC", "C4H9Li"),
        ("c1ccc[c-]c1.[Mg+2].[Br-]", "C6H5MgBr"),
        ("ClP(Cl)Cl", "PCl3"),
        ("O", "H2O"),
    ],
)
def test_a_structure_is_written_ion_by_ion(smiles: str, formula: str) -> None:
    assert written_formula(smiles) == formula


@for_every([one for one in banks().substances.values() if one.smiles is not None])
def test_it_has_the_atoms_of_the_structure(substance: object) -> None:
    smiles = str(substance.smiles)  # type: ignore[attr-defined]  # a substance of the bank
    assert dict(read_formula(written_formula(smiles)).composition) == dict(structure_composition(smiles))


@given(st.dictionaries(st.sampled_from(["C", "H", "N", "O", "Cl", "Na"]), st.integers(1, 40), min_size=1))
def test_a_hill_formula_is_read_as_it_was_counted(atoms: dict[str, int]) -> None:
    written = hill_formula(atoms)
    assert dict(read_formula(written).composition) == atoms
    assert "C" not in atoms or written.startswith("C")


@pytest.mark.parametrize(
    ("smiles", "expected"),
    [("[Li+].[CH3-]", True), ("[CH3-].[Mg+2].[Br-]", True), ("[K+].[C-]#N", False), ("CCO", False)],
)
def test_an_organometallic_is_known_by_its_carbanion(smiles: str, *, expected: bool) -> None:
    assert is_organometallic(smiles) is expected


def test_what_is_no_structure_is_refused() -> None:
    with pytest.raises(FormulaError, match="no structure can be read from this SMILES"):
        written_formula("C(C")
