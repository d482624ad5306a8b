"""Structures written as SMILES: which atoms they have."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from problemgen.errors import FormulaError
from problemgen.late import late
from problemgen.remembered import Table

__all__ = ["oxidation_numbers", "read_structure", "structure_composition", "structure_key"]

Chem, base = late("rdkit.Chem"), late("rdkit.rdBase")

_NON_METALS = frozenset(
    ("H", "He", "B", "C", "N", "O", "F", "Ne", "Si", "P", "S", "Cl", "Ar", "As", "Se", "Br", "Kr", "Te", "I", "Xe")
)


def read_structure(smiles: str) -> Any:
    """A structure as RDKit's molecule. Raises FormulaError for text that it reads as none."""
    with base.BlockLogs():  # its own messages would stand between ours
        molecule = Chem.MolFromSmiles(smiles) if smiles.strip() else None
    if molecule is None:
        raise FormulaError(smiles, 0, "no structure can be read from this SMILES")
    return molecule


@Table[Mapping[str, int]]("atoms", plain=dict, read=dict, most=4096).remembering
def structure_composition(smiles: str) -> Mapping[str, int]:
    """The atoms of a structure by symbol, hydrogen included.

    Raises FormulaError for text that RDKit reads as no structure.

    >>> dict(structure_composition("CCO")) == {"C": 2, "O": 1, "H": 6}
    True
    """
    return Counter(atom.GetSymbol() for atom in Chem.AddHs(read_structure(smiles)).GetAtoms())


def structure_key(smiles: str) -> str:
    """The InChIKey of a structure: one for all ways to write it. Raises FormulaError as `structure_composition` does.

    >>> structure_key("OCC") == structure_key("CCO")
    True
    """
    with base.BlockLogs():
        return str(Chem.MolToInchiKey(read_structure(smiles)))


def oxidation_numbers(smiles: str) -> frozenset[int]:
    """The oxidation numbers of a structure's metals: each one's charge, and one for every bond to a non-metal.

    Raises FormulaError as `structure_composition` does.

    >>> sorted(oxidation_numbers("Cl[Cr](Cl)Cl.[K+]"))
    [1, 3]
    """
    metals = (atom for atom in read_structure(smiles).GetAtoms() if atom.GetSymbol() not in _NON_METALS)
    return frozenset(atom.GetFormalCharge() + atom.GetTotalValence() for atom in metals)
