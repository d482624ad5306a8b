"""What a paper shows of its decimal mark: by numbers, wherever they stand, and by nothing else."""

from __future__ import annotations

import pytest

from problemgen.grade.judging.decimal_marks import divided_by_commas
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_key


@pytest.mark.parametrize(
    ("cells", "divided"),
    [
        ({"1a": "3,66 g"}, True),
        ({"1.magnesium.mass": "0,612 g"}, True),
        ({"1a": "3,660 g"}, False),
        ({"1a": "3,66 g", "1.magnesium.mass": "0.612 g"}, False),
        ({"1h": "1,5-dibromobenzene"}, False),
        ({"9z": "3,66 g"}, False),
        ({}, False),
    ],
)
def test_decimal_commas_of_a_paper(cells: dict[str, str], *, divided: bool) -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    assert divided_by_commas(head, key, cells) is divided
