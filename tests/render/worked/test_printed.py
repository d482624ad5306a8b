"""Which unit a result is told in, and with how many figures."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Constant, Scene
from problemgen.model.quantity import Quantity
from problemgen.plan.forms.form import Ending
from problemgen.render.worked.printed import Numbers, Printed

MASS, SMALL, LARGE = (Quantity("amount", name) for name in ("given", "small", "large"))
ASKED = Quantity("amount", "asked")
GAS, VOLUME, SUM = Quantity("gas_constant", ""), Quantity("volume", "gas"), Quantity("amount", "sum")
COUNT = Quantity("count", "whole")


def printed() -> Printed:
    steps = [Step(q, "amount", "n", MASS.id, "figures") for q in (SMALL, LARGE, ASKED, VOLUME, COUNT)]
    total = Step(SUM, "left-over", "left", ("add", LARGE.id, ("neg", SMALL.id)), "figures")
    constant = Constant(GAS, Fraction("8.31446261815324"), Fraction(8), Fraction(9))
    plan = Plan((MASS,), (constant,), (*steps, total), (Asked(ASKED, "mmol"),), ())
    values = {
        MASS.id: Fraction("0.25"), SMALL.id: Fraction("0.0123456"), LARGE.id: Fraction("1.23456"),
        ASKED.id: Fraction("0.0123456"), VOLUME.id: Fraction("12.3456"), GAS.id: constant.value,
        SUM.id: Fraction("1.2222144"), COUNT.id: Fraction(12),
    }  # fmt: skip
    figures = {MASS.id: 3, SMALL.id: 2, LARGE.id: 3, ASKED.id: 4, VOLUME.id: 5, SUM.id: 3}
    numbers = Numbers(values, {MASS.id: ("250", "mmol")}, figures, {"1": Ending(number=("12.35", "mmol"))})
    return Printed(Scene({}, frozenset(), {}), plan, numbers)


@pytest.mark.parametrize(
    ("quantity", "number", "unit"),
    [
        (MASS, "250", "mmol"),  # as given
        (SMALL, "12.35", "mmol"),  # at least four figures; small: in the unit that the parts ask for
        (LARGE, "1.235", "mol"),
        (ASKED, "12.346", "mmol"),  # four figures are supported, the fifth guards them
        (VOLUME, "12.3456", "L"),
        (GAS, "8.31446", "kPa L/(mol K)"),  # one figure more than any result has
        (SUM, "1.222", "mol"),  # stops where its terms stop
        (COUNT, "12", "molecules"),
    ],
)
def test_numbers_and_units(quantity: Quantity, number: str, unit: str) -> None:
    assert (printed().text(quantity), printed().unit(quantity)) == (number, unit)


def test_a_temperature_in_kelvin_has_a_place_more() -> None:
    temperature = Quantity("temperature", "gas")
    numbers = Numbers({temperature.id: Fraction("297.6543")}, {}, {temperature.id: 3}, {})
    plan = Plan((), (), (), (Asked(temperature, "°C"),), ())
    assert Printed(Scene({}, frozenset(), {}), plan, numbers).kelvin_text(temperature) == "297.65"
