"""What a paper knows of a problem: given, right and own values, and what an answer may have been meant as."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.grade.judging.findings import AnsweredNumber
from problemgen.grade.judging.paper import EXTENT, Paper
from problemgen.model.answers import PartKey
from problemgen.model.plan import Mistake
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import EXACT_FIGURES, Window
from tests.support.judged import Keys

ALCOHOL = Quantity("amount", "isopentyl-alcohol")
F = Fraction


@pytest.fixture
def ester(keys: Keys) -> Paper:
    head, key = keys("")
    problem = key.problems[1]
    return Paper(head.templates[problem.template], problem, head.policy, head.decimal_mark)


def _part(paper: Paper, label: str) -> PartKey:
    return next(part for part in paper.template.parts if part.label == label)


def test_columns_are_number_and_letter(ester: Paper) -> None:
    assert [ester.label(part) for part in ester.template.parts] == ["2a", "2b", "2c", "2d"]


def test_data_set_the_figures(ester: Paper) -> None:
    assert ester.least_figures == 3
    assert ester.given["volume(isopentyl-alcohol)"].value == F("0.005")


def test_own_values_stand_in_for_the_right_ones(ester: Paper) -> None:
    assert ester.carried_to(_part(ester, "c")) is None
    ester.carry(ALCOHOL, Window(F("0.05"), F("0.0495"), F("0.0505"), 3))
    own = ester.carried_to(_part(ester, "c"))
    assert own is not None
    assert own[EXTENT].value == F("0.05")
    assert ester.carried_to(_part(ester, "a")) is None
    assert ester.carried_to(_part(ester, "b")) is None


def test_a_mistake_that_would_divide_by_nothing_leads_nowhere(ester: Paper) -> None:
    upside_down = Mistake("m", "upside down", "", ((EXTENT, ("div", ("num", "1"), ("num", "0"))),))
    assert ester.mistaken([upside_down], ester.right) is None
    assert ester.mistaken([], ester.right) == ester.right


def test_nothing_follows_from_nothing(ester: Paper) -> None:
    for value in (F(0), F(-1)):
        ester.carry(ALCOHOL, Window(value, value, value, 3))
    ester.carry(ALCOHOL, None)
    assert ester.carried == {}


@pytest.mark.parametrize(
    ("value", "figures", "fits", "gives"),
    [
        ("5.98", EXACT_FIGURES, True, True),
        ("6.3", 2, False, False),
        ("6.1", 2, False, False),
        ("6", 1, True, True),
        ("6.4", 1, False, True),  # a single figure may stand for nearly anything
    ],
)
def test_rounding_is_forgiven_to_a_mistake_and_not_to_an_answer(
    ester: Paper, value: str, figures: int, *, fits: bool, gives: bool
) -> None:
    answer = AnsweredNumber(_part(ester, "c").asked, F(value), figures, 3)
    assert (ester.fits(answer, ester.right), ester.gives(answer, ester.right)) == (fits, gives)


def test_what_is_not_confirmed_lies_behind_the_last_answer(ester: Paper) -> None:
    mass = "mass(isopentyl-acetate,theoretical)"
    assert ester.unconfirmed([mass])[0] == "mass(isopentyl-alcohol)"
    ester.numbers.append(AnsweredNumber(_part(ester, "b").asked, F("0.0459"), EXACT_FIGURES, 3))
    assert ester.unconfirmed([mass]) == (
        "molar_mass(isopentyl-acetate)",
        "extent()",
        "amount(isopentyl-acetate,theoretical)",
        mass,
    )


def test_trials_are_noted_where_somebody_asks(ester: Paper) -> None:
    ester.tried("slip", "a sign", "none", fits=False)
    assert ester.trials is None
    ester.trials = []
    ester.tried("slip", "a sign", "none", fits=False, leads_to=Window(F(2), F(1), F(3), 3))
    (trial,) = ester.trials
    assert trial.leads_to is not None
    assert (trial.what, trial.leads_to.low, trial.leads_to.figures) == ("a sign", 1, 3)
