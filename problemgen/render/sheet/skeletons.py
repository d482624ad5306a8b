"""Cage skeletons as they are drawn by hand, in perspective: general layouts crush what stands on their bridges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from rdkit import Chem
from rdkit.Geometry import Point3D

__all__ = ["in_perspective"]

Place: TypeAlias = tuple[float, float, float]
"""Across, up, and towards the reader, where a bond is about 1.5 long."""


@dataclass(frozen=True)
class _Cage:
    """A skeleton as a pattern, and the place of each of its atoms."""

    pattern: Chem.Mol
    places: tuple[Place, ...]

    def seen_from(self, side: int) -> Iterator[Place]:
        """The places, or their mirror image for a `side` of -1."""
        return ((side * across, up, near) for across, up, near in self.places)


# The bridge with one atom stands on top, one with two in front, the other behind.
_LEFT, _RIGHT, _TOP = (-1.45, 0.25, 0.0), (1.45, 0.25, 0.0), (0.0, 1.15, 0.0)
_BEHIND = ((-0.62, -0.38, -1.0), (0.62, -0.38, -1.0))
_FRONT = ((-0.8, -1.35, 1.0), (0.8, -1.35, 1.0))


def _bornane(pattern: str, oxygen: Place) -> _Cage:
    """Camphor and its alcohols: C8, C7, C9, C4, C5, C6, C1, C10, C2, O, C3."""
    methyls = ((-0.75, 2.45, 0.0), (0.75, 2.45, 0.0), (2.75, 1.0, 0.0))
    top = (methyls[0], _TOP, methyls[1])
    places = (*top, _LEFT, *_BEHIND, _RIGHT, methyls[2], _FRONT[1], oxygen, _FRONT[0])
    bornane = f"[CH3]C1([CH3])[CH1]2[CH2][CH2]C1([CH3])C({pattern})[CH2]2"
    return _Cage(Chem.MolFromSmarts(bornane), places)


def _norbornene(pattern: str, *groups: Place) -> _Cage:
    """Adducts of cyclopentadiene: C4, C5 and C6 of the double bond, C1, C7, C2 with its group, C3 with its own."""
    whole = f"[CH1]12[CH]=[CH][CH1]([CH2]1){pattern}"
    return _Cage(Chem.MolFromSmarts(whole), (_LEFT, *_BEHIND, _RIGHT, _TOP, *groups))


_RIGHT_ACID = ((1.6, -2.65, 1.0), (0.9, -3.97, 1.0), (3.1, -2.6, 1.0))
_LEFT_ACID = tuple((-across, up, near) for across, up, near in _RIGHT_ACID)
_CAGES = (
    _bornane("=[O;D1]", (1.55, -2.65, 1.0)),
    _bornane("[OH]", (1.15, -2.8, 1.0)),  # endo
    _bornane("[OH]", (2.25, -1.15, 1.8)),  # exo
    _norbornene(  # the endo anhydride: its ring below
        "[CH]3[CH1]2C(=O)OC3(=O)",
        *(_FRONT[1], _FRONT[0]),
        *((-1.15, -2.8, 1.0), (-2.4, -3.6, 1.0), (0.0, -3.7, 1.0), (1.15, -2.8, 1.0), (2.4, -3.6, 1.0)),
    ),
    _norbornene(  # the endo acid
        "[CH](C(=O)[OH])[CH1]2C(=O)[OH]",
        *(_FRONT[1], *_RIGHT_ACID, _FRONT[0], *_LEFT_ACID),
    ),
)


def in_perspective(molecule: Chem.Mol) -> Chem.Mol | None:
    """The molecule with the flat coordinates of its cage, stereocentres told by the perspective alone.

    None where the molecule is no known cage, or has groups beside those of the pattern.
    """
    wanted = Chem.MolToSmiles(molecule)
    has_centres = any(atom.GetChiralTag() for atom in molecule.GetAtoms())
    for cage in _CAGES:
        match = molecule.GetSubstructMatch(cage.pattern)
        if len(match) == molecule.GetNumAtoms():
            for side in (1, -1):
                seen = _lay_out(molecule, match, tuple(cage.seen_from(side)))
                if not has_centres or _stereo_smiles(seen) == wanted:
                    return _flat(seen)
    return None


def _lay_out(molecule: Chem.Mol, match: tuple[int, ...], places: tuple[Place, ...]) -> Chem.Mol:
    placed = Chem.Mol(molecule)
    conformer = Chem.Conformer(placed.GetNumAtoms())
    conformer.Set3D(True)
    for atom, place in zip(match, places, strict=True):
        conformer.SetAtomPosition(atom, Point3D(*place))
    placed.RemoveAllConformers()
    placed.AddConformer(conformer)
    return placed


def _stereo_smiles(placed: Chem.Mol) -> str:
    """The SMILES with the stereocentres that the places show."""
    shown = Chem.Mol(placed)
    Chem.AssignStereochemistryFrom3D(shown, replaceExistingTags=True)
    return Chem.MolToSmiles(shown)


def _flat(placed: Chem.Mol) -> Chem.Mol:
    """The same as it is drawn: no depth, no wedges."""
    flat = Chem.Mol(placed)
    Chem.RemoveStereochemistry(flat)
    conformer = flat.GetConformer()
    for index in range(flat.GetNumAtoms()):
        place = conformer.GetAtomPosition(index)
        conformer.SetAtomPosition(index, Point3D(place.x, place.y, 0.0))
    conformer.Set3D(False)
    return flat
