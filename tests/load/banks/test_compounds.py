"""What the tables of compounds tell, and what they do not."""

from __future__ import annotations

import pytest

from problemgen.load.banks.compounds import Compound, look_up


@pytest.mark.parametrize(
    ("text", "cas"),
    [
        ("2-methylfuran", "534-22-5"),
        ("2-MethylFuran", "534-22-5"),
        ("534-22-5", "534-22-5"),
        ("Cc1ccco1", "534-22-5"),
        ("CCC(=O)O", "79-09-4"),
        ("nickel(II) nitrate hexahydrate", "13478-00-7"),
        ("iron(II) chloride", "7758-94-3"),
        ("iron(III) chloride", "7705-08-0"),
        ("iron(VI) chloride", None),  # no such salt, although one without the number is in the tables
        ("a compound of nobody", None),
        ("0000-00-0", None),
        ("FC(F)(F)C(F)(F)C(Cl)(Br)I", None),
        ("", None),
    ],
)
def test_a_name_a_number_or_a_structure_is_looked_up(text: str, cas: str | None) -> None:
    found = look_up(text)
    assert (found.cas if found is not None else None) == cas


@pytest.mark.parametrize(
    ("melting", "boiling", "state"),
    [
        (53.0, 202.0, "solid"),
        (-21.0, 141.5, "liquid"),
        (-112.0, 20.2, "gas"),
        (None, -85.0, "gas"),
        (80.0, None, "solid"),
        (-20.0, None, None),  # it may boil below 25 °C
        (None, 141.5, None),  # it may melt above
        (110.0, 80.0, None),  # they contradict each other
        (None, None, None),
    ],
)
def test_the_state_follows_from_the_points(melting: float | None, boiling: float | None, state: str | None) -> None:
    assert Compound((), "", "", "", melting, boiling, None).state == state


def test_only_a_liquid_has_a_density_and_nothing_is_estimated() -> None:
    acid, salt, furan = look_up("propanoic acid"), look_up("lithium chloride"), look_up("2-methylfuran")
    assert acid is not None
    assert salt is not None
    assert furan is not None
    assert acid.density is not None
    assert (acid.density.text, acid.density.celsius) == ("0.993", 20)
    assert acid.density.table == "Perry's Handbook, DIPPR equation 105"
    assert salt.density is None
    assert (furan.state, furan.density) == ("liquid", None)


def test_names_that_no_label_bears_are_left_out() -> None:
    found = look_up("ethyl bromide")
    assert found is not None
    assert found.names == ("bromoethane",)
