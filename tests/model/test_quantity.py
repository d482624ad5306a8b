from __future__ import annotations

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.model.quantity import KINDS, Kind, Quantity, from_reagent, reagent_of


@pytest.mark.parametrize(
    ("quantity", "name"),
    [
        (Quantity("mass", "acetone"), "mass(acetone)"),
        (Quantity("mass", "acetone", "actual"), "mass(acetone,actual)"),
        (Quantity("extent", ""), "extent()"),
        (Quantity("volume", "", "mixed"), "volume(,mixed)"),
        (Quantity("amount", "ester", "from:acid"), "amount(ester,from:acid)"),
    ],
)
def test_a_quantity_has_a_name_of_its_own(quantity: Quantity, name: str) -> None:
    assert quantity.id == name


@pytest.mark.parametrize(("role", "reagent"), [("from:acid", "acid"), ("", ""), ("actual", ""), ("from:", "")])
def test_the_reagent_of_a_role(role: str, reagent: str) -> None:
    assert reagent_of(role) == reagent


def test_a_role_is_made_from_a_reagent_and_back() -> None:
    assert reagent_of(from_reagent("2-naphthol")) == "2-naphthol"


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_a_kind_has_a_symbol_words_and_a_unit_of_the_list(kind: Kind) -> None:
    assert kind.symbol
    assert kind.words
    assert kind.dimension == read_unit(kind.unit).dimension


def test_kinds_stand_under_their_own_names() -> None:
    assert {name: kind.name for name, kind in KINDS.items()} == {name: name for name in KINDS}


@pytest.mark.parametrize(
    ("name", "symbol"),
    # IUPAC Green Book, 3rd edition, 2007, sections 2.10 and 2.11
    [
        ("mass", "m"),
        ("volume", "V"),
        ("amount", "n"),
        ("molar_mass", "M"),
        ("density", "ρ"),
        ("concentration", "c"),
        ("mass_concentration", "γ"),
        ("mass_fraction", "w"),
        ("extent", "ξ"),
        ("pressure", "p"),
        ("temperature", "T"),
        ("gas_constant", "R"),
    ],
)
def test_symbols_are_those_of_the_green_book(name: str, symbol: str) -> None:
    assert KINDS[name].symbol == symbol


def test_quantities_are_ordered_by_kind_substance_and_role() -> None:
    shuffled = [Quantity("mass", "b"), Quantity("amount", "b"), Quantity("mass", "a", "left"), Quantity("mass", "a")]
    assert [quantity.id for quantity in sorted(shuffled)] == ["amount(b)", "mass(a)", "mass(a,left)", "mass(b)"]
