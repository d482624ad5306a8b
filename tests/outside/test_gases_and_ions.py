"""An ion that several salts share, and the gases that a reaction leaves, against figures of the trade."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.exact.rounding import round_to_figures
from problemgen.model.truths import NumberTruth
from problemgen.pipeline.solve import solve_problems


def value_of(given: list[tuple[str, str, str, str]], quantity: str, of: str, unit: str, equation: str = "") -> Fraction:
    """The one asked value of a problem, in its unit; given lines are quantity, of, value, unit."""
    lines = [dict(zip(("quantity", "of", "value", "unit"), line, strict=True)) for line in given]
    problem = {"given": lines, "asked": [{"quantity": quantity, "of": of, "unit": unit}]}
    (solution,) = solve_problems([{**problem, **({"equation": equation} if equation else {})}])
    assert solution.error is None
    truth = solution.answers[0].truth
    assert isinstance(truth, NumberTruth)
    return truth.value


@pytest.mark.source(
    "kester-1967: recipe for a salinity of 35, per kilogram of seawater; dickson-2007 5: chloride in seawater of "
    "salinity 35"
)
def test_the_chloride_of_artificial_seawater_is_that_of_the_sea() -> None:
    """Both are per kilogram: here a kilogram of the water takes the place of the litre."""
    weighed = [("mass", "NaCl", "23.926", "g"), ("mass", "KCl", "0.677", "g")]
    dissolved = [("amount", "MgCl2", "0.05327", "mol"), ("amount", "CaCl2", "0.01033", "mol")]
    given = [*weighed, *dissolved, ("amount", "SrCl2", "0.00009", "mol"), ("volume", "solution", "1.0000", "L")]
    assert round_to_figures(value_of(given, "concentration", "Cl-", "mol/L"), 4) == Fraction("0.5459")


CRACKED = "2 NH3 -> N2 + 3 H2"


@pytest.mark.source(
    "common-practice: one pound of ammonia makes about 45 cubic feet of dissociated ammonia (1 atm, 68 °F), 75 % of it "
    "hydrogen, from memory"
)
def test_dissociated_ammonia() -> None:
    given = [("mass", "NH3", "1.000", "lb"), ("pressure", "mixture", "1.000", "atm")]
    given.append(("temperature", "mixture", "68.0", "°F"))
    assert round_to_figures(value_of(given, "volume", "mixture", "ft3", CRACKED), 2) == 45
    assert value_of(given, "mole_fraction", "H2", "1", CRACKED) == Fraction(3, 4)
