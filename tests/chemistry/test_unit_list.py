"""The closed list itself: no spelling twice, all names known to the reader."""

from __future__ import annotations

from collections import Counter

from problemgen.chemistry.unit_list import LENGTHS, SCALES, SPELLINGS, UNITS


def test_no_spelling_stands_for_two_units() -> None:
    written = [spelling for unit in UNITS for spelling in (unit.symbol, *unit.spellings.split()) if spelling]
    assert [spelling for spelling, times in Counter(written).items() if times > 1] == []
    assert len(written) == len(SPELLINGS)


def test_names_are_unique() -> None:
    assert len({unit.name for unit in UNITS}) == len(UNITS)


def test_the_lengths_of_tubes_and_plates_are_read_alone_and_all_cubes() -> None:
    assert SPELLINGS.keys() & LENGTHS == {"dm", "cm"}
    assert {f"{length}3" for length in LENGTHS} <= SPELLINGS.keys()


def test_scales_are_units_of_the_list() -> None:
    assert SCALES.keys() <= {unit.name for unit in UNITS}
