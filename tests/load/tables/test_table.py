"""Tables as spreadsheets save them: encodings, separators, quoting, and the line on which each row begins."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.errors import FaultsError
from problemgen.load.tables.table import LEFT_OUT, Row, Table, columns_told

TEXT = "ID;Name\ns1;Zoë 苔原\n"


def table(folder: Path, content: bytes) -> Table:
    path = folder / "t.csv"
    path.write_bytes(content)
    return Table(path)


@pytest.mark.parametrize(
    ("encoding", "name"),
    [
        ("utf-8", "Zoë 苔原"),
        ("utf-8-sig", "Zoë 苔原"),
        ("utf-16", "Zoë 苔原"),
        ("utf-16-le", "Zoë 苔原"),
        ("utf-16-be", "Zoë 苔原"),
    ],
)
def test_unicode_encodings_are_recognised(tmp_path: Path, encoding: str, name: str) -> None:
    found = table(tmp_path, TEXT.encode(encoding))
    assert found.columns == ("id", "name")
    assert list(found) == [Row(2, {"id": "s1", "name": name})]


@pytest.mark.parametrize(("mark", "encoding"), [(b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")])
def test_either_byte_order_is_recognised(tmp_path: Path, mark: bytes, encoding: str) -> None:
    assert next(iter(table(tmp_path, mark + TEXT.encode(encoding)))).cells["name"] == "Zoë 苔原"


def test_what_is_not_utf_8_is_latin_1_or_windows_1252(tmp_path: Path) -> None:
    assert next(iter(table(tmp_path, "id,name\ns1,Zoë\n".encode("latin-1")))).cells["name"] == "Zoë"
    assert next(iter(table(tmp_path, "id,name\ns1,“Zoë” €\n".encode("cp1252")))).cells["name"] == "“Zoë” €"


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_separators_and_line_ends(tmp_path: Path, separator: str, end: str) -> None:
    text = end.join([separator.join(cells) for cells in (("id", "1a", "1b"), ("s1", "3.95", "0.5 g"))]) + end
    assert [row.cells for row in table(tmp_path, text.encode())] == [{"id": "s1", "1a": "3.95", "1b": "0.5 g"}]


def test_decimal_commas_are_safe_behind_semicolons(tmp_path: Path) -> None:
    assert next(iter(table(tmp_path, b"id;1a;1b\ns1;3,95;1,0\n"))).cells == {"id": "s1", "1a": "3,95", "1b": "1,0"}


def test_column_names_are_small_and_without_blanks(tmp_path: Path) -> None:
    assert table(tmp_path, b" ID , Name,1A \n").columns == ("id", "name", "1a")


def test_quoted_cells_may_hold_separators_quotes_and_line_breaks(tmp_path: Path) -> None:
    rows = list(table(tmp_path, b'id,1a\ns1,"a, ""b""\nc"\ns2,x\n'))
    assert rows == [Row(2, {"id": "s1", "1a": 'a, "b"\nc'}), Row(4, {"id": "s2", "1a": "x"})]


def test_rows_without_text_are_left_out_and_lines_still_counted(tmp_path: Path) -> None:
    assert [row.line for row in table(tmp_path, b"\n\nid,1a\n\ns1,1\n,\n  ,\ns2,2\n")] == [5, 8]


def test_short_rows_lack_cells_and_long_ones_have_a_surplus(tmp_path: Path) -> None:
    rows = list(table(tmp_path, b"id,1a,1b\ns1,1\ns2,1,2,3,4\n"))
    assert rows[0] == Row(2, {"id": "s1", "1a": "1"})
    assert rows[1] == Row(3, {"id": "s2", "1a": "1", "1b": "2"}, ("3", "4"))


def test_a_table_can_be_read_again(tmp_path: Path) -> None:
    found = table(tmp_path, b"id\ns1\ns2\n")
    assert list(found) == list(found)


def test_nul_characters_are_dropped_and_told(tmp_path: Path) -> None:
    (row,) = table(tmp_path, b"id,1a\ns\x001,2\n")
    assert row.cells == {"id": "s1", "1a": "2"}
    assert row.remark == "zero bytes or marks of the encoding, left out; look at this row"


def test_a_mark_of_the_encoding_may_stand_twice(tmp_path: Path) -> None:
    found = table(tmp_path, b'\xef\xbb\xbf\xef\xbb\xbf"id",1a\ns1,2\n')
    assert found.columns == ("id", "1a")
    assert found.notes == ("line 1: zero bytes or marks of the encoding, left out; look at this row",)


def test_a_cell_of_almost_a_megabyte_is_read(tmp_path: Path) -> None:
    long = "x" * 999_000
    assert next(iter(table(tmp_path, f"id,1a\ns1,{long}\n".encode()))).cells["1a"] == long


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", "found an empty file; expected a table with a header row"),
        (b" \n,,\n\n", "found an empty file; expected a table with a header row"),
        (b"\xef\xbb\xbf", "found an empty file; expected a table with a header row"),
        (b"id,1a,ID\n", "id: found a column twice; expected each column name once"),
    ],
)
def test_a_table_without_a_usable_header_is_a_fault(tmp_path: Path, content: bytes, expected: str) -> None:
    with pytest.raises(FaultsError) as caught:
        table(tmp_path, content)
    assert str(caught.value) == f"{tmp_path / 't.csv'}: {expected}"


def test_every_column_that_stands_twice_is_named(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        table(tmp_path, b"id,a,b,a,B,,\n")
    assert [fault.key for fault in caught.value.faults] == ["a", "b"]


def test_a_missing_file_and_a_folder_are_faults(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="found no such file or directory; expected a readable CSV file"):
        Table(tmp_path / "none.csv")
    with pytest.raises(FaultsError, match="found is a directory; expected a readable CSV file"):
        Table(tmp_path)


def test_rows_above_the_header_are_left_out_and_told(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text("Results of the form\n\nCourse,C\nName,ID,1a\nAda,s1,3\n", encoding="utf-8")
    found = Table(path, "id")
    assert (found.columns, found.header_line) == (("name", "id", "1a"), 4)
    assert found.notes == ("2 rows above the header, which is on line 4: not read",)
    assert list(found) == [Row(5, {"name": "Ada", "id": "s1", "1a": "3"})]


NAMES = {"student number": "id", "question 1": "1a", "question 2 (group a)": "1b", "question 2 (group b)": "1b"}
EXPORT = "Time,ID,Student  Number,Question 1,Question 2 (group A),Question 2 (group B),Time\n"


def mapped(folder: Path, text: str) -> Table:
    path = folder / "t.csv"
    path.write_text(text, encoding="utf-8")
    return Table(path, "id", NAMES)


def test_an_export_is_read_by_our_names(tmp_path: Path) -> None:
    found = mapped(tmp_path, EXPORT + "9:00,7,s1,3.95,,2 g,9:30\n9:10,8,s2,4,1 g,,\n")
    assert found.columns == ("time", "id (not mapped)", "id", "1a", "1b")
    assert [{name: row.cells[name] for name in ("id", "1a", "1b")} for row in found] == [
        {"id": "s1", "1a": "3.95", "1b": "2 g"},
        {"id": "s2", "1a": "4", "1b": "1 g"},
    ]


def test_of_two_columns_that_are_filled_in_the_first_counts_and_it_is_told(tmp_path: Path) -> None:
    first, second, third = mapped(tmp_path, EXPORT + "x,7,s1,1,2,3,y\nx,7,s2,1,2,2,\nx,7,s3,1, ,3,\n")
    assert (first.cells["1b"], first.notes["1b"]) == ("2", "filled in twice; '2' counts, '3' does not")
    assert (second.cells["1b"], "1b" in second.notes) == ("2", False)
    assert (third.cells["1b"], "1b" in third.notes) == ("3", False)


def test_columns_that_are_mapped_must_be_there_once(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        mapped(tmp_path, "Student number,Question1,Question 2 (group A),Question 2 (group A)\ns1,1,2,3\n")
    file = tmp_path / "t.csv"
    lacking = "found no column {0!r}; expected the column that is mapped to {1!r}. Did you mean {2!r}?"
    assert str(caught.value).splitlines() == [
        f"{file}: line 1: {lacking.format('question 1', '1a', 'question1')}",
        f"{file}: line 1: {lacking.format('question 2 (group b)', '1b', 'question 2 (group a)')}",
        f"{file}: question 2 (group a): found a column twice; expected each column name once",
    ]


@given(st.binary(max_size=300))
def test_no_bytes_raise_anything_but_a_fault(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    folder = tmp_path_factory.mktemp("any")
    rows: list[Row] = []
    with suppress(FaultsError):
        rows = list(table(folder, b"id,1a\n" + content))
    assert [row.line for row in rows] == sorted(row.line for row in rows)


def test_a_column_that_is_left_out_has_no_name_and_may_stand_twice(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text("Nr;x;X;1a\ns1;2;3;4\n", encoding="utf-8")
    found = Table(path, "id", {"nr": "id", "x": LEFT_OUT})
    assert found.by_heading == {"nr": "id", "x": "", "1a": "1a"}
    assert [row.cells["id"] + row.cells["1a"] for row in found] == ["s14"]
    with pytest.raises(FaultsError, match="found a column twice"):
        Table(path, "id", {"nr": "id", "x": "1b"})


def test_a_header_is_found_by_usual_headings_where_none_has_the_key(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    path.write_text("Week 1, spring, at noon\nNumber;1a\ns1;2\n", encoding="utf-8")
    found = Table(path, "id", usual=frozenset({"number"}))
    assert (found.header_line, found.found) == (2, ("number", "1a"))
    found.call({"number": "id"})
    assert [row.cells for row in found] == [{"id": "s1", "1a": "2"}]


@pytest.mark.parametrize(
    ("number", "told"),
    [(1, "the columns '0'"), (24, "'22', '23'"), (25, "'23', … and 1 more"), (60, "'23', … and 36 more")],
)
def test_columns_are_told_and_of_very_many_the_first(number: int, told: str) -> None:
    assert columns_told([str(one) for one in range(number)]).endswith(told)
