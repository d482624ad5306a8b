"""Templates that come with the program, and groups of simulated students at work on them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.audit.students import Group, admitted_groups
from tests.support.shipped import shipped

Class = Callable[..., Group]


@pytest.fixture(scope="session")
def simulated() -> Class:
    """The first group of students with admitted variants of a shipped template."""

    def group(name: str, students: int = 60, words: str = "three glass beads") -> Group:
        return next(iter(admitted_groups(shipped(name), students, words)))

    return group
