"""Cage skeletons as they are drawn by hand, in perspective: general layouts crush what stands on their bridges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rdkit import Chem
from rdkit.Geometry import Point3D

__all__ = ["in_perspective"]

_BORNANE = Chem.MolFromSmarts("[CH3]C1([CH3])[CH1]2[CH2][CH2]C1([CH3])C(~[O;D1])[CH2]2")
"""Camphor and its alcohols: C8, C7, C9, C4, C5, C6, C1, C10, C2, O, C3."""

_CAGE = (
    (-0.75, 2.45, 0.0),
    (0.0, 1.15, 0.0),
    (0.75, 2.45, 0.0),
    (-1.45, 0.25, 0.0),
    (-0.62, -0.38, -1.0),
    (0.62, -0.38, -1.0),
    (1.45, 0.25, 0.0),
    (2.75, 1.0, 0.0),
    (0.8, -1.35, 1.0),
    (0.0, 0.0, 0.0),  # the oxygen: one of _OXYGEN
    (-0.8, -1.35, 1.0),
)
"""Across, up, and towards the reader, where a bond is about 1.5 long; C2 and C3 stand in front, C5 and C6 behind."""

_OXYGEN = {"ketone": (1.55, -2.65, 1.0), "endo": (1.15, -2.8, 1.0), "exo": (2.25, -1.15, 1.8)}


@dataclass(frozen=True)
class _Layout:
    """Where the oxygen stands, and whether the cage is seen from its other side."""

    oxygen: tuple[float, float, float]
    side: int

    def places(self) -> Iterator[tuple[float, float, float]]:
        """The place of each atom of the pattern."""
        for place in _CAGE:
            across, up, near = self.oxygen if place == (0.0, 0.0, 0.0) else place
            yield self.side * across, up, near


def in_perspective(molecule: Chem.Mol) -> Chem.Mol | None:
    """The molecule with the flat coordinates of its cage, stereocentres told by the perspective alone.

    None where the molecule is no known cage, or has groups beside those of the pattern.
    """
    match = molecule.GetSubstructMatch(_BORNANE)
    if len(match) != molecule.GetNumAtoms():
        return None
    wanted = Chem.MolToSmiles(molecule)
    names = ("ketone",) if molecule.GetAtomWithIdx(match[9]).GetTotalNumHs() == 0 else ("endo", "exo")
    for layout in (_Layout(_OXYGEN[name], side) for name in names for side in (1, -1)):
        seen = _placed(molecule, match, layout)
        has_centres = any(atom.GetChiralTag() for atom in molecule.GetAtoms())
        if not has_centres or _stereo_smiles(seen) == wanted:
            return _flat(seen)
    return None


def _placed(molecule: Chem.Mol, match: tuple[int, ...], layout: _Layout) -> Chem.Mol:
    placed = Chem.Mol(molecule)
    conformer = Chem.Conformer(placed.GetNumAtoms())
    conformer.Set3D(True)
    for atom, place in zip(match, layout.places(), strict=True):
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
