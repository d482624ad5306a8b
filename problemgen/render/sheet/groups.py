"""Functional groups of a structure, by the names that an organic laboratory course uses."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache

from rdkit import Chem

from problemgen.language.messages import N_

__all__ = ["GROUPS", "groups_of"]

GROUPS: Mapping[str, tuple[str, str]] = {
    "alkene": (N_("alkene"), "[CX3]=[CX3]"),
    "alkyne": (N_("alkyne"), "[C;!-]#[C;!-]"),
    "benzene ring": (N_("benzene ring"), "c1ccccc1"),
    "heteroaromatic ring": (N_("heteroaromatic ring"), "[n,o,s]"),
    "halide": (N_("halide"), "[#6;!$(C=O)][F,Cl,Br,I]"),
    "alcohol": (N_("alcohol"), "[CX4][OX2H]"),
    "phenol": (N_("phenol"), "c[OX2H]"),
    "ether": (N_("ether"), "[#6;!$(C=O);!$(C1OC1)][OX2;R0,r5,r6][#6;!$(C=O)]"),
    "epoxide": (N_("epoxide"), "C1OC1"),
    "aldehyde": (N_("aldehyde"), "[$([CX3H1](=O)[#6]),$([CX3H2]=O)]"),
    "ketone": (N_("ketone"), "[#6][CX3](=O)[#6]"),
    "carboxylic acid": (N_("carboxylic acid"), "[$([CX3H1](=O)[OX2H]),$([#6][CX3](=O)[OX2H])]"),
    "acid chloride": (N_("acid chloride"), "[CX3](=O)[Cl]"),
    "acid anhydride": (N_("acid anhydride"), "[CX3](=O)[OX2][CX3](=O)"),
    "ester": (N_("ester"), "[CX3](=O)[OX2][#6;!$(C=O)]"),
    "amide": (N_("amide"), "[CX3](=O)[NX3]"),
    "amine": (N_("amine"), "[NX3;!$(N[C,S]=O);!$(N=*);!$(N#*)][#6]"),
    "imine": (N_("imine"), "[CX3]=[NX2;!$(N[OX2])]"),
    "oxime": (N_("oxime"), "[CX3]=[NX2][OX2H]"),
    "nitrile": (N_("nitrile"), "[#6][CX2]#[NX1]"),
    "azo compound": (N_("azo compound"), "[#6]N=N[#6]"),
    "nitro compound": (N_("nitro compound"), "[#6][N+](=O)[O-]"),
    "organomagnesium": (N_("organomagnesium compound"), "[#6][Mg]"),
}
"""By its key, what a group is called and how it is found: as SMARTS. Common practice, no source.

A group that is part of another is not told beside it: an ester is no ether and no ketone, an amide no amine.
"""


@cache
def _patterns() -> Mapping[str, Chem.Mol]:
    return {key: Chem.MolFromSmarts(smarts) for key, (_name, smarts) in GROUPS.items()}


@lru_cache(maxsize=2048)
def groups_of(smiles: str) -> frozenset[str]:
    """The keys of the groups that a molecule has. Raises ValueError for text that is no SMILES."""
    molecule = Chem.MolFromSmiles(smiles)
    if molecule is None:
        raise ValueError(f"no structure can be read from the SMILES {smiles!r}")
    return frozenset(key for key, pattern in _patterns().items() if molecule.HasSubstructMatch(pattern))
