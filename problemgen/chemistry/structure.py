"""Structures written as SMILES: which atoms they have."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from rdkit import Chem, rdBase

from problemgen.errors import FormulaError

__all__ = ["structure_composition"]


def structure_composition(smiles: str) -> Mapping[str, int]:
    """The atoms of a structure by symbol, hydrogen included.

    Raises FormulaError for text that RDKit reads as no structure.

    >>> dict(structure_composition("CCO")) == {"C": 2, "O": 1, "H": 6}
    True
    """
    with rdBase.BlockLogs():  # its own messages would stand between ours
        molecule = Chem.MolFromSmiles(smiles)
    if molecule is None:
        raise FormulaError(smiles, 0, "no structure can be read from this SMILES")
    return Counter(atom.GetSymbol() for atom in Chem.AddHs(molecule).GetAtoms())
