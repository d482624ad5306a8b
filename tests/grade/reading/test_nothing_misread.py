"""Cells and what a chemist takes them for, and words that no reader may pass over.

The rows of tests/vectors/cells.json are judged by hand, not written by the reader: the unit asked for, the cell, and
number and unit, or null where nobody should say. That a quantity divided by a unit labels a number: IUPAC Green Book,
section 1.1 (from memory); the rest is common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.grade.reading.cell import Reading, read_answer
from problemgen.grade.reading.words import is_known
from problemgen.grade.reading.written_units import written_unit
from tests.support.vectors import read_cells


@pytest.mark.parametrize(("asked", "cell", "said"), read_cells())
def test_a_cell_is_what_a_chemist_takes_it_for(asked: str, cell: str, said: str | None) -> None:
    reading = read_answer(cell, read_unit(asked))
    if said is None:
        assert (reading.status, reading.value_in_unit) == ("unreadable", None)
        assert reading.reason
        return
    number, _, unit = said.partition(" ")
    assert reading.written == read_written(number), reading.reason
    assert (reading.unit.text if reading.unit else "") == unit
    dimension = read_unit(unit or asked).dimension
    expected = "number" if dimension == read_unit(asked).dimension else "wrong_dimension"
    assert reading.status == expected


READABLE = (
    *("39.5", "39.5 mmol", "39,5 mmol.", "39.5 mmol NaOH", "39.5 mmol of the dry product", "39.5 mmol of benzocaine"),
    *("n = 39.5 mmol", "n/mmol = 39.5", "mmol: 39.5", "39.5 (approx)", "39.5 in mmol", "39.5 mmol = n", "39.5 = mmol"),
    *("39.5(1) mmol", "39.5 ± 0.1 mmol", "39.5 mmol ± 0.1 mmol", "39.5 mmol ± 1 %", "39.5 mmol (0.0395 mol)"),
    *("39.5 mmol = 0.0395 mol", "1) 39.5 mmol", "3.95 x 10^1 mmol", "79/2 mmol", "39.5 mol in total", "(39.5 mmol)"),
    *("39.5 mol per L", "39.5 g per mol", "25 °C", "82 %", "82 % by mass", "1.2e23 CO2 molecules", "39.5 mmol left"),
)
ENGLISH = (
    *("squared", "cubed", "thousand", "hundred", "dozen", "half", "double", "twice", "negative", "minus", "plus"),
    *("divided", "times", "each", "maybe", "not", "never", "forty", "two", "below", "above", "at least", "or", "and"),
    *("inverse", "per", "per second", "divided by two", "to the third", "too low", "less", "more", "but", "unless"),
)
LETTERS = st.text("abcdefghijklmnopqrstuvwxyz", min_size=2, max_size=10)


def said(reading: Reading) -> tuple[object, ...]:
    return reading.written, reading.unit, reading.value_in_unit


@pytest.mark.parametrize("cell", READABLE)
@pytest.mark.parametrize("word", ENGLISH)
def test_no_word_that_changes_the_meaning_is_passed_over(cell: str, word: str) -> None:
    for unit in ("mmol", "g", "%"):
        before, after = (read_answer(text, read_unit(unit)) for text in (cell, f"{cell} {word}"))
        assert before.written is not None
        assert said(after) != said(before), after


@given(st.sampled_from(READABLE), LETTERS, st.sampled_from([" {}", " ({})", ", {}", "; {}", " {}.", " {} NaOH", "-{}"]))
@example("39.5 mmol", "blorf", " {}")
def test_no_unknown_word_is_passed_over(cell: str, word: str, put: str) -> None:
    assume(not is_known(word) and written_unit(word) is None)
    before, after = (read_answer(text, read_unit("mmol")) for text in (cell, cell + put.format(word)))
    assert before.written is not None
    assert said(after) != said(before), after


@given(st.sampled_from(READABLE), LETTERS, st.sampled_from(["{} ", "{} of ", "({}) ", "{}/mol = ", "{} (mol): "]))
def test_no_unknown_word_before_a_number_is_passed_over(cell: str, word: str, put: str) -> None:
    assume(not is_known(word) and written_unit(word) is None and len(word) > 2)
    # A letter before a substance is a symbol: "msalt".
    assume(not any(is_known(word[start:]) for start in (1, 2)))
    before, after = (read_answer(text, read_unit("mmol")) for text in (cell, put.format(word) + cell))
    assert before.written is not None
    assert said(after) != said(before), after
