"""Units and substances behind a number."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.unit_list import SPELLINGS
from problemgen.chemistry.units import read_unit
from problemgen.errors import UnitError
from problemgen.grade.reading.written_units import hides_number, read_behind


@pytest.mark.parametrize(
    ("text", "asked", "unit"),
    [
        ("", "g", ""),
        (" .", "g", ""),
        (" NaCl", "g", ""),
        (" of product", "g", ""),
        (" product", "g", ""),
        (" g", "g", "g"),
        ("g NaCl.", "g", "g"),
        (" mol C", "mol", "mol"),
        (" mol C", "g", "mol"),
        (" g F", "g", "g"),
        (" kPa L", "J", "kPa·L"),
        (" L atm", "J", "L·atm"),
        (" mol L^-1", "mol", "mol/L"),
        (" J mol^-1 K^-1", "J", "J/(mol·K)"),
        (" formula units of NaCl", "molecules", "formula units"),
        (" NaCl formula_units", "molecules", "formula units"),
        (" mm Hg", "kPa", "mmHg"),
        (" °C", "K", "°C"),
        (" degrees F", "K", "°F"),
        (" celsius", "K", "°C"),
        (" g of the dry, white product", "g", "g"),
        (" g tert-butyl alcohol", "g", "g"),
        (" g Ca(OH)2", "g", "g"),
        (" mol e-", "mol", "mol"),
        (" mol SO4^2-", "mol", "mol"),
        (" % (w/w)", "%", "%"),
    ],
)
def test_read(text: str, asked: str, unit: str) -> None:
    found = read_behind(text, read_unit(asked)).unit
    assert (found.text if found else "") == unit


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        (" x", 'The unit "x" is not known.'),
        (" Cl", """The unit "Cl" is not known; did you mean 'cL'?"""),
        (" N", 'The unit "N" is not known.'),
        (" CC", """The unit "CC" is not known; did you mean 'cc'?"""),
        (" mol/", 'The unit "mol/" is not known.'),
        (" m", 'The unit "m" is not known.'),
        (" J/mol K^-1", 'What stands behind the unit is not understood: "J/mol K^-1".'),
        (" g or less", 'What stands behind the unit is not understood: "g or less".'),
        (" g 5", "More than one number stands in the answer; write one only."),
        (" * 5", "The answer is a calculation; write its result only."),
    ],
)
def test_refused(text: str, reason: str) -> None:
    with pytest.raises(UnitError) as caught:
        read_behind(text, read_unit("g"))
    assert str(caught.value) == reason


@given(st.sampled_from(sorted(SPELLINGS)))
def test_every_listed_spelling_is_read_as_the_list_says(spelling: str) -> None:
    assert read_behind(f" {spelling}", read_unit("1")) == (read_unit(spelling), "")


@pytest.mark.parametrize("text", ["", "m1", "n(NaCl)", "C2H4O2", "copper(II)", "but-2-ene", "K·3H2O", "mol L-1", "V_2"])
def test_figures_that_belong_to_a_name(text: str) -> None:
    assert not hides_number(text)


@pytest.mark.parametrize("text", ["5", "g 5", "g (5)", "a ,5", "a; -3", "2 x 3", "a / 3"])
def test_figures_that_are_a_number(text: str) -> None:
    assert hides_number(text)


@pytest.mark.parametrize("asked", ["1", "g", "%"])
def test_figures_alone_are_a_second_number_and_no_unit(asked: str) -> None:
    for text in (" 1", " 2", " 15"):
        with pytest.raises(UnitError, match="More than one number stands in the answer"):
            read_behind(text, read_unit(asked))
