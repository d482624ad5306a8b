from __future__ import annotations

import pytest

from problemgen.audit.equations import audited_equation
from tests.support.shipped import NAMES, shipped

EQUATIONS = [name for name in NAMES if name.startswith("equations/")]


@pytest.mark.parametrize("name", EQUATIONS)
def test_a_balanced_equation_is_accepted_and_no_other(name: str) -> None:
    audit = audited_equation(shipped(name))
    assert audit.holds
    assert (audit.students, audit.all_refused, audit.all_rewarded) == (3, 0, 0)
    (sort,) = audit.marked.sorts
    assert sort.made >= 5
    assert sort.rightly + sort.unnamed == sort.made
    assert sum(audit.marked.unnamed.values()) == sort.unnamed
