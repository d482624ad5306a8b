"""The formula of a structure as laboratories write it: a salt ion by ion, with its water behind a dot.

A structure says how the atoms hang together, and its molecular formula only how many there are: what is labelled
Ni(NO3)2·6H2O would be H12N2NiO12. Organic molecules are written with carbon and hydrogen first, then by the alphabet.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from rdkit import Chem

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.structure import read_structure

__all__ = ["hill_formula", "is_organometallic", "written_formula"]

_WATER = "O"

_IONS: Mapping[str, str] = {
    "[OH-]": "OH",
    "O=C([O-])O": "HCO3",
    "CC(=O)[O-]": "C2H3O2",
    "N#C[S-]": "SCN",
    "[C-]#N": "CN",
    "O=P([O-])(O)O": "H2PO4",
    "O=P([O-])([O-])O": "HPO4",
    "[N-]=[N+]=[N-]": "N3",
}
"""Ions whose usual formula does not follow from `_ORDER`, by RDKit's canonical SMILES."""

_ORDER = ("B", "Si", "C", "P", "N", "H", "Se", "S", "I", "Br", "Cl", "O", "F")
"""The order of the non-metals in formulas of binary compounds (NH3, SO2, ClO4); metals stand before them."""

_SINGLE = 1  # a fragment of one atom needs no brackets


def hill_formula(composition: Mapping[str, int]) -> str:
    """The atoms as a formula: carbon and hydrogen first where there is carbon, then by the alphabet.

    >>> hill_formula({"O": 2, "C": 9, "H": 10})
    'C9H10O2'
    """
    first = [symbol for symbol in ("C", "H") if "C" in composition and symbol in composition]
    return _text([*first, *sorted(composition.keys() - set(first))], composition)


def written_formula(smiles: str) -> str:
    """The formula of a structure, its ions in brackets where there are several, water of crystallisation behind a dot.

    Raises FormulaError for text that is read as no structure.

    >>> written_formula("[Ni+2].[N+](=O)([O-])[O-].[N+](=O)([O-])[O-].O.O")
    'Ni(NO3)2.2H2O'
    >>> written_formula("CCCO")
    'C3H8O'
    """
    molecule = read_structure(smiles)
    fragments = Chem.GetMolFrags(molecule, asMols=True)
    if len(fragments) == 1:
        return _fragment_text(molecule)
    known = {Chem.MolToSmiles(one): one for one in fragments}
    counts = Counter(Chem.MolToSmiles(one) for one in fragments)
    crystal_water = counts.pop(_WATER, 0)
    order = sorted(counts, key=lambda one: (not _is_carbanion(known[one]), -Chem.GetFormalCharge(known[one]), one))
    text = "".join(_repeated(known[one], counts[one]) for one in order)
    water = f".{crystal_water if crystal_water > 1 else ''}H2O" if crystal_water else ""
    return read_formula(text + water).text


def is_organometallic(smiles: str) -> bool:
    """Whether a structure is an organometallic reagent written as ions: a picture of it would show what is not there.

    >>> is_organometallic("[Li+].[CH2-]CCC"), is_organometallic("[Na+].CC(=O)[O-]")
    (True, False)
    """
    return any(_is_carbanion(one) for one in Chem.GetMolFrags(read_structure(smiles), asMols=True))


def _is_carbanion(fragment: Chem.Mol) -> bool:
    """Whether a fragment is the organic part of an organometallic reagent: it is written first, C6H5MgBr."""
    charged = (atom for atom in fragment.GetAtoms() if atom.GetFormalCharge() < 0)
    return Chem.MolToSmiles(fragment) not in _IONS and any(atom.GetSymbol() == "C" for atom in charged)


def _repeated(fragment: Chem.Mol, count: int) -> str:
    """A fragment so many times: "Na2", "(NO3)2"."""
    text = _fragment_text(fragment)
    if count == 1:
        return text
    atoms = sum(_composition(fragment).values())
    return f"{text}{count}" if atoms == _SINGLE else f"({text}){count}"


def _fragment_text(fragment: Chem.Mol) -> str:
    """An ion or a molecule by itself, without a charge."""
    composition = _composition(fragment)
    usual = _IONS.get(Chem.MolToSmiles(fragment))
    if usual is not None:
        return usual
    if {"C", "H"} <= composition.keys():
        return hill_formula(composition)
    metals = sorted(composition.keys() - set(_ORDER))
    return _text([*metals, *(symbol for symbol in _ORDER if symbol in composition)], composition)


def _composition(fragment: Chem.Mol) -> Mapping[str, int]:
    return Counter(atom.GetSymbol() for atom in Chem.AddHs(fragment).GetAtoms())


def _text(symbols: Iterable[str], composition: Mapping[str, int]) -> str:
    return "".join(f"{one}{composition[one] if composition[one] > 1 else ''}" for one in symbols)
