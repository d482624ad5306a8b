from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from problemgen.model.truths import ChoiceTruth
from problemgen.plan.arithmetic import Window
from problemgen.plan.forms.form import SpreadRow
from problemgen.plan.forms.species import SPECIES, undecided
from tests.support.shipped import shipped, variant_of

FLUORESCEIN = "yield/fluorescein"
RESORCINOL, ANHYDRIDE = NAMES = ("resorcinol", "phthalic-anhydride")


def extents(*bounds: tuple[str, str, str]) -> dict[str, Window]:
    return {
        f"extent({name})": Window(*(Fraction(one) for one in bound), 3)
        for name, bound in zip(NAMES, bounds, strict=True)
    }


@pytest.mark.parametrize(
    ("bounds", "also"),
    [
        ((("1.00", "0.99", "1.01"), ("1.20", "1.19", "1.21")), ()),
        ((("1.00", "0.99", "1.01"), ("1.015", "1.005", "1.025")), (ANHYDRIDE,)),
        ((("1.02", "1.01", "1.03"), ("1.01", "1.00", "1.02")), (RESORCINOL,)),
        ((("1.00", "1.00", "1.00"), ("1.00", "1.00", "1.00")), (ANHYDRIDE,)),
        ((("1.00", "0.99", "1.01"), ("1.03", "1.011", "1.04")), ()),
    ],
)
def test_reagents_whose_windows_overlap_are_undecided(
    bounds: tuple[tuple[str, str, str], ...], also: tuple[str, ...]
) -> None:
    assert undecided(shipped(FLUORESCEIN).plan, extents(*bounds)) == also


def truth(choice: str, *also: str) -> ChoiceTruth:
    return ChoiceTruth(choice, also)


def test_several_accepted_reagents_are_noted() -> None:
    scene = shipped(FLUORESCEIN).scene
    (told,) = SPECIES.notes(scene, truth(RESORCINOL, ANHYDRIDE))
    assert told == (
        "These data do not decide which reagent limits: "
        f"{scene.species[RESORCINOL].name} or {scene.species[ANHYDRIDE].name} is accepted."
    )
    assert not [*SPECIES.notes(scene, truth(RESORCINOL))]


def values(overall: object, first: object, second: object) -> dict[str, object]:
    return {"extent()": overall, f"extent({RESORCINOL})": first, f"extent({ANHYDRIDE})": second}


def test_a_worker_names_the_reagent_that_was_gone_on_with() -> None:
    template = shipped(FLUORESCEIN)
    written = values(Fraction(3), Fraction(2), Fraction(3))
    told = SPECIES.handed_in(template.scene, template.plan, template.plan.asked[0], written, str)
    assert told == template.scene.species[ANHYDRIDE].name


def test_students_in_columns_name_each_their_own() -> None:
    plan = shipped(FLUORESCEIN).plan
    right = values(np.array([2.0, 3.0]), np.array([2.0, 5.0]), np.array([4.0, 3.0]))
    wrong = values(np.array([2.0, 5.0]), np.array([2.0, 5.0]), np.array([4.0, 3.0]))
    assert SPECIES.names_the_same(plan, right, wrong).tolist() == [True, False]


@pytest.mark.parametrize(
    ("overall", "accepted", "shows"),
    [
        ("2", (RESORCINOL,), False),
        ("3", (RESORCINOL,), True),
        ("3", (RESORCINOL, ANHYDRIDE), False),
    ],
)
def test_a_mistake_shows_in_a_reagent_that_is_not_accepted(
    overall: str, accepted: tuple[str, ...], shows: bool
) -> None:
    plan = shipped(FLUORESCEIN).plan
    numbers = values(Fraction(overall), Fraction(2), Fraction(3))
    wrong = {name: Window(Fraction(str(one)), Fraction(0), Fraction(9)) for name, one in numbers.items()}
    assert SPECIES.shows(plan, plan.asked[0], truth(*accepted), {}, wrong) is shows


def test_a_class_is_told_by_how_often_each_limits() -> None:
    name = "limiting-reagent/silver-chromate"
    template, variant = shipped(name), variant_of(name)
    (answer,) = [answer for answer in variant.answers if isinstance(answer, ChoiceTruth)]
    spread = SPECIES.spread(template.scene, template.parts[0].asked)
    for _ in range(3):
        spread.add(answer)
    assert spread.row() == SpreadRow(f"{template.scene.species[answer.choice].name} 3")
