from __future__ import annotations

import numpy as np
import pytest

from problemgen.make.ratios import uncertain_ratios
from problemgen.model.plan import Plan, Step
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import Window

CARBON, HYDROGEN = "amount(C)", "amount(H)"
PLAN = Plan(
    given=(),
    constants=(),
    steps=tuple(
        Step(Quantity("subscript", element), "empirical-formula", "s", ("whole", index, CARBON, HYDROGEN), "whole")
        for index, element in enumerate(("C", "H"))
    ),
    asked=(),
    sources=(),
)


def amounts(carbon: float, hydrogen: float, share: float) -> dict[str, Window]:
    """Amounts that a worker may hold by a share too low or too high."""
    return {
        name: Window(np.array([n]), np.array([n * (1 - share)]), np.array([n * (1 + share)]))
        for name, n in ((CARBON, carbon), (HYDROGEN, hydrogen))
    }


@pytest.mark.parametrize(
    ("carbon", "hydrogen", "share", "uncertain"),
    [
        (1.00, 2.00, 0.001, False),
        (1.00, 2.05, 0.001, False),
        (1.00, 2.09, 0.001, False),
        (1.00, 2.09, 0.005, True),  # 2.11 may be seen, which is not near 2
        (1.00, 1.50, 0.001, False),  # 3 to 2 beyond doubt
        (1.00, 1.11, 0.010, True),  # near 1 for one worker, not for another
        (1.00, 1.34, 0.001, False),  # 4 to 3
        (1.00, 1.43, 0.001, False),  # 10 to 7
        (1.00, 1.44, 0.001, True),  # 7 × 1.44 is 10.08, and may be taken for more
        (1.00, 12.0, 0.002, False),
        (1.00, 12.0, 0.010, True),  # the twelfth hydrogen atom needs better amounts
        (2.00, 1.00, 0.001, False),
    ],
)
def test_whole_numbers_are_beyond_doubt_or_not(carbon: float, hydrogen: float, share: float, uncertain: bool) -> None:
    assert uncertain_ratios(PLAN, amounts(carbon, hydrogen, share)).tolist() == [uncertain]


def test_each_candidate_is_judged_by_itself() -> None:
    sure, unsure = amounts(1.00, 2.00, 0.001), amounts(1.00, 2.09, 0.005)
    both = {
        name: Window(
            *(np.concatenate([getattr(w[name], bound) for w in (sure, unsure)]) for bound in ("value", "low", "high"))
        )
        for name in sure
    }
    assert uncertain_ratios(PLAN, both).tolist() == [False, True]


def test_a_plan_without_ratios_leaves_no_doubt() -> None:
    assert not uncertain_ratios(Plan((), (), (), (), ()), {}).any()
