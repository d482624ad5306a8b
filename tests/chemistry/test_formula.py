"""Formulas: accepted and rejected spellings, and what printers get."""

from __future__ import annotations

import re
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import formula_pieces, read_formula
from problemgen.errors import FormulaError

SYMBOLS = st.sampled_from(list(ELEMENTS))
COUNTS = st.integers(1, 40)
Tree: TypeAlias = "list[tuple[str | Tree, int]]"
TREES = st.recursive(
    st.lists(st.tuples(SYMBOLS, COUNTS), min_size=1, max_size=3),
    lambda inner: st.lists(st.tuples(st.one_of(SYMBOLS, inner), COUNTS), min_size=1, max_size=3),
    max_leaves=6,
)


def spelled(tree: Tree, brackets: str = "()") -> str:
    """A formula's text, from its tree."""
    parts = []
    for item, count in tree:
        body = item if isinstance(item, str) else f"{brackets[0]}{spelled(item)}{brackets[1]}"
        parts.append(body + (str(count) if count > 1 else ""))
    return "".join(parts)


def counted(tree: Tree, times: int = 1) -> dict[str, int]:
    """Its atoms, counted without reading."""
    total: dict[str, int] = {}
    for item, count in tree:
        inner = {item: 1} if isinstance(item, str) else counted(item)
        for symbol, number in inner.items():
            total[symbol] = total.get(symbol, 0) + number * count * times
    return total


@pytest.mark.parametrize(
    ("text", "canonical", "counts", "charge", "state", "crystal_water"),
    [
        ("H2O", "H2O", "H2 O1", 0, None, 0),
        ("H₂SO₄", "H2SO4", "H2 S1 O4", 0, None, 0),
        ("Co", "Co", "Co1", 0, None, 0),
        ("CO", "CO", "C1 O1", 0, None, 0),
        ("CH3COOH", "CH3COOH", "C2 H4 O2", 0, None, 0),
        ("Al2(SO4)3", "Al2(SO4)3", "Al2 S3 O12", 0, None, 0),
        ("K4[Fe(CN)6]", "K4[Fe(CN)6]", "K4 Fe1 C6 N6", 0, None, 0),
        ("C60", "C60", "C60", 0, None, 0),
        ("H2O(l)", "H2O", "H2 O1", 0, "l", 0),
        ("NaCl (aq)", "NaCl", "Na1 Cl1", 0, "aq", 0),
        ("I2(s)", "I2", "I2", 0, "s", 0),
        (" CO2(g) ", "CO2", "C1 O2", 0, "g", 0),
        ("CuSO4·5H2O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO4.5H2O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO4*5H2O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO4•5H2O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO4⋅5H2O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO₄ · 5 H₂O", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, None, 5),
        ("CuSO4.5H2O(s)", "CuSO4.5H2O", "Cu1 S1 O9 H10", 0, "s", 5),
        ("Na2CO3.H2O", "Na2CO3.H2O", "Na2 C1 O4 H2", 0, None, 1),
        ("Na2CO3 · 10 H2O", "Na2CO3.10H2O", "Na2 C1 O13 H20", 0, None, 10),
        ("(CaSO4)2.H2O", "(CaSO4)2.H2O", "Ca2 S2 O9 H2", 0, None, 1),
        ("BF3.2CH3OH", "BF3.2CH3OH", "B1 F3 C2 H8 O2", 0, None, 0),
        ("K2SO4.Al2(SO4)3.24H2O", "K2SO4.Al2(SO4)3.24H2O", "K2 S4 O40 Al2 H48", 0, None, 24),
        ("Na+", "Na+", "Na1", 1, None, 0),
        ("Na^+", "Na+", "Na1", 1, None, 0),
        ("Cl−", "Cl-", "Cl1", -1, None, 0),
        ("Cl–", "Cl-", "Cl1", -1, None, 0),
        ("Na⁺(aq)", "Na+", "Na1", 1, "aq", 0),
        ("NO3-", "NO3-", "N1 O3", -1, None, 0),
        ("NH4+", "NH4+", "N1 H4", 1, None, 0),
        ("MnO4-", "MnO4-", "Mn1 O4", -1, None, 0),
        ("H3O+", "H3O+", "H3 O1", 1, None, 0),
        ("HSO4-", "HSO4-", "H1 S1 O4", -1, None, 0),
        ("CH3CO2-", "CH3CO2-", "C2 H3 O2", -1, None, 0),
        ("Al(OH)4-", "Al(OH)4-", "Al1 O4 H4", -1, None, 0),
        ("Fe^3+", "Fe^3+", "Fe1", 3, None, 0),
        ("Fe³⁺", "Fe^3+", "Fe1", 3, None, 0),
        ("SO4^2-", "SO4^2-", "S1 O4", -2, None, 0),
        ("SO₄²⁻", "SO4^2-", "S1 O4", -2, None, 0),
        ("Hg2^2+", "Hg2^2+", "Hg2", 2, None, 0),
        ("O2^-", "O2^-", "O2", -1, None, 0),
        ("I3^-", "I3^-", "I3", -1, None, 0),
        ("C10H15^-", "C10H15^-", "C10 H15", -1, None, 0),
        ("[Fe(CN)6]^3-", "[Fe(CN)6]^3-", "Fe1 C6 N6", -3, None, 0),
        ("[Ag(NH3)2]+", "[Ag(NH3)2]+", "Ag1 N2 H6", 1, None, 0),
        ("e-", "e-", "", -1, None, 0),
        ("e⁻", "e-", "", -1, None, 0),
        ("e^-", "e-", "", -1, None, 0),
    ],
)
def test_reads(text: str, canonical: str, counts: str, charge: int, state: str | None, crystal_water: int) -> None:
    formula = read_formula(text)
    assert formula.text == canonical
    assert " ".join(f"{symbol}{count}" for symbol, count in formula.counts) == counts
    assert (formula.charge, formula.state, formula.crystal_water) == (charge, state, crystal_water)
    assert formula.with_state == canonical + (f"({state})" if state else "")
    assert read_formula(formula.with_state) == formula


CAPITAL = "the symbol of an element starts with a capital, and {!r} is a small letter"
COUNT = "a count is 2 or more, without a zero in front; a count of 1 is left out"
BEHIND = "nothing but a state such as (aq) may stand behind the charge"


@pytest.mark.parametrize(
    ("text", "position", "reason"),
    [
        ("", 0, "nothing is written"),
        ("   ", 0, "nothing is written"),
        ("(H2O", 0, "'(' is not closed"),
        ("Ca[OH", 2, "'[' is not closed"),
        ("H2O)", 3, "')' closes nothing"),
        ("Ca(OH]2", 5, "']' stands where ')' is expected"),
        ("Ca()2", 3, "the brackets are empty"),
        ("Xx2", 0, "no element has the symbol 'Xx'"),
        ("NaXx", 2, "no element has the symbol 'Xx'"),
        ("Hx", 0, "no element has the symbol 'Hx'"),
        ("J", 0, "no element has the symbol 'J'"),
        ("НCl", 0, "no element has the symbol 'Н'"),  # a Cyrillic letter
        ("h2o", 0, CAPITAL.format("h")),
        ("NaCl2x", 5, CAPITAL.format("x")),
        ("ethanol", 0, "the electron is written e-; the symbol of an element starts with a capital"),
        ("e+", 0, "the electron is written e-; the symbol of an element starts with a capital"),
        ("2H2O", 0, "a formula does not start with a number; a coefficient belongs to an equation"),
        ("(s)", 0, "the formula ends too early"),
        ("^2-", 0, "an element's symbol is expected, not '^'"),
        ("H1", 1, COUNT),
        ("H0", 1, COUNT),
        ("H02", 1, COUNT),
        ("H12345", 1, "a count is at most 9999"),
        ("H2 O", 2, "a space does not belong in a formula"),
        ("H2O(aq", 4, CAPITAL.format("a")),
        ("NaCl(x)", 5, CAPITAL.format("x")),
        ("H2O!", 3, "'!' does not belong here"),
        ("CH3-CH3", 4, BEHIND),
        ("Na+Cl", 3, BEHIND),
        ("SO4^-2", 5, BEHIND),
        ("SO4^2", 3, "a charge is written with the figure first and the sign behind it: ^2- or ^+"),
        ("Na^1+", 3, COUNT),
        ("Fe3+", 2, "the charge can be misread; write Fe^3+ or Fe3^+"),
        ("O2-", 1, "the charge can be misread; write O^2- or O2^-"),
        ("I3-(aq)", 1, "the charge can be misread; write I^3- or I3^-"),
        ("SO42-", 2, "the charge can be misread; write SO4^2- or SO42^-"),
        ("Hg22+", 2, "the charge can be misread; write Hg2^2+ or Hg22^+"),
        ("C5H11+", 3, "the charge can be misread; write C5H11^+"),
        ("C4H10+", 3, "the charge can be misread; write C4H10^+"),
        ("[Fe(CN)6]3-", 9, "the charge can be misread; write [Fe(CN)6]^3- or [Fe(CN)6]3^-"),
        ("CuSO4.", 6, "the formula ends too early"),
        ("CuSO4.5", 7, "the formula ends too early"),
        ("CuSO4.½H2O", 6, "an element's symbol is expected, not '½'"),
        ("CaSO4.0.5H2O", 6, COUNT),
        (
            "CaSO4.2.5H2O",
            7,
            "a whole multiple stands behind the dot; write the whole formula in whole numbers",
        ),
        ("CuSO4.5H2O^+", 10, "a formula with a dot carries no charge"),
        ("SO₄²⁻x", 5, BEHIND),
    ],
)
def test_refuses(text: str, position: int, reason: str) -> None:
    message = f"formula {text!r}, character {position + 1}: {reason}"
    with pytest.raises(FormulaError, match=f"^{re.escape(message)}$") as raised:
        read_formula(text)
    assert raised.value.position == position


def test_refuses_a_text_without_end() -> None:
    with pytest.raises(FormulaError, match="a formula has at most 200 characters"):
        read_formula("(" * 201)


def test_count_of_an_element() -> None:
    formula = read_formula("CuSO4.5H2O")
    assert (formula.count("O"), formula.count("Cl")) == (9, 0)
    assert dict(formula.composition) == {"Cu": 1, "S": 1, "O": 9, "H": 10}


@given(TREES)
def test_counts_nested_brackets(tree: Tree) -> None:
    text = spelled(tree)
    if len(text) <= 200:
        assert dict(read_formula(text).counts) == counted(tree)
        assert read_formula(text).text == text


@given(TREES, st.integers(1, 9), st.sampled_from("+-"))
def test_any_charge_reads_back(tree: Tree, size: int, sign: str) -> None:
    text = f"{spelled(tree)}^{size if size > 1 else ''}{sign}"
    if len(text) <= 200:
        formula = read_formula(text)
        assert formula.charge == int(f"{sign}{size}")
        assert read_formula(formula.text) == formula


@given(st.text("HONaClCuS()[]0123456789.^+-· ²⁻aqs", max_size=12))
def test_whatever_is_typed_is_read_or_refused_at_a_position(text: str) -> None:
    position = refused_at(text)
    if position is None:
        formula = read_formula(text)
        assert read_formula(formula.with_state) == formula
    else:
        assert 0 <= position <= len(text)


def refused_at(text: str) -> int | None:
    """The position of the error, or None where the text is read."""
    try:
        read_formula(text)
    except FormulaError as error:
        return error.position
    return None


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("H2O", "text:H sub:2 text:O"),
        ("CuSO4.5H2O", "text:CuSO sub:4 text:·5H sub:2 text:O"),
        ("SO4^2-", "text:SO sub:4 sup:2−"),
        ("NO3-", "text:NO sub:3 sup:−"),
        ("Na+", "text:Na sup:+"),
        ("O2^-", "text:O sub:2 sup:−"),
        ("[Ag(NH3)2]+", "text:[Ag(NH sub:3 text:) sub:2 text:] sup:+"),
        ("e-", "text:e sup:−"),
        ("H2O(l)", "text:H sub:2 text:O(l)"),
        ("Fe³⁺(aq)", "text:Fe sup:3+ text:(aq)"),
        ("K2SO4.Al2(SO4)3.24H2O", None),
    ],
)
def test_pieces_for_printing(text: str, pieces: str | None) -> None:
    made = formula_pieces(text)
    if pieces is not None:
        assert " ".join(f"{kind}:{characters}" for kind, characters in made) == pieces
    flat = "".join(("^" if kind == "sup" else "") + characters for kind, characters in made)
    assert read_formula(flat) == read_formula(text)


def test_pieces_of_no_formula() -> None:
    with pytest.raises(FormulaError):
        formula_pieces("Xx")
