"""All ways to measure a reagent out, and by which way a template has it."""

from __future__ import annotations

from problemgen.load.sets.courses import Course
from problemgen.pipeline.adding.measures import measures_of, way_of, ways_of
from tests.support.every_row import for_every

BANKS = Course().banks()
AMOUNTS = (5.0, 10.0)


def ways(name: str) -> list[str]:
    return [one.way for one in ways_of(name, BANKS, AMOUNTS)]


def test_a_solid_is_weighed_or_dissolved() -> None:
    assert ways("salicylic-acid") == ["weighed", "solution", "excess"]


def test_a_liquid_with_a_density_is_poured_first() -> None:
    assert ways("acetic-anhydride") == ["poured", "weighed", "solution", "excess"]


def test_every_bottle_is_a_way_and_so_is_every_hydrate() -> None:
    bottles = {f"bottle:{one.id}" for one in BANKS.bottles.values() if one.of == "hydrogen-chloride"}
    assert bottles <= set(ways("hydrogen-chloride"))
    assert "weighed_as:copper-ii-sulfate-pentahydrate" in ways("copper-ii-sulfate")


def test_nobody_makes_a_solution_of_water_in_water() -> None:
    assert "solution" not in ways("water")


@for_every(sorted(BANKS.reactions))
def test_what_is_proposed_is_among_the_ways(name: str) -> None:
    for one in measures_of(BANKS.reactions[name], BANKS, 10.0, (0.75, 1.35)):
        found = ways_of(one.name, BANKS, AMOUNTS)
        assert one.way in [other.way for other in found]
        assert all(other.way == way_of(other.values) for other in found)
