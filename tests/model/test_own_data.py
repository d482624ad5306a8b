"""Own data: names of columns, and what was read."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnKey, OwnReading, OwnValue, data_of, own_column, with_own_columns
from problemgen.model.quantity import Quantity

VALUE = OwnValue("zinc.mass", Quantity("mass", "zinc"), "g", Fraction(1), Fraction(2))
KEY = OwnKey("3.zinc.mass", "mass of zinc", "", VALUE)


def test_a_column_is_the_problems_number_and_the_name() -> None:
    assert own_column("p3", "zinc.mass") == "3.zinc.mass"


@pytest.mark.parametrize(
    ("parts", "own", "columns"),
    [
        (("1a", "1b", "2a"), {}, ("1a", "1b", "2a")),
        (("1a", "1b", "2a"), {"p1": ["1.x"], "p2": ["2.y", "2.z"]}, ("1.x", "1a", "1b", "2.y", "2.z", "2a")),
        (("1a", "10a", "10b"), {"p10": ["10.x"]}, ("1a", "10.x", "10a", "10b")),
        (("1z", "1aa"), {"p1": ["1.x"]}, ("1.x", "1z", "1aa")),
    ],
)
def test_own_columns_stand_before_the_parts_of_their_problem(
    parts: tuple[str, ...], own: dict[str, list[str]], columns: tuple[str, ...]
) -> None:
    assert with_own_columns(parts, own) == columns


def test_what_was_read_is_told_by_quantity() -> None:
    datum = Datum(read_written("1.20"), "g")
    assert data_of([OwnReading(KEY, "1.20", datum), OwnReading(KEY, "", None)]) == {"mass(zinc)": datum}
    assert OwnReading(KEY, "–", None).is_blank
    assert not OwnReading(KEY, "?", None, "No number is found.").is_blank
    assert not OwnReading(KEY, "1.20", datum).is_blank
