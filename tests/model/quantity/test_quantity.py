from __future__ import annotations

import re

import pytest

from problemgen.model.quantity import Quantity, Role, quantity_named, read_quantity

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


@pytest.mark.parametrize(("quantity", "name"), NAMES)
def test_a_quantity_is_read_back_from_its_name(quantity: Quantity, name: str) -> None:
    assert quantity_named(name) == quantity


@pytest.mark.parametrize("name", ["mass", "mass(acid", "Mass(acid)", "mass(acid,)", "(acid)", "mass acid", "", None, 5])
def test_no_other_text_is_a_name(name: object) -> None:
    with pytest.raises(ValueError, match=r"^a quantity by its name, mass\(acetone\) or mass\(acetone,actual\)$"):
        quantity_named(name)


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


def test_quantities_are_ordered_by_kind_substance_and_role() -> None:
    shuffled = [Quantity("mass", "b"), Quantity("amount", "b"), Quantity("mass", "a", Role.LEFT), Quantity("mass", "a")]
    assert [quantity.id for quantity in sorted(shuffled)] == ["amount(b)", "mass(a)", "mass(a,left)", "mass(b)"]


@pytest.mark.parametrize(
    ("quantity", "pattern", "words"),
    [
        (Quantity("mass", "acid", Role.LEFT), "{kind} of {name} {phrase}", "mass of acid left over"),
        (Quantity("amount", "acid", Role.THEORETICAL), "{kind} of {name} {phrase}", "amount of acid in theory"),
        (Quantity("mass", "acid", Role.DILUTED, stage=1), "{phrase}; the {nth}", "after one dilution; the first"),
        (Quantity("mass", "acid", Role.EXTRACTED, stage=3), "{phrase}; {n}", "extracted by three portions; three"),
    ],
)
def test_words_are_filled_with_what_a_quantity_is(quantity: Quantity, pattern: str, words: str) -> None:
    assert quantity.said(pattern, "acid") == words
