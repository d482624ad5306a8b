"""Each shipped template in turn, with a class's variants: made once, and shared by all tests of this folder."""

from __future__ import annotations

import pytest

from tests.support.contract import Made, made_from
from tests.support.shipped import NAMES, shipped

FEW = (
    "equations/propane-burns",  # nothing drawn, an equation to balance
    "formulas/percent",  # an unknown compound, a formula asked
    "gases/magnesium-over-water",  # a value that follows another, a temperature
    "limiting-reagent/silver-chromate",  # a choice, values from a list
    "mixtures/table-salt-with-potassium",  # two unknowns
    "preparations/triphenylmethanol",  # two sessions, two reactions
    "solutions/dilution",  # no reaction
    "titrations/borax",  # an aliquot, a burette
)
"""Eight templates of different kinds, for a quick run."""


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """All templates, or in a quick run the few and those that are named."""
    if "made" in metafunc.fixturenames:
        config = metafunc.config
        names = NAMES if not config.getoption("few_templates") else sorted({*FEW, *config.getoption("template")})
        metafunc.parametrize("made", names, indirect=True, scope="session")


@pytest.fixture(scope="session")
def made(request: pytest.FixtureRequest) -> Made:
    """One template after another: the tests of one follow each other, whichever file they stand in."""
    return made_from(shipped(request.param))
