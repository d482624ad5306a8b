from __future__ import annotations

from problemgen.model.blocks import Chemical, Paragraph, Strong, Table
from problemgen.model.truths import TextTruth
from problemgen.plan.forms.equation import EQUATION
from problemgen.render.printers.terminal import text_lines
from tests.support.shipped import shipped, variant_of

BUTANE = "equations/butane-burns"


def test_an_equation_is_told_balanced() -> None:
    template, variant = shipped(BUTANE), variant_of(BUTANE)
    (truth,) = variant.answers
    (asked,) = template.plan.asked
    assert isinstance(truth, TextTruth)
    assert EQUATION.text(template.scene, asked, truth) == "2 C4H10 + 13 O2 -> 8 CO2 + 10 H2O"


def test_an_equation_is_set_with_formulas_and_coefficients_from_two_on() -> None:
    line = EQUATION.read_as("CaC2 + 2 H2O -> C2H2 + Ca(OH)2")
    assert [piece.formula for piece in line if isinstance(piece, Chemical)] == ["CaC2", "H2O", "C2H2", "Ca(OH)2"]
    assert [piece.text for piece in line if isinstance(piece, Strong)] == [" + 2 ", " → ", " + "]


def test_an_equation_has_its_atoms_counted_on_both_sides() -> None:
    (asked,) = EQUATION.asks.values()
    counted, told = EQUATION.ending(asked, TextTruth("4 NH3 + 5 O2 -> 4 NO + 6 H2O")).blocks
    assert isinstance(counted, Table)
    assert isinstance(told, Paragraph)
    rows = [[next(iter(text_lines([Paragraph(cell)]))) for cell in row] for row in counted.rows]
    assert rows == [["N", "4", "4"], ["H", "12", "12"], ["O", "10", "10"]]
    assert list(text_lines([told])) == ["Balanced: 4 NH₃ + 5 O₂ → 4 NO + 6 H₂O"]


def test_the_blank_is_as_long_as_the_line() -> None:
    template = shipped(BUTANE)
    blank = EQUATION.blank(template.scene, template.plan, template.parts[0].asked, 2)
    assert (blank.wide, blank.unit, blank.choices, blank.work_lines) == (True, "", (), 2)
