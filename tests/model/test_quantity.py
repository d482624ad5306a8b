from __future__ import annotations

import re

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.model.quantity import KINDS, TEMPLATE_ROLES, Kind, Quantity, Role, read_quantity

NAMES = [
    (Quantity("mass", "acetone"), "mass(acetone)"),
    (Quantity("mass", "acetone", Role.ACTUAL), "mass(acetone,actual)"),
    (Quantity("extent", ""), "extent()"),
    (Quantity("volume", "", Role.MIXED), "volume(,mixed)"),
    (Quantity("mass", "salt", Role.INITIAL_SOLUTION), "mass(salt,initial solution)"),
    (Quantity("amount", "ester", Role.FROM, source="2-naphthol"), "amount(ester,from:2-naphthol)"),
    (Quantity("concentration", "salt", Role.DILUTED, stage=2), "concentration(salt,step_two)"),
    (Quantity("mass", "acid", Role.UNEXTRACTED, stage=1), "mass(acid,after_one)"),
    (Quantity("mass", "acid", Role.EXTRACTED, stage=4), "mass(acid,by_four)"),
    (Quantity("volume", "acid", Role.EQUAL_PORTION, stage=3), "volume(acid,three_portions)"),
    (Quantity("fraction_left", "acid", Role.UNEXTRACTED_BY_EACH, stage=2), "fraction_left(acid,each_of_two)"),
]


@pytest.mark.parametrize(("quantity", "name"), NAMES)
def test_a_quantity_has_a_name_of_its_own(quantity: Quantity, name: str) -> None:
    assert quantity.id == name


@pytest.mark.parametrize("quantity", [quantity for quantity, _ in NAMES])
def test_a_quantity_is_read_back_from_its_written_role(quantity: Quantity) -> None:
    assert read_quantity(quantity.kind, quantity.of, quantity.written_role) == quantity


@pytest.mark.parametrize("role", ["burnt", "from:", "step_seven", "step_", "diluted", "from"])
def test_no_other_role_is_read(role: str) -> None:
    with pytest.raises(ValueError, match=r"no role|FROM with the source ''"):
        read_quantity("mass", "acid", role)


@pytest.mark.parametrize(
    ("role", "source", "stage", "found"),
    [
        (Role.FROM, "", 0, "mass of acid: FROM with the source ''"),
        (Role.LEFT, "base", 0, "mass of acid: LEFT with the source 'base'"),
        (Role.DILUTED, "", 0, "mass of acid: DILUTED at stage 0"),
        (Role.DILUTED, "", 7, "mass of acid: DILUTED at stage 7"),
        (Role.LEFT, "", 1, "mass of acid: LEFT at stage 1"),
    ],
)
def test_a_source_and_a_stage_fit_their_role(role: Role, source: str, stage: int, found: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(found)}$"):
        Quantity("mass", "acid", role, source, stage)


def test_the_same_of_another_kind_keeps_role_source_and_stage() -> None:
    amount = Quantity("amount", "ester", Role.FROM, source="acid")
    assert amount.as_kind("mass") == Quantity("mass", "ester", Role.FROM, source="acid")


def test_roles_of_the_engine_are_not_for_templates() -> None:
    engines = set(Role) - set(TEMPLATE_ROLES.values())
    assert {Role.PLAIN, Role.FROM, Role.INITIAL_SOLUTION, Role.EMPIRICAL, Role.EQUAL_PORTION} <= engines


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
    shuffled = [Quantity("mass", "b"), Quantity("amount", "b"), Quantity("mass", "a", Role.LEFT), Quantity("mass", "a")]
    assert [quantity.id for quantity in sorted(shuffled)] == ["amount(b)", "mass(a)", "mass(a,left)", "mass(b)"]
