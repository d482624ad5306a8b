"""Each shipped template in turn, with a class's variants: made once, and shared by all tests of this folder."""

from __future__ import annotations

import pytest

from tests.support.contract import Made, made_from
from tests.support.shipped import NAMES, shipped


@pytest.fixture(scope="session", params=NAMES)
def made(request: pytest.FixtureRequest) -> Made:
    """One template after another: the tests of one follow each other, whichever file they stand in."""
    return made_from(shipped(request.param))
