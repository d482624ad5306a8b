from __future__ import annotations

import pytest

from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.quantity import Quantity

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
    ("form", "choice", "numeric"),
    [("number", False, True), ("formula", False, True), ("species", True, False), ("equation", False, False)],
)
def test_the_form_of_an_answer(form: str, choice: bool, numeric: bool) -> None:
    asked = Asked(Quantity("extent", ""), "mol", form)
    assert asked.choice is choice
    assert asked.numeric is numeric
