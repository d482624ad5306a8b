"""What is looked up, against the banks, which were typed from memory, and handbook values."""

from __future__ import annotations

import pytest

from problemgen.chemistry.structure import structure_composition
from problemgen.load.banks.compounds import look_up
from tests.support.every_row import for_every
from tests.support.small_set import banks

LIQUIDS = [one for one in banks().substances.values() if one.state == "liquid" and one.cas and one.density]

STATES_DIFFER = {
    "2-methylhexan-2-ol",  # the tables have a melting point of 62.5 °C, which is wrong: it is poured
    "cyclohexanol",  # poured warm: banks/README.md
}


@pytest.mark.source("from-memory: formulas, states and densities of the bank's liquids")
@for_every([one.id for one in LIQUIDS])
def test_a_liquid_of_the_bank_is_found_by_its_number(name: str) -> None:
    one = banks().substances[name]
    found = look_up(str(one.cas))
    if found is None:  # the tables lack it
        assert name in {"xylene"}
        return
    assert dict(structure_composition(found.smiles)) == dict(one.formula.composition)
    assert found.state in ("liquid", None) or name in STATES_DIFFER
    if found.density is not None and one.density is not None:
        assert float(found.density.text) == pytest.approx(float(one.density.value.value), rel=0.015)


@pytest.mark.source("crc-handbook: densities at 20 °C, from memory")
@pytest.mark.parametrize(
    ("name", "density"),
    [
        ("propan-1-ol", 0.8035),
        ("propanoic acid", 0.993),
        ("bromoethane", 1.4604),
        ("piperidine", 0.8606),
        ("anisole", 0.995),
        ("hexan-1-ol", 0.8136),
        ("pentan-3-one", 0.8138),
        ("propionic anhydride", 1.011),
        ("dibutyl ether", 0.7684),
        ("styrene", 0.906),
    ],
)
def test_densities_of_liquids_that_are_not_in_the_bank(name: str, density: float) -> None:
    found = look_up(name)
    assert found is not None
    assert found.density is not None
    assert float(found.density.text) == pytest.approx(density, rel=0.01)


@pytest.mark.source("crc-handbook: melting and boiling points in °C, from memory")
@pytest.mark.parametrize(
    ("name", "melting", "boiling"),
    [
        ("maleic anhydride", 52.8, 202),
        ("propan-1-ol", -126, 97.2),
        ("anisole", -37.5, 153.7),
        ("4-methoxybenzaldehyde", 0, 248),
        ("benzophenone", 48.5, 305.4),
    ],
)
def test_points_from_which_states_follow(name: str, melting: float, boiling: float) -> None:
    found = look_up(name)
    assert found is not None
    assert found.melting == pytest.approx(melting, abs=8)
    assert found.boiling == pytest.approx(boiling, abs=8)
