"""The fields of a sheet are the columns of its responses, whatever its layout; each says what is asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from problemgen.model.problem_set import AnswerPlace, Printing, Student
from problemgen.render.key.answers import response_columns
from problemgen.render.sheet.fields import fields_of
from problemgen.render.sheet.sheet import sheet_document
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.small_set import made


@pytest.mark.parametrize("place", ["beside", "box"])
def test_a_field_for_every_column_in_order(place: AnswerPlace) -> None:
    problem_set = replace(own_set(ALCOHOL, ALCOHOL_OWN), printing=Printing(answers=place))
    document = sheet_document(problem_set, Student("s1", "Ada", "A"), "Ada", "ABCD-2345", made(problem_set, "s1"))
    fields = fields_of(document)
    assert {field.name for field in fields} == set(response_columns(problem_set))
    assert fields[0].said == "Mass of magnesium, g, 0.001\u00a0g (balance reading to 0.001 g)"
    options = [field.options for field in fields if field.options]
    assert [[letter for letter, _ in one] for one in options] == ([["A", "B", "C"]] if place == "beside" else [])
