from __future__ import annotations

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.model.blocks import Chemical, Line, Prose
from problemgen.model.problem import Scene, Species

NITROGEN, HYDROGEN, AMMONIA = (
    Species("N2", "nitrogen", None, -1),
    Species("H2", "hydrogen", None, -3),
    Species("NH3", "ammonia", None, 2),
)
WATER = Species("H2O", "water")


@pytest.mark.parametrize(
    ("species", "nu", "is_product"), [(NITROGEN, 1, False), (HYDROGEN, 3, False), (AMMONIA, 2, True), (WATER, 1, False)]
)
def test_the_stoichiometric_number_has_no_sign(species: Species, nu: int, is_product: bool) -> None:
    assert species.nu == nu
    assert species.is_product is is_product


def test_a_scene_tells_its_sides_in_the_order_of_the_equation() -> None:
    species = {one.id: one for one in (NITROGEN, HYDROGEN, AMMONIA, WATER)}
    scene = Scene(species, frozenset(), {}, sources=("H2", "N2"))
    assert scene.reagents == (NITROGEN, HYDROGEN)
    assert scene.products == (AMMONIA,)
    assert scene.competing == (HYDROGEN, NITROGEN)


@pytest.mark.parametrize(
    ("name", "formula", "line"),
    [
        ("silver nitrate", "AgNO3", (Prose("silver nitrate ("), Chemical("AgNO3"), Prose(")"))),
        ("zeolite", "", (Prose("zeolite"),)),
        ("SO4^2-", "SO4^2-", (Chemical("SO4^2-"),)),
    ],
)
def test_a_species_is_told_by_name_and_formula(name: str, formula: str, line: Line) -> None:
    assert Species("id", name, read_formula(formula) if formula else None).line == line
