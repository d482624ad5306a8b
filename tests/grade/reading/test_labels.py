"""Labels: which unit they name, which name none, and what is no label."""

from __future__ import annotations

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.labels import NO_UNIT, read_label


@pytest.mark.parametrize(
    ("label", "asked", "unit"),
    [
        ("n/mol", "mmol", "mol"),
        ("n / mol", "g", "mol"),
        ("n(NaOH)/mmol", "mol", "mmol"),
        ("c/(mol/L)", "mol/L", "mol/L"),
        ("c/mol/L", "mol/L", "mol/L"),
        ("c / mol L^-1", "mol/L", "mol/L"),
        ("m (mg)", "g", "mg"),
        ("m [mg]", "g", "mg"),
        ("mass (in kg)", "g", "kg"),
        ("in kg", "g", "kg"),
        ("mass in kg", "g", "kg"),
        ("mass, kg", "g", "kg"),
        ("mass of product kg", "g", "kg"),
        ("kg", "g", "kg"),
        ("kg NaCl", "g", "kg"),
        ("moles of NaCl", "mmol", "mol"),
        ("% yield", "%", "%"),
        ("percent_yield C9H8O4", "%", "%"),
        ("density g/cm3", "g/mL", "g/cm3"),
        ("T (C)", "K", "°C"),
        ("m(CO2)(g)", "mg", "g"),
        ("V(H2O)(l)", "mL", "L"),
        ("M", "mol/L", "M"),
        ("M NaOH", "mol/L", "M"),
        ("t/min", "s", "min"),
    ],
)
def test_a_unit_in_a_label(label: str, asked: str, unit: str) -> None:
    found = read_label(label, read_unit(asked).dimension)
    assert found is not None
    assert found.unit == read_unit(unit)


@pytest.mark.parametrize(
    ("label", "asked"),
    [
        *((symbol, "g") for symbol in ("m", "m1", "m_2", "n", "pV", "nRT", "m(NaCl)", "m_{NaCl}", "mNaCl", "n(K)")),
        *((words, "g") for words in ("mass of product", "theoretical yield", "answer", "the mass", "n × M", "n = m/M")),
        *(
            ("M", "g/mol"),
            ("t", "s"),
            ("C", "mol/L"),
            ("m/M", "mol"),
            ("n/V", "mol/L"),
            ("m(C)", "g"),
            ("n(CO2(g))", "g"),
        ),
        *(
            ("left after one portion", "g"),
            ("mole fraction", "1"),
            ("molar mass", "g/mol"),
            ("molar_mass KAl(SO4)2*12H2O", "g/mol"),
            ("n(H2O)(l)", "mol"),
        ),
    ],
)
def test_no_unit_in_a_label(label: str, asked: str) -> None:
    for side in label.split(" = "):
        assert read_label(side, read_unit(asked).dimension) == NO_UNIT


@pytest.mark.parametrize(
    "text",
    [
        *("", "=", "()", "5", "m 5", "kilos", "half", "not", "n/moll", "mass (kilo)", "no", "or", "up to", "nonsense"),
        *("mol thousand", "thousand mol", "g or mg", "half of mass", "m | n", "@SUM", "mol NaCl mmol", "m" * 30),
    ],
)
def test_what_is_no_label(text: str) -> None:
    assert read_label(text, read_unit("g").dimension) is None
