from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.plan.constants import constants

F = Fraction


@pytest.mark.source("si-brochure-2019: N_A and k, exact; common-practice: the values in use")
@pytest.mark.parametrize(
    ("kind", "value", "low", "high"),
    [
        # R = N_A k in J/(mol K), which is kPa L/(mol K)
        ("gas_constant", "8.31446261815324", "8.31", "8.3187825"),  # 0.0821 L atm/(mol K) × 101.325 kPa/atm
        ("avogadro", "6.02214076e23", "6.02e23", "6.02214076e23"),
    ],
)
def test_a_constant_is_the_exact_one_with_the_values_in_use(kind: str, value: str, low: str, high: str) -> None:
    (found,) = [constant for constant in constants() if constant.quantity.kind == kind]
    assert (found.value, found.low, found.high) == (F(value), F(low), F(high))


def test_no_other_constant_is_known() -> None:
    assert [constant.quantity.id for constant in constants()] == ["gas_constant()", "avogadro()", "density(,dilute)"]
