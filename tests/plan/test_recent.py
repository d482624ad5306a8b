"""The last results are found by what they are results of; an error is no result."""

from __future__ import annotations

from dataclasses import replace

import pytest

from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.recent import Recent
from tests.support.shipped import shipped

SOURCES = ("silver-nitrate", "potassium-chromate")


def test_what_is_equal_is_made_once_while_it_is_kept() -> None:
    made: list[object] = []
    recent = Recent[int](2)

    def of(*asked: object) -> int:
        return recent.of([*asked], lambda: made.append(asked) or len(made))  # type: ignore[func-returns-value]

    assert [of("a"), of("b"), of("a"), of("b")] == [1, 2, 1, 2]
    assert [of("c"), of("b"), of("a")] == [3, 2, 4]


def test_an_error_is_raised_again() -> None:
    recent = Recent[float](2)
    for _time in range(2):
        with pytest.raises(ZeroDivisionError):
            recent.of("a", lambda: 1 / 0)


def test_a_chain_goes_by_the_order_of_the_species_too() -> None:
    """Two scenes with the same species in another order are equal as mappings, and not the same problem."""
    template = shipped("limiting-reagent/silver-chromate")
    asked = [part.asked for part in template.parts]
    scene = replace(template.scene, sources=(), wanted=frozenset())
    turned = replace(scene, species=dict(reversed(scene.species.items())))
    assert turned == scene
    for one in (scene, turned, scene):
        assert chain(one, asked, constants()).sources == tuple(name for name in one.species if name in SOURCES)
    assert chain(scene, asked, constants()) is chain(scene, asked, constants())
