"""The table of elements against RDKit's."""

from __future__ import annotations

import pytest
from rdkit import Chem

from problemgen.chemistry.elements import ELEMENTS


@pytest.mark.source("rdkit: symbols in order of atomic number")
def test_symbols_in_order_of_atomic_number_agree_with_rdkit() -> None:
    table = Chem.GetPeriodicTable()
    assert list(ELEMENTS) == [table.GetElementSymbol(number) for number in range(1, 119)]


@pytest.mark.source("rdkit: names of the elements")
def test_names_agree_with_rdkit_but_for_the_american_spellings() -> None:
    table = Chem.GetPeriodicTable()
    american = {"aluminium": "aluminum", "caesium": "cesium"}
    for number, name in enumerate(ELEMENTS.values(), start=1):
        assert table.GetElementName(number).lower() in {name, american.get(name)}


@pytest.mark.source("iupac-periodic-table-2022: names of the elements")
@pytest.mark.parametrize(
    ("symbol", "name"), [("Al", "aluminium"), ("Cs", "caesium"), ("S", "sulfur"), ("Og", "oganesson")]
)
def test_iupac_spelling(symbol: str, name: str) -> None:
    assert ELEMENTS[symbol] == name
