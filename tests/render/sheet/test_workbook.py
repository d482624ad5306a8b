"""The rows of a workbook: what is given as it is written, a row for each column of the responses, no example values."""

from __future__ import annotations

from problemgen.render.key.answers import response_columns
from problemgen.render.sheet.workbook import workbook_rows
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.shipped import set_of
from tests.support.small_set import made


def test_a_row_for_every_blank_and_for_every_given_number() -> None:
    problem_set = set_of(ALCOHOL)
    (variant,) = made(problem_set, "s1")
    rows = list(workbook_rows([variant], [1, 2]))
    assert [row.field.name for row in rows if row.field] == list(response_columns(problem_set))
    assert sorted(row.number for row in rows if row.number) == sorted(
        one.written.text for one in variant.given.values()
    )
    assert "Mass of magnesium" in [row.words for row in rows]


def test_values_of_the_students_own_are_blanks_and_not_told() -> None:
    problem_set = own_set(ALCOHOL, ALCOHOL_OWN)
    (variant,) = made(problem_set, "s1")
    rows = list(workbook_rows([variant], [1, 2]))
    assert {row.field.name for row in rows if row.field} == set(response_columns(problem_set))
    assert sorted(row.number for row in rows if row.number) == sorted(
        one.written.text for one in variant.printed.values()
    )
    mine = {row.field.name: (row.unit, row.about) for row in rows if row.field and "." in row.field.name}
    assert mine["1.magnesium.mass"] == ("g", "0.001\u00a0g (balance reading to 0.001 g)")
