from __future__ import annotations

import numpy as np
import pytest

from problemgen.make.ratios import may_come_to, uncertain_ratios
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


@pytest.mark.parametrize(
    ("hydrogen", "share", "counts", "may"),
    [
        (2.00, 0.001, (1, 2), True),
        (2.00, 0.001, (1, 3), False),
        (1.52, 0.001, (2, 3), True),
        (1.52, 0.001, (1, 2), True),  # who does not multiply rounds to 2
        (2.60, 0.001, (2, 5), False),  # twice 2.60 is 5.2
        (2.60, 0.030, (2, 5), True),  # but may be seen as 5.1
        (2.60, 0.001, (1, 3), True),
    ],
)
def test_where_a_mistaken_ratio_may_come_out_right(
    hydrogen: float, share: float, counts: tuple[int, int], may: bool
) -> None:
    whole = [np.array([float(count)]) for count in counts]
    found = may_come_to(whole, ("whole", 1, CARBON, HYDROGEN), amounts(1.0, hydrogen, share))
    assert found.tolist() == [may]


@pytest.mark.parametrize(("share", "count", "may"), [(0.01, 2, True), (0.01, 3, False), (0.03, 3, True)])
def test_where_a_mistaken_number_may_be_rounded_to_the_right_one(share: float, count: int, may: bool) -> None:
    expression = ("round", ("div", HYDROGEN, CARBON))
    assert may_come_to([np.array([float(count)])], expression, amounts(1.0, 2.45, share)).tolist() == [may]


@pytest.mark.parametrize(("hydrogen", "doubtful"), [(2.10, False), (2.49, True), (2.51, True), (2.90, False)])
def test_a_number_that_is_rounded_is_beyond_doubt_or_not(hydrogen: float, doubtful: bool) -> None:
    step = Step(Quantity("multiple", "compound"), "molecular-formula", "k", ("round", HYDROGEN), "whole")
    plan = Plan((), (), (step,), (), ())
    assert uncertain_ratios(plan, amounts(1.0, hydrogen, 0.01)).tolist() == [doubtful]
