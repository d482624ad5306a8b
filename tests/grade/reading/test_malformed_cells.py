"""Malformed cells of every kind: no exception, and a reason for whatever is not read.

A run of 1,000,000 is in tests/benchmarks/fuzz.py.
"""

from __future__ import annotations

from collections import Counter

import pytest

from tests.support.malformed_cells import READERS, malformed_cells

CELLS = list(malformed_cells(20261125, 3_000))


def test_the_same_seed_makes_the_same_cells() -> None:
    assert list(malformed_cells(20261125, 200)) == CELLS[:200]
    assert list(malformed_cells(20261126, 200)) != CELLS[:200]


@pytest.mark.parametrize("asked", READERS)
def test_malformed_cells_end_in_a_status_with_a_reason(asked: str) -> None:
    statuses = Counter(READERS[asked](cell, turn) for turn, cell in enumerate(CELLS))
    assert statuses.total() == len(CELLS)
    # Most are refused, and some slips are forgiven.
    assert statuses["unreadable"] > len(CELLS) // 2
    assert len(statuses) > 1
