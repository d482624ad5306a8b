from __future__ import annotations

import pytest

from problemgen.audit.equations import audited_equation
from tests.support.shipped import NAMES, shipped

EQUATIONS = [name for name in NAMES if name.startswith("equations/")]


@pytest.mark.parametrize("name", EQUATIONS)
def test_a_balanced_equation_is_accepted_and_no_other(name: str) -> None:
    audit = audited_equation(shipped(name))
    assert audit.holds
    assert (audit.students, audit.refused, audit.rewarded, audit.pairs_rewarded) == (3, 0, 0, 0)
    assert audit.mistakes >= 3
    assert audit.undone == ()
