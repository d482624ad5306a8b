"""Remarks on rows: all are accounted for, few are told in full."""

from __future__ import annotations

from problemgen.load.tables.alike import RowRemarks


def test_few_are_told_one_by_one() -> None:
    remarks = RowRemarks("a.csv, ")
    for line in range(2, 52):
        remarks.add("again", line, f"s{line} again")
    remarks.add("odd", 9, "s9 odd")
    assert remarks.told[0] == "a.csv, line 2: s2 again"
    assert remarks.told[-1] == "a.csv, line 9: s9 odd"
    assert (len(remarks.told), list(remarks.rest())) == (51, [])


def test_of_many_the_rest_is_counted_with_its_lines() -> None:
    remarks = RowRemarks("")
    for line in (*range(2, 20_002), 20_005, 20_007, 20_008):
        remarks.add("handed in again", line, "s1 again")
    assert len(remarks.told) == 50
    assert list(remarks.rest()) == [
        "lines 52-20001, 20005, 20007-20008: 19,953 more remarks like these: handed in again"
    ]


def test_the_runs_of_lines_end_somewhere() -> None:
    remarks = RowRemarks("")
    for line in range(0, 1000, 2):
        remarks.add("odd", line, "odd")
    (rest,) = remarks.rest()
    assert rest.startswith("lines 100, 102, 104, ")
    assert rest.endswith(", 298, …: 450 more remarks like these: odd")
