"""Templates of two products: what `parallel`, `ratio` and `internal_standard` are read as, and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template, is_second, second_of

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

ALKENES = """reaction = "1-methylcyclohexene"
parallel = "3-methylcyclohexene"
[given.2-methylcyclohexanol]
mass = { from = 4.000, to = 5.000, unit = "g", read = "balance-0.001" }
[given.1-methylcyclohexene]
ratio = { from = 92, to = 96, step = 1 }
obtained = { role = "both", percent_yield = [60, 80], unit = "g", read = "balance-0.001" }
[[part]]
quantity = "share"
of = "3-methylcyclohexene"
[[part]]
quantity = "percent_yield"
role = "both"
"""
STANDARD = """reaction = "benzalacetone"
parallel = "dibenzalacetone"
internal_standard = "tetradecane"
[given.benzaldehyde]
mass = { from = 1.000, to = 1.100, unit = "g", read = "balance-0.001" }
[given.acetone]
in_excess = true
[given.benzalacetone]
peak_area = { from = 3600, to = 3750, unit = "1", step = 10 }
response_factor = { value = 0.640, unit = "1" }
[given.tetradecane]
mass = { from = 0.3850, to = 0.3950, unit = "g", read = "balance-0.0001" }
peak_area = { from = 1900, to = 1950, unit = "1", step = 10 }
[[part]]
quantity = "percent_yield"
"""
MINE, OTHERS = (Quantity("relative_amount", f"{n}-methylcyclohexene") for n in (1, 3))


def test_a_parallel_reaction_is_an_equation_that_competes(template: Load) -> None:
    loaded = template(ALKENES)
    assert [(one.id, one.beside, one.parallel) for one in loaded.scene.further] == [
        ("3-methylcyclohexene", False, True)
    ]
    assert [one.product for one in loaded.scene.pair] == ["1-methylcyclohexene", "3-methylcyclohexene"]
    assert loaded.scene.species["3-methylcyclohexene"].coefficient == 0


def test_a_ratio_is_two_numbers_of_which_the_second_follows(template: Load) -> None:
    loaded = template(ALKENES)
    draws = {draw.quantity: draw for draw in loaded.draws}
    assert (draws[MINE].first, draws[MINE].count) == (92, 5)
    assert [one.text for one in draws[OTHERS].choices] == ["8", "7", "6", "5", "4"]
    assert draws[OTHERS].follows == MINE
    assert second_of(loaded, MINE) == draws[OTHERS]
    assert second_of(loaded, OTHERS) is None
    assert (is_second(loaded, MINE), is_second(loaded, OTHERS)) == (False, True)


def test_a_ratio_may_have_decimals_and_another_whole(template: Load) -> None:
    decimals = template(
        ALKENES.replace("from = 92, to = 96, step = 1", "from = 0.92, to = 0.96, step = 0.01, whole = 1")
    )
    (second,) = (draw for draw in decimals.draws if draw.quantity == OTHERS)
    assert [one.text for one in second.choices] == ["0.08", "0.07", "0.06", "0.05", "0.04"]


def test_the_mass_of_both_products_is_that_of_the_first_in_a_role(template: Load) -> None:
    (obtained,) = template(ALKENES).obtained
    assert obtained.quantity == Quantity("mass", "1-methylcyclohexene", Role.BOTH)


def test_an_internal_standard_stands_outside_the_equations(template: Load) -> None:
    loaded = template(STANDARD)
    assert (loaded.scene.standard, loaded.scene.species["tetradecane"].coefficient) == ("tetradecane", 0)
    assert "internal-standard" in {step.law for step in loaded.plan.steps}


@pytest.mark.parametrize(
    ("text", "old", "new", "expected"),
    [
        (ALKENES, "from = 92, to = 96", "from = 96, to = 92", "ratio: found from 96 to 92, of 100; expected a range"),
        (ALKENES, "to = 96", "to = 100", "ratio: found from 92 to 100, of 100; expected a range that rises, above 0"),
        (ALKENES, "from = 92", "from = 92.5", "ratio: found from 92.5 to 96, of 100; expected numbers that are"),
        (
            ALKENES,
            'parallel = "3-methylcyclohexene"\n',
            "",
            "expected a ratio of one of two products: none, without `parallel`",
        ),
        (
            ALKENES,
            'parallel = "3-methylcyclohexene"',
            'parallel = "1-methylcyclohexene"',
            "parallel: found '1-methylcyclohexene'; expected a reaction with another product than the first",
        ),
        (
            ALKENES,
            'parallel = "3-methylcyclohexene"',
            'parallel = "2-methylbut-2-ene"',
            "parallel: found '2-methylbut-2-ene'; expected a reaction that takes the measured reagents of the first",
        ),
        (
            STANDARD,
            "in_excess = true",
            'mass = { from = 1.000, to = 2.000, unit = "g", read = "balance-0.001" }',
            "in the same ratio. Say `in_excess = true` of a reagent that only one of them takes",
        ),
        (
            STANDARD,
            'internal_standard = "tetradecane"',
            'internal_standard = "benzaldehyde"',
            "internal_standard: found 'benzaldehyde'; expected a substance of `given` that takes no part",
        ),
        (
            STANDARD,
            'internal_standard = "tetradecane"\n',
            "",
            "given.tetradecane: found a substance outside the equation",
        ),
        (
            ALKENES,
            'reaction = "1-methylcyclohexene"\n',
            "",
            "parallel: found no main reaction; expected `reaction`, the first equation",
        ),
    ],
)
def test_what_does_not_make_two_products_is_refused(
    faults_of: FaultsOf, text: str, old: str, new: str, expected: str
) -> None:
    found = faults_of(text.replace(old, new))
    assert any(expected in fault for fault in found), found
