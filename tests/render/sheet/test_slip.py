"""The slip: every blank of the sheets once, with what is asked and its unit, and nothing that the sheets do not say."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from problemgen.model.blocks import Chemical, Document, Heading, NewSheet, Part, Prose, Strong
from problemgen.model.page_code import SLIP
from problemgen.model.problem_set import ProblemSet
from problemgen.render.sheet.sheet import sheet_document
from problemgen.render.sheet.slip import slip_document
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.shipped import set_of
from tests.support.small_set import STUDENTS, made


def plain(line: Iterable[object]) -> str:
    words = (one.formula if isinstance(one, Chemical) else one.text for one in line if isinstance(one, _WORDS))
    return "".join(words)


_WORDS = (Chemical, Prose, Strong)


def slip_of(problem_set: ProblemSet, session: int | None = None) -> Document:
    return slip_document(problem_set, STUDENTS[0], "Ada", "ABCD-EFGH", made(problem_set, "s1"), 1, session, "K7QX")


def blanks(document: Document) -> list[Part]:
    return [block for block in document.blocks if isinstance(block, Part)]


@pytest.mark.parametrize("name", [ALCOHOL, "preparations/aspirin", "equations/propane-burns", "formulas/percent"])
def test_every_part_has_a_blank_with_its_unit(name: str) -> None:
    problem_set = set_of(name)
    sheet = sheet_document(problem_set, STUDENTS[0], "Ada", "ABCD-EFGH", made(problem_set, "s1"))
    told = [(one.label, one.unit, one.wide) for one in blanks(sheet)]
    assert sorted((one.label, one.unit, one.wide) for one in blanks(slip_of(problem_set))) == sorted(told)
    assert all(one.blank and not one.choices and one.work_lines == 0 for one in blanks(slip_of(problem_set)))


def test_own_values_have_blanks_before_the_parts() -> None:
    mine = blanks(slip_of(own_set(ALCOHOL, ALCOHOL_OWN)))[: len(ALCOHOL_OWN)]
    assert [(plain(one.prompt), one.unit) for one in mine] == [
        ("Mass of magnesium", "g"),
        ("Volume of bromobenzene", "mL"),
        ("Volume of the solution of methyl benzoate", "mL"),
        ("Amount concentration of methyl benzoate", "mol/L"),
        ("Mass of triphenylmethanol obtained", "g"),
    ]


def test_a_session_has_its_own_blanks_alone() -> None:
    problem_set = own_set(ALCOHOL, ALCOHOL_OWN)
    first, second = ({one.id for one in blanks(slip_of(problem_set, session))} for session in (1, 2))
    assert first
    assert second
    assert not first & second
    assert first | second == {one.id for one in blanks(slip_of(problem_set))}


def test_a_slip_says_whose_it_is_and_that_it_is_one() -> None:
    slip = slip_of(set_of(ALCOHOL))
    assert (slip.student, slip.code, slip.build, slip.compact) == ("Ada", "ABCD-EFGH", "K7QX", True)
    assert [block.session for block in slip.blocks if isinstance(block, NewSheet)] == [SLIP]
    assert len([block for block in slip.blocks if isinstance(block, Heading)]) == 1
