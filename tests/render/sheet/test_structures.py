"""Drawings: one bond length for all, labels as paths, the same text each time."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ElementTree

import pytest

from problemgen.render.sheet.structures import Drawing, draw, has_skeleton

ASPIRIN = "CC(=O)Oc1ccccc1C(=O)O"


def test_a_drawing_is_one_svg_with_its_size() -> None:
    drawing = draw(ASPIRIN)
    root = ElementTree.fromstring(drawing.svg)  # noqa: S314 - RDKit's own text
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert 80 < drawing.width_pt < 150
    assert 50 < drawing.height_pt < 120


def test_labels_are_paths_and_nothing_is_asked_for_from_outside() -> None:
    svg = draw(ASPIRIN).svg
    assert "<text" not in svg
    assert "<image" not in svg
    assert "href" not in svg
    assert "<script" not in svg


def test_drawings_are_black_on_nothing() -> None:
    colours = set(re.findall(r"#[0-9A-Fa-f]{6}", draw("CC(=O)NBr").svg))
    assert colours == {"#000000"}
    assert "<rect" not in draw(ASPIRIN).svg


def first_bond(drawing: Drawing) -> float:
    """The length of the first straight bond, in points."""
    path = re.search(r"d='M ([0-9.]+),([0-9.]+) L ([0-9.]+),([0-9.]+)", drawing.svg)
    width = re.search(r"viewBox='\S+ \S+ (\d+) ", drawing.svg)
    assert path is not None
    assert width is not None
    x1, y1, x2, y2 = map(float, path.groups())
    return math.hypot(x1 - x2, y1 - y2) * drawing.width_pt / float(width[1])


def test_the_bond_length_does_not_depend_on_the_molecule() -> None:
    for smiles in ("CC", "CCCCCCCCCCCC", "C1CCCCC1", "CC(C1CCCCC1)(C1CCCCC1)C1CCCCC1"):
        assert first_bond(draw(smiles)) == pytest.approx(18, abs=0.1)


def test_the_same_molecule_is_drawn_once() -> None:
    assert draw(ASPIRIN) is draw(ASPIRIN)


@pytest.mark.parametrize(
    ("smiles", "drawn"),
    [
        ("O", False),
        ("[Cl-]", False),
        ("CO", False),
        ("O=C=O", False),
        ("[Ag+].[O-][N+](=O)[O-]", False),
        ("[K+].[K+].[O-]C(=O)C(=O)[O-]", False),
        ("CC(=O)O", True),
        ("c1ccccc1Br", True),
    ],
)
def test_what_is_drawn_and_what_stays_a_formula(smiles: str, *, drawn: bool) -> None:
    assert has_skeleton(smiles) is drawn


@pytest.mark.parametrize("smiles", ["", "  ", "C1CC"])
def test_text_that_is_no_molecule_is_refused(smiles: str) -> None:
    with pytest.raises(ValueError, match=r"^no structure can be read from the SMILES '" + smiles + "'$"):
        draw(smiles)
