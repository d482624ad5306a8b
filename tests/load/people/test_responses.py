"""Responses: which row of each student counts, and a remark for everything that is not marked."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook

from problemgen.errors import FaultsError
from problemgen.load.people.responses import Responses
from problemgen.load.tables.columns import ColumnNames

STUDENTS = ("s1", "S2", "s3")
COLUMNS = ("1a", "1b", "2a")


def sheets(attempts: int = 1) -> dict[tuple[str, int], str]:
    """The code on each sheet: "CODE-0011" is that of s1's first attempt."""
    return {
        (student, attempt): f"CODE-00{number}{attempt}"
        for attempt in range(1, attempts + 1)
        for number, student in enumerate(STUDENTS, start=1)
    }


def responses(folder: Path, text: str) -> Responses:
    path = folder / "r.csv"
    path.write_text(text, encoding="utf-8")
    return Responses((path,), sheets(), COLUMNS)


def several(folder: Path, *texts: str) -> Responses:
    """The responses of the files g1.csv, g2.csv, …"""
    paths = [folder / f"g{number}.csv" for number in range(1, len(texts) + 1)]
    for path, text in zip(paths, texts, strict=True):
        path.write_text(text, encoding="utf-8")
    return Responses(paths, sheets(), COLUMNS)


def test_cells_come_by_column_in_the_order_of_the_file(tmp_path: Path) -> None:
    found = responses(tmp_path, "2a,id,1A,1b\nNaCl,s2,3.95,\n,S1, 0.5 g ,x\n")
    assert list(found) == [
        ("S2", 1, {"1a": "3.95", "1b": "", "2a": "NaCl"}),
        ("s1", 1, {"1a": " 0.5 g ", "1b": "x", "2a": ""}),
    ]
    assert found.handed_in == {("S2", 1), ("s1", 1)}
    assert found.remarks == []


def test_short_rows_have_blank_cells(tmp_path: Path) -> None:
    assert list(responses(tmp_path, "id,1a,1b,2a\ns1,1\n")) == [("s1", 1, {"1a": "1", "1b": "", "2a": ""})]


def test_of_several_rows_the_last_counts(tmp_path: Path) -> None:
    found = responses(tmp_path, "id,1a,1b,2a\ns1,1,,\ns3,2,,\nS1,3,,\n s1 ,4,,\n")
    assert [(student, cells["1a"]) for student, _, cells in found] == [("s3", "2"), ("s1", "4")]
    assert found.remarks == [
        "line 4: s1 again; this row counts, that of line 2 does not",
        "line 5: s1 again; this row counts, that of line 4 does not",
    ]


@pytest.mark.parametrize(
    ("text", "remarks"),
    [
        ("id,1a,1b,2a\nx9,1,2,3\n", ["line 2: the id 'x9' is not in the set; the row is not marked"]),
        ("id,1a,1b,2a\n,1,2,3\n", ["line 2: no id; the row is not marked"]),
        ("id,1a,1b,2a\ns1,1,2,3,4\n", ["line 2: s1: cells beyond the last column; they are not marked"]),
        ("id,1a,1b,2a\ns1,1,2,3, \n", []),
        ("id,1b\ns1,1\n", ["line 1: no column for 1a, 2a; these parts count as blank"]),
        ("id,name,section,1a,1b,2a,\ns1,Ada,A,1,2,3,\n", []),
        ("id,1a,1b,2a,note,3a\ns1,1,2,3,x,y\n", ["line 1: the columns '3a' are not marked"]),
        (
            "id,1a,1b,q\nx9,1,2,3\n\ns1,1,2,3,4\n",
            [
                "line 2: the id 'x9' is not in the set; the row is not marked",
                "line 4: s1: cells beyond the last column; they are not marked",
                "line 1: no column for 2a; these parts count as blank",
            ],
        ),
    ],
)
def test_what_is_not_marked_is_told_with_its_line(tmp_path: Path, text: str, remarks: list[str]) -> None:
    assert responses(tmp_path, text).remarks == remarks


@pytest.mark.parametrize(
    ("text", "remarks"),
    [
        ('id,1a,1b,2a\ns1,"1,2,3\ns2,1,2,3\n', ["line 2: s1: a quotation mark is not closed; look at this row"]),
        ("Form,x\nid,1a,1b,2a\ns1,1,2,3\n", ["1 row above the header, which is on line 2: not read"]),
        ("Form\nid,1a,1b,q\ns1,1,2,3\n", ["line 2: no column for 2a; these parts count as blank"]),
    ],
)
def test_what_is_wrong_with_a_row_or_the_file_is_told(tmp_path: Path, text: str, remarks: list[str]) -> None:
    assert responses(tmp_path, text).remarks == remarks


def test_cells_of_a_workbook_that_may_not_be_what_was_meant_are_told_where_they_are_marked(tmp_path: Path) -> None:
    book = Workbook()
    for row in (["when", "id", "1a", "1b", "2a"], [date(2026, 4, 3), "s1", date(2026, 4, 3), 2, "x"]):
        book.worksheets[0].append(row)
    path = tmp_path / "r.xlsx"
    book.save(path)
    found = Responses((path,), sheets(), COLUMNS)
    assert list(found) == [("s1", 1, {"1a": "(date 2026-04-03)", "1b": "2", "2a": "x"})]
    assert found.remarks == ["line 2: s1: 1a: a date: the spreadsheet may have turned what was typed into one"]
    assert found.notes == ["r.xlsx, line 1: the columns 'when' are not marked"]


def test_columns_of_an_export_are_marked_by_our_names(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("Number,Q1,1a,Q2\ns1,3,no,4\n", encoding="utf-8")
    found = Responses((path,), sheets(), COLUMNS, ColumnNames({"number": "id", "q1": "1a", "q2": "2a"}))
    assert list(found) == [("s1", 1, {"1a": "3", "1b": "", "2a": "4"})]
    assert found.remarks == [
        "line 1: no column for 1b; these parts count as blank",
        "line 1: the columns '1a (not mapped)' are not marked",
    ]


def test_every_row_is_either_marked_or_remarked_on(tmp_path: Path) -> None:
    rows = ["s1,1", "zz,2", ",3", "s1,4", "S2,5", "s3 ,6", "s4,7"]
    found = responses(tmp_path, "\n".join(["id,1a", *rows]) + "\n")
    marked = [cells["1a"] for _, _, cells in found]
    lines = {int(remark.split()[1].strip(":")) for remark in found.remarks}
    assert marked == ["4", "5", "6"]
    assert lines == {1, 3, 4, 5, 8}  # the header lacks columns; line 5 tells that line 2 does not count


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "name,1a,1b\nAda,1,2\n",
            (
                "line 1: found the columns 'name', '1a', '1b'; expected a column 'id'. Start from the responses.csv of "
                "the built set."
            ),
        ),
        (
            "id,name\ns1,Ada\n",
            (
                "line 1: found the columns 'id', 'name'; expected columns named as the parts: 1a, 1b, 2a, …. Start "
                "from the responses.csv of the built set."
            ),
        ),
        ("", "found an empty file; expected a table with a header row"),
    ],
)
def test_responses_without_the_needed_columns_are_refused(tmp_path: Path, text: str, expected: str) -> None:
    with pytest.raises(FaultsError) as caught:
        responses(tmp_path, text)
    assert str(caught.value) == f"{tmp_path / 'r.csv'}: {expected}"


def test_all_columns_are_shown_and_of_very_many_the_first(tmp_path: Path) -> None:
    for number, end in ((24, "'c23'; expected"), (30, "'c23', … and 6 more; expected")):
        with pytest.raises(FaultsError) as caught:
            responses(tmp_path, ",".join(f"c{n}" for n in range(number)) + "\n")
        assert end in str(caught.value)


def attempts(folder: Path, text: str, number: int = 3) -> Responses:
    path = folder / "r.csv"
    path.write_text(text, encoding="utf-8")
    return Responses((path,), sheets(number), ("1a",))


@pytest.mark.parametrize(("written", "attempt"), [("", 1), ("1", 1), (" 2 ", 2), ("3", 3), ("03", 3), ("0003", 3)])
def test_an_attempt_is_read(tmp_path: Path, written: str, attempt: int) -> None:
    found = attempts(tmp_path, f"id,attempt,1a\ns1,{written},x\n")
    assert list(found) == [("s1", attempt, {"1a": "x"})]
    assert (found.remarks, found.handed_in) == ([], {("s1", attempt)})


@pytest.mark.parametrize("written", ["0", "4", "-1", "1.5", "two", "1 2", "٢", "99999999999999999999"])
def test_an_attempt_that_there_is_not_is_told(tmp_path: Path, written: str) -> None:
    found = attempts(tmp_path, f"id,attempt,1a\ns1,{written},x\n")
    assert list(found) == []
    expected = f"line 2: s1: the attempt {written!r}, not a number from 1 to 3; the row is not marked"
    assert (found.remarks, found.handed_in) == ([expected], frozenset())


def test_rows_count_by_student_and_attempt(tmp_path: Path) -> None:
    found = attempts(tmp_path, "id,attempt,1a\ns1,1,a\ns1,2,b\nS1,2,c\ns3,1,\ns3,2, \ns3,2,d\nS2,,e\nS2,1,\n")
    assert [(student, attempt, cells["1a"]) for student, attempt, cells in found] == [
        *(("s1", 1, "a"), ("s1", 2, "c"), ("s3", 2, "d"), ("S2", 1, "e")),
    ]
    assert found.handed_in == {("s1", 1), ("s1", 2), ("s3", 2), ("S2", 1)}
    assert found.remarks == ["line 4: s1, attempt 2, again; this row counts, that of line 3 does not"]


def test_without_a_column_for_it_every_row_is_of_the_first_attempt(tmp_path: Path) -> None:
    found = attempts(tmp_path, "id,1a\ns1,x\n")
    assert list(found) == [("s1", 1, {"1a": "x"})]
    assert found.remarks == ["line 1: no column attempt; every row counts as attempt 1"]


def test_where_there_is_one_attempt_the_column_is_none_of_ours(tmp_path: Path) -> None:
    found = attempts(tmp_path, "id,attempt,1a\ns1,2,x\n", 1)
    assert list(found) == [("s1", 1, {"1a": "x"})]
    assert (found.remarks, found.notes) == ([], ["r.csv, line 1: the columns 'attempt' are not marked"])


@pytest.mark.parametrize(
    "rows", [["s1,1,,", "s1,,,"], ["s1,,,", "s1,1,,"], ["s1,,,", "s1,1,,", "s1, ,,"], ["s1,1,,", "s1"]]
)
def test_a_row_without_answers_neither_counts_nor_hides_one_that_does(tmp_path: Path, rows: list[str]) -> None:
    found = responses(tmp_path, "\n".join(["id,1a,1b,2a", *rows]))
    assert list(found) == [("s1", 1, {"1a": "1", "1b": "", "2a": ""})]
    assert found.remarks == []


def test_a_row_without_answers_is_nothing_handed_in(tmp_path: Path) -> None:
    found = responses(tmp_path, "id,name,1a,1b,2a\ns1,Ada,, ,\n")
    assert (list(found), found.handed_in, found.remarks) == ([], frozenset(), [])


def test_a_form_s_title_and_columns_of_no_part_do_no_harm_and_are_told(tmp_path: Path) -> None:
    found = responses(tmp_path, "Week 1,,\n\nid,1a,1b,2a,e-mail\ns1,1,2,3,x\n")
    assert found.remarks == []
    assert found.notes == [
        "r.csv: 1 row above the header, which is on line 3: not read",
        "r.csv, line 3: the columns 'e-mail' are not marked",
    ]


def test_two_sections_are_two_files(tmp_path: Path) -> None:
    found = several(tmp_path, "id,1a,1b,2a\ns1,1,2,3\nS2,,,\n", "id,2a,1b,1a\ns1,,,\ns2,6,5,4\n")
    assert list(found) == [
        ("s1", 1, dict(zip(COLUMNS, "123", strict=True))),
        ("S2", 1, dict(zip(COLUMNS, "456", strict=True))),
    ]
    assert found.remarks == []


def test_who_stands_in_two_files_is_told_with_both_places(tmp_path: Path) -> None:
    found = several(tmp_path, "id,1a,1b,2a\nzz,1,1,1\ns1,1,2,3\n", "id,1a,1b,2a\ns1,7,8,\n")
    assert list(found) == [("s1", 1, {"1a": "7", "1b": "8", "2a": ""})]
    assert found.remarks == [
        "g1.csv, line 2: the id 'zz' is not in the set; the row is not marked",
        "g2.csv, line 2: s1 again; this row counts, that of g1.csv, line 3 does not",
    ]


def test_two_graders_may_have_some_of_the_parts_each(tmp_path: Path) -> None:
    found = several(tmp_path, "id,1a,1b\ns1,1,2\ns3,8,9\n", "id,2a\nS1,3\nS2,4\n")
    assert {student: tuple(cells.values()) for student, _, cells in found} == {
        "s1": ("1", "2", "3"),
        "S2": ("", "", "4"),
        "s3": ("8", "9", ""),
    }
    assert found.remarks == []


def test_where_files_share_a_part_the_later_one_counts_for_it(tmp_path: Path) -> None:
    found = several(tmp_path, "id,1a,1b\ns1,1,2\n", "id,1b,2a\ns1,5,6\n")
    assert list(found) == [("s1", 1, {"1a": "1", "1b": "5", "2a": "6"})]
    assert found.remarks == ["g2.csv, line 2: s1 again; this row counts for 1b, that of g1.csv, line 2 does not"]


def test_parts_that_no_file_has_are_told_once(tmp_path: Path) -> None:
    found = several(tmp_path, "id,1a\ns1,1\n", "id,1a,x\ns2,1,2\n")
    assert found.remarks == ["no column for 1b, 2a; these parts count as blank"]
    assert found.notes == ["g2.csv, line 1: the columns 'x' are not marked"]


def test_files_of_one_name_are_called_by_their_paths(tmp_path: Path) -> None:
    paths = [tmp_path / folder / "r.csv" for folder in ("a", "b")]
    for path in paths:
        path.parent.mkdir()
        path.write_text("id,1a,1b,2a\ns1,1,2,3\n", encoding="utf-8")
    told = f"{paths[1]}, line 2: s1 again; this row counts, that of {paths[0]}, line 2 does not"
    assert Responses(paths, sheets(), COLUMNS).remarks == [told]


def test_a_file_given_twice_is_refused(tmp_path: Path) -> None:
    (tmp_path / "r.csv").write_text("id,1a\n", encoding="utf-8")
    with pytest.raises(FaultsError, match=r"r\.csv: found the file twice; expected each file of responses once$"):
        Responses([tmp_path / "r.csv", tmp_path / "." / "r.csv"], sheets(), COLUMNS)


def test_a_mapping_holds_for_each_file_that_has_its_columns(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("Number,Q1\ns1,3\n", encoding="utf-8")
    (tmp_path / "b.csv").write_text("id,1a\ns2,4\n", encoding="utf-8")
    paths = [tmp_path / "a.csv", tmp_path / "b.csv"]
    found = Responses(paths, sheets(), ("1a",), ColumnNames({"number": "id", "q1": "1a"}))
    assert [(student, cells["1a"]) for student, _, cells in found] == [("s1", "3"), ("S2", "4")]
    with pytest.raises(FaultsError) as caught:
        Responses(paths, sheets(), ("1a",), ColumnNames({"numbers": "id", "q1": "1a"}))
    assert str(caught.value) == (
        f"{paths[0]}, {paths[1]}: found no column 'numbers'; expected the column that is mapped to 'id' in one of the "
        "files. Did you mean 'number'?"
    )


def test_a_table_with_a_header_of_its_own_is_read_by_its_headings(tmp_path: Path) -> None:
    found = responses(tmp_path, "Matrikelnr;Name;Aufgabe 1a;Question 1b) mass in g;2 a\nS1;Ada;3;4;5\n")
    assert list(found) == [("s1", 1, {"1a": "3", "1b": "4", "2a": "5"})]
    assert found.remarks == []
    assert found.notes == [
        (
            "r.csv, line 1: read by their headings: 'matrikelnr' as id, 'aufgabe 1a' as 1a, 'question 1b) mass in g' "
            "as 1b, '2 a' as 2a"
        )
    ]


def test_all_columns_that_may_be_two_things_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        responses(tmp_path, "login,matrikelnr,aufgabe 1a,frage 1a,1b\nx,y,1,2,3\n")
    assert [fault.expected for fault in caught.value.faults] == ["one column for 1a", "one column 'id'"]


def test_what_is_told_of_a_file_holds_for_it_alone(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("Number,Q1\ns1,3\n", encoding="utf-8")
    (tmp_path / "b.csv").write_text("Number,Q1,id\n7,4,s2\n", encoding="utf-8")
    paths = [tmp_path / "a.csv", tmp_path / "b.csv"]
    names = {"a.csv": {"number": "id", "q1": "1a"}, "b.csv": {"q1": "1b"}, "c.csv": {"x": "1a"}}
    found = Responses(paths, sheets(), COLUMNS, ColumnNames({}, names))
    assert {student: tuple(cells.values()) for student, _, cells in found} == {"s1": ("3", "", ""), "S2": ("", "4", "")}
    names = {"b.csv": {"q2": "1b"}, "a.csv": names["a.csv"]}
    for given in (paths, paths[1:]):
        with pytest.raises(FaultsError) as caught:
            Responses(given, sheets(), COLUMNS, ColumnNames({}, names))
        assert str(caught.value).startswith(f"{paths[1]}: ")
        assert str(caught.value).endswith("found no column 'q2'; expected the column that is mapped to '1b'")


@pytest.mark.parametrize("column", ["number", "team no"])
def test_a_column_that_looks_like_the_ids_is_offered(tmp_path: Path, column: str) -> None:
    with pytest.raises(FaultsError) as caught:
        responses(tmp_path, f"name,{column},1a\nAda,7,1\n")
    assert str(caught.value).endswith(
        f"expected a column 'id'. If {column!r} has the ids, name it in --columns: a CSV file with the lines "
        f'"ours,theirs" and "id,{column}".'
    )


def test_a_file_that_was_put_together_many_times_is_told_in_few_lines(tmp_path: Path) -> None:
    found = responses(tmp_path, "id,1a,1b,2a\n" + "s1,1,2,3\n" * 20_000)
    assert found.remarks[0] == "line 3: s1 again; this row counts, that of line 2 does not"
    assert found.remarks[-1] == (
        "lines 53-20001: 19,949 more remarks like these: handed in again; of each student the last row counts"
    )
    assert len(found.remarks) == 51
    assert found.handed_in == {("s1", 1)}
