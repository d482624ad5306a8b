"""Cells built of parts whose meaning is known, against what a careful person takes from them.

Written apart from the program's reader. `python tests/support/person.py` tells all disagreements at once.
"""

from collections import Counter
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given, settings

from problemgen.grade.judging.judge import judge_student
from problemgen.model.verdict import PartResult
from tests.support.contract import labelled, read_back
from tests.support.person import COMPOSED, SEEDED, compared, rows
from tests.support.person_cells import Cell, Take, asks, reads
from tests.support.person_parts import cells
from tests.support.person_table import FAMILIES
from tests.support.shipped import variant_of

_ALL = list(rows())

_FIXED = 400
"""Cells of the table at least: enough that no family is a handful of cells alone."""

_TOLD = 40
"""Lines of a failure: the script tells the rest."""


@pytest.mark.parametrize("family", [*(one.name for one in FAMILIES), COMPOSED])
def test_a_cell_is_read_as_a_person_reads_it(family: str) -> None:
    of_family = [cell for name, cell in _ALL if name == family]
    told = [str(fault) for cell in of_family if (fault := compared(family, cell))]
    assert not told, f"{len(told)} of {len(of_family)} cells:\n" + "\n".join(told[:_TOLD])


@settings(max_examples=500)
@given(cell=cells())
@example(cell=Cell("39.5 mmol, maybe forty", ()))
def test_whatever_parts_are_put_together(cell: Cell) -> None:
    fault = compared(COMPOSED, cell)
    assert fault is None, str(fault)


def test_the_table_has_every_family_and_is_large() -> None:
    counts = Counter(name for name, _ in _ALL)
    assert {one.name for one in FAMILIES} <= set(counts)
    assert sum(counts.values()) - counts[COMPOSED] >= _FIXED
    assert counts[COMPOSED] > SEEDED // 2  # most of those drawn are new


@pytest.mark.parametrize(
    ("cell", "kind"),
    [
        (Cell("39.5 mmol", (Take(Fraction(40), "mmol"),), tolerated="a reason"), "another value"),
        (Cell("39.5 mmol", (Take(Fraction("39.5"), "mol"),), tolerated="a reason"), "another unit"),
        (Cell("39.5", (Take(Fraction("39.5"), "mol"),), tolerated="a reason"), "unit passed over"),
        (Cell("39.5 mmol", (Take(Fraction("39.5"), ""),), tolerated="a reason"), "another unit"),
        (Cell("39.5 mmol", (), tolerated="a reason", doubt_told=True), "guessed"),
        (Cell("nothing", (Take(Fraction(40), "mmol"),)), "unread"),
    ],
)
def test_every_kind_of_disagreement_is_told(cell: Cell, kind: str) -> None:
    """A family that may be left unread is compared all the same where it is read."""
    fault = compared("made up", cell)
    assert fault is not None
    assert fault.kind == kind


def test_what_is_tolerated_and_what_agrees_is_not_told() -> None:
    agreeing = [*reads("39.5 mmol", "39.5 mmol", "0.0395 mol"), *reads("39.5", "39.5"), *asks("nothing")]
    tolerated = Cell("nothing", (Take(Fraction(40), "mmol"),), tolerated="a reason")
    assert [compared("made up", cell) for cell in (*agreeing, tolerated)] == [None] * (len(agreeing) + 1)


_WEIGHED = variant_of("amounts/three-weighings")

_LETTER, _RIGHT = next(
    (letter, Decimal(answer.printed)) for letter, part, answer in labelled(_WEIGHED) if part.asked.unit == "mmol"
)


def _marked(cell: str) -> PartResult:
    head, (key,) = read_back(_WEIGHED.template, [_WEIGHED])
    result = judge_student(head, key, {f"1{_LETTER}": cell})
    return next(part for part in result.parts if part.label == f"1{_LETTER}")


@pytest.mark.parametrize(
    "cell", ["{mmol} mmol", "n = {mmol} mmol", "n/mol = {mol}", "n in mmol: {mmol}", "n (mol): {mol}"]
)
def test_the_right_amount_in_any_of_these_cells_has_its_points(cell: str) -> None:
    part = _marked(cell.format(mmol=_RIGHT, mol=_RIGHT.scaleb(-3)))
    assert (part.verdict, part.points) == ("right", part.of), part.sentence


@pytest.mark.parametrize(
    "cell",
    [
        *("n/mol = {mmol} mmol", "{mmol} mmol squared", "{mmol} mmol, maybe forty", "{mmol} mmol per mL"),
        *("half of n = {mmol} mmol", "{mmol} mmol (negative)", "not n: {mmol} mmol", "{mmol} mmol thousand"),
    ],
)
def test_a_cell_that_a_person_would_ask_about_earns_nothing_by_itself(cell: str) -> None:
    part = _marked(cell.format(mmol=_RIGHT))
    assert part.verdict in ("unread", "unit"), part.sentence
    assert part.points == 0


@pytest.mark.parametrize("cell", ["n/mol = {mmol}", "m (kg): {mmol}", "{mmol} = n/mol"])
def test_a_number_under_another_unit_is_not_the_right_amount(cell: str) -> None:
    assert _marked(cell.format(mmol=_RIGHT)).verdict != "right"
