"""Skeletal formulas: one SVG drawing a molecule, all at one bond length, labels as paths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from rdkit import Chem
from rdkit.Chem import rdCoordGen, rdDepictor
from rdkit.Chem.Draw import rdMolDraw2D

from problemgen.render.sheet.skeletons import in_perspective

__all__ = ["Drawing", "draw", "has_skeleton"]

UNITS_PER_BOND = 24.0  # with labels of 13 units: a letter is about half as high as a bond is long
COORDINATES_PER_BOND = 1.5  # the length that the layout is scaled to
SLACK = 1.1  # RDKit keeps to a fixed scale only on a canvas that is larger than the molecule needs
LABEL_SIZE = 13  # drawing units
MARGIN = 2  # drawing units round the drawing, so that no label is clipped
POINTS_PER_UNIT = 0.75  # a bond prints 18 pt (6.4 mm) long, labels just under 10 pt
FRAME = re.compile(r"width='\d+px' height='\d+px' viewBox='[\d ]+'")


@dataclass(frozen=True)
class Drawing:
    """A drawing and the size it is printed at, in points."""

    svg: str
    width_pt: float
    height_pt: float


@lru_cache(maxsize=2048)
def has_skeleton(smiles: str) -> bool:
    """Whether a drawing tells more than the formula: an organic molecule of two or more carbons with hydrogen.

    Salts such as silver nitrate, and small molecules such as methanol, say more as formulas.
    """
    carbons = [atom for atom in _read(smiles).GetAtoms() if atom.GetSymbol() == "C"]
    return len(carbons) > 1 and any(atom.GetTotalNumHs() for atom in carbons)


@lru_cache(maxsize=2048)
def draw(smiles: str) -> Drawing:
    """Draw a molecule given as SMILES, in black on nothing.

    Raises ValueError for text that RDKit reads as no molecule: banks are checked when they are loaded.
    """
    return _drawing(_laid_out(_read(smiles)))


def _read(smiles: str) -> Chem.Mol:
    molecule = Chem.MolFromSmiles(smiles) if smiles.strip() else None
    if molecule is None:
        raise ValueError(f"no structure can be read from the SMILES {smiles!r}")
    return molecule


def _laid_out(molecule: Chem.Mol) -> Chem.Mol:
    """The molecule with flat coordinates: a cage in perspective; else long side across, bonds at the usual angles."""
    cage = in_perspective(molecule)
    if cage is not None:
        return rdMolDraw2D.PrepareMolForDrawing(cage, kekulize=True, addChiralHs=False)
    rdCoordGen.AddCoords(molecule)
    if molecule.GetNumAtoms() > 1:
        rdDepictor.NormalizeDepiction(molecule, canonicalize=1, scaleFactor=-1)
        rdDepictor.StraightenDepiction(molecule)
    return rdMolDraw2D.PrepareMolForDrawing(molecule, kekulize=True, addChiralHs=False)


def _drawing(molecule: Chem.Mol) -> Drawing:
    canvas = rdMolDraw2D.MolDraw2DSVG(-1, -1)
    _set_style(canvas.drawOptions())
    canvas.DrawMolecule(molecule)
    canvas.FinishDrawing()
    width, height = canvas.Width() + 2 * MARGIN, canvas.Height() + 2 * MARGIN
    frame = f"width='{width}px' height='{height}px' viewBox='{-MARGIN} {-MARGIN} {width} {height}'"
    svg = FRAME.sub(frame, canvas.GetDrawingText(), count=1)
    return Drawing(svg[svg.index("<svg") :], width * POINTS_PER_UNIT, height * POINTS_PER_UNIT)


def _set_style(options: Any) -> None:  # RDKit declares no type for its options
    options.clearBackground = False
    options.fixedBondLength = UNITS_PER_BOND / COORDINATES_PER_BOND
    options.scalingFactor = SLACK * UNITS_PER_BOND / COORDINATES_PER_BOND
    options.fixedFontSize = LABEL_SIZE
    options.bondLineWidth = 1.3
    options.padding = 0.03
    options.prepareMolsBeforeDrawing = False
    options.useBWAtomPalette()
