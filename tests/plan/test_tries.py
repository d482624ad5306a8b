"""What may be worked in the place of a step, and what is told of it."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from problemgen.model.plan import Step
from problemgen.plan.paths import Path, ways_along
from problemgen.plan.tellings import telling_of
from problemgen.plan.tries import RANK, Try, moves_point, tries_of, unit_on_sheet, units_on_sheet
from tests.support.contract import made_from
from tests.support.shipped import NAMES, shipped


def tries_in(name: str) -> Mapping[Step, tuple[Try, ...]]:
    made = made_from(shipped(name))
    return tries_of(made.template.plan, units_on_sheet(made.template.plan, made.variants[0].given))


def at(name: str, quantity: str) -> dict[str, Try]:
    return {
        one.mistake.id: one
        for step, tries in tries_in(name).items()
        if step.quantity.id == quantity
        for one in reversed(tries)
    }


GAS, SALT = "gases/hydrogen-from-aluminium", "limiting-reagent/silver-chromate"


@pytest.mark.parametrize(
    ("template", "quantity", "how"),
    [
        (GAS, "volume(hydrogen,theoretical)", "molar-volume"),
        (GAS, "volume(hydrogen,theoretical)", "gas-constant"),
        (GAS, "amount(aluminium)", "upside-down"),
        (GAS, "amount(aluminium,left)", "term-alone"),
        (SALT, "amount(silver-nitrate)", "inverted"),
        (SALT, "amount(silver-nitrate)", "together"),
        (SALT, "extent()", "average"),
        (SALT, "molar_mass(silver-chromate)", "subscript"),
        (SALT, "molar_mass(silver-chromate)", "digits"),
        (SALT, "mass(silver-chromate,theoretical)", "other"),
    ],
)
def test_these_are_tried(template: str, quantity: str, how: str) -> None:
    assert how in {one.how for one in at(template, quantity).values()}


def test_what_is_listed_goes_before_what_is_derived() -> None:
    for tries in tries_in("limiting-reagent/silver-chromate").values():
        listed = [one.rank == RANK["listed"] for one in tries]
        assert listed == sorted(listed, reverse=True)


def test_no_step_is_tried_as_it_is() -> None:
    for name in NAMES[::7]:
        for step, tries in tries_in(name).items():
            assert step.expression not in [one.expression for one in tries]
            assert len({one.expression for one in tries}) == len(tries)


def test_litres_for_millilitres_only_move_the_point() -> None:
    step, tries = next(
        (step, tries)
        for step, tries in tries_in("limiting-reagent/silver-chromate").items()
        if step.quantity.id == "amount(silver-nitrate)"
    )
    moving = [one.mistake.id for one in tries if moves_point(step, one)]
    assert moving == ["millilitres-as-litres:amount(silver-nitrate)"]


def test_every_try_of_every_template_has_words() -> None:
    for name in NAMES:
        template = shipped(name)
        for step, tries in tries_of(template.plan, ()).items():
            for one in tries:
                telling = telling_of(template.scene, step, one)
                assert telling.title
                assert telling.sentence.endswith((".", "?"))
                assert "{" not in telling.sentence


def test_a_path_starts_at_what_was_answered() -> None:
    made = made_from(shipped("limiting-reagent/silver-chromate"))
    plan = made.template.plan
    units = units_on_sheet(plan, made.variants[0].given)
    asked = "mass(silver-chromate,theoretical)"
    all_ways = ways_along(plan, units, Path(asked, frozenset())).alone
    known = frozenset({"extent()", "amount(silver-nitrate)"})
    after = ways_along(plan, units, Path(asked, known))
    steps = {one.step for way in after.alone for one in way.tries}
    assert "amount(silver-nitrate)" in {one.step for way in all_ways for one in way.tries}
    assert not steps & known
    assert all(way.steps[-1][0] == asked for way in after.alone)
    assert all(len({one.step for one in way.tries}) == 2 for way in after.pairs)


def test_the_unit_on_the_sheet_is_the_one_asked_for_or_given_or_the_usual_one() -> None:
    made = made_from(shipped("limiting-reagent/silver-chromate"))
    units = dict(units_on_sheet(made.template.plan, made.variants[0].given))
    quantities = {quantity.id: quantity for quantity in made.template.plan.given}
    volume = quantities["volume(silver-nitrate,solution)"]
    assert unit_on_sheet(volume, units) == "mL"
    assert unit_on_sheet(volume, {}) == "mL"
