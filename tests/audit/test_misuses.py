"""How steps are worked wrongly, written apart from what the marking knows of mistakes."""

from __future__ import annotations

import ast
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

import problemgen.audit as audit_package
from problemgen.audit.calculators import Digits
from problemgen.audit.misuses import Misuse, Worksheet, misuses_of
from problemgen.audit.worker import key_in
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Constant
from problemgen.model.quantity import Quantity, quantity_named

Q = quantity_named
SHEET = {
    "volume(acid,solution)": "mL",
    "concentration(acid)": "mol/L",
    "concentration(base)": "mol/L",
    "temperature(gas)": "°C",
    "mass(salt)": "g",
    "mass(salt,theoretical)": "g",
}
NUMBERS = {
    "volume(acid,solution)": Decimal("0.0250"),
    "concentration(acid)": Decimal("0.125"),
    "concentration(base)": Decimal("0.2"),
    "temperature(gas)": Decimal("298.15"),
    "mass(salt)": Decimal(3),
    "mass(salt,theoretical)": Decimal(4),
    "amount(acid)": Decimal("0.003"),
    "amount(base)": Decimal("0.005"),
    "extent(acid)": Decimal("0.003"),
    "extent(base)": Decimal("0.0025"),
    "atomic_weight(O)": Decimal("15.999"),
    "atomic_weight(S)": Decimal("32.06"),
}


def misused(result: str, expression: Any, unit: str = "") -> dict[str, float]:
    """The numbers to which a step is worked wrongly, by what is done."""
    quantity = Q(result)
    step = Step(quantity, "law", "x", expression, "figures")
    asked = (Asked(quantity, unit),) if unit else ()
    given = tuple(Q(name) for name in SHEET)
    before = tuple(Step(Q(name), "law", "x", ("num", "1"), "figures") for name in NUMBERS if _is_worked(name))
    weights = tuple(_weight(name) for name in NUMBERS if name.startswith("atomic"))
    worksheet = Worksheet.of(Plan(given, weights, (*before, step), asked, ()), SHEET)
    return {_told(one): float(key_in(one.expression, NUMBERS, Digits())) for one in misuses_of(worksheet, step)}


def _told(misuse: Misuse) -> str:
    return misuse.id.removesuffix(f" at {misuse.at}")


def _is_worked(name: str) -> bool:
    return name not in SHEET and not name.startswith("atomic")


def _weight(name: str) -> Constant:
    value = Fraction(NUMBERS[name])
    return Constant(Q(name), value, value - Fraction(1, 1000), value)


def test_a_product_in_engine_units_and_as_printed() -> None:
    """0.125 mol/L × 25.0 mL: with the numbers as printed the student takes the result for mmol."""
    found = misused("amount(salt)", ("mul", "concentration(acid)", "volume(acid,solution)"))
    volume = "volume(acid,solution)"
    assert found == pytest.approx(
        {
            "factor inverted (concentration(acid))": 0.0250 / 0.125,
            "factor left out (concentration(acid))": 0.0250,
            "factor twice (concentration(acid))": 0.125 * 0.125 * 0.0250,
            f"factor inverted ({volume})": 0.125 / 0.0250,
            f"factor inverted ({volume}, as printed)": 0.125 / 25.0 * 1e-3,
            f"factor left out ({volume})": 0.125,
            f"factor left out ({volume}, as printed)": 0.125e-3,
            f"factor twice ({volume})": 0.125 * 0.0250**2,
            f"factor twice ({volume}, as printed)": 0.125 * 25.0**2 * 1e-3,
            "another at hand (concentration(base) for concentration(acid))": 0.2 * 0.0250,
        }
    )


def test_a_quotient_upside_down_and_a_given_value_copied() -> None:
    found = misused("percent_yield(salt)", ("div", "mass(salt)", "mass(salt,theoretical)"), "%")
    assert found["upside down"] == pytest.approx(4 / 3)
    assert found["complement"] == pytest.approx(0.25)
    assert found["given value copied (mass(salt))"] == pytest.approx(0.03)  # "3.00" in a blank with % behind it


def test_a_ratio_of_coefficients() -> None:
    found = misused("extent(salt)", ("div", ("mul", ("num", "3"), "amount(acid)"), ("num", "2")))
    assert found == pytest.approx(
        {
            "ratio left out": 0.003,
            "ratio inverted": 0.002,
            "another at hand (amount(base) for amount(acid))": 0.0075,
        }
    )


def test_a_percentage_has_no_ratio_to_be_left_out() -> None:
    assert not any("ratio" in one for one in misused("extent(salt)", ("mul", ("num", "100"), "amount(acid)")))


def test_a_sum() -> None:
    found = misused("mass(water)", ("add", "mass(salt)", ("neg", ("mul", ("num", "2"), "mass(salt,theoretical)"))))
    assert found == pytest.approx(
        {
            "term left out (mass(salt))": -8,
            "term alone (mass(salt))": 3,
            "sign of a term (mass(salt))": -11,
            "term alone (mass(salt,theoretical))": 8,
            "sign of a term (mass(salt,theoretical))": 11,
            "ratio left out (mass(salt,theoretical))": -1,
        }
    )


def test_the_least_of_some() -> None:
    found = misused("extent()", ("min", "extent(acid)", "extent(base)"))
    assert found == pytest.approx(
        {
            "another than the least (extent(acid))": 0.003,
            "another than the least (extent(base))": 0.0025,
            "sum for the least": 0.0055,
            "average for the least": 0.00275,
        }
    )


def test_a_molar_mass() -> None:
    """SO3: 32.06 + 3 × 15.999 = 80.057, written 80.057 with five figures."""
    found = misused("molar_mass(salt)", ("add", "atomic_weight(S)", ("mul", ("num", "3"), "atomic_weight(O)")))
    assert found == pytest.approx(
        {
            "element left out (atomic_weight(S))": 47.997,
            "element left out (atomic_weight(O))": 32.06,
            "subscript left out (atomic_weight(O))": 48.059,
            "digits exchanged": 80.507,
        }
    )


def test_a_share_of_a_sum() -> None:
    found = misused("mass_fraction(salt)", ("div", "mass(salt)", ("add", "amount(acid)", "amount(base)")))
    assert found["term left out (amount(acid))"] == pytest.approx(3 / 0.005)
    assert found["sign of a term (amount(acid))"] == pytest.approx(3 / 0.002)
    assert found["factor left out (sum)"] == pytest.approx(3)
    assert found["factor inverted (sum)"] == pytest.approx(3 * 0.008)
    assert found["upside down"] == pytest.approx(0.008 / 3)


def test_a_number_that_is_not_converted() -> None:
    found = misused("pressure(gas)", ("mul", "amount(acid)", "temperature(gas)"))
    assert found["not converted (temperature(gas))"] == pytest.approx(0.003 * 25)


def test_no_two_ways_come_to_the_same_number() -> None:
    """b − a leaves a alone where it leaves b out: one of the two is enough."""
    found = misused("mass(water)", ("add", "mass(salt)", "mass(salt,theoretical)"))
    assert "term left out (mass(salt))" in found
    assert "term alone (mass(salt,theoretical))" not in found
    assert len(set(found.values())) == len(found)


def test_the_audit_knows_nothing_of_the_misuses_that_the_marking_knows() -> None:
    """What it measures has to be apart from what it is measured with."""
    apart = ("mistakes", "missteps", "routes", "tries", "paths", "tellings")
    for path in Path(audit_package.__file__).parent.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
        assert not imported & {f"problemgen.plan.{name}" for name in apart}, path.name
        graded = {name for name in imported if name.startswith("problemgen.grade")}
        assert graded <= {"problemgen.grade.judging.judge"}, path.name
        read = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
        assert path.name in ("records.py", "report.py", "sample.py") or "mistakes" not in read, path.name


def test_quantities_before_a_step_are_at_hand() -> None:
    steps = tuple(Step(Quantity("mass", one), "law", "x", ("num", "1"), "figures") for one in "abc")
    worksheet = Worksheet(Plan((Q("mass(given)"),), (), steps, (), ()), {}, ())
    assert [one.id for one in worksheet.at_hand(steps[2])] == ["mass(given)", "mass(a)", "mass(b)"]
