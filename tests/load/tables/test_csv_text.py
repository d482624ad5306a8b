"""CSV text: encodings told apart, separators found, and no row lost behind a quotation mark."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from problemgen.load.tables.csv_text import CsvText, encoding_of
from problemgen.load.tables.record import Record

OPEN = "a quotation mark is not closed; look at this row"
ID = frozenset({"id"})


def file_of(folder: Path, content: bytes) -> Path:
    path = folder / "t.csv"
    path.write_bytes(content)
    return path


def rows(folder: Path, content: str, wanted: frozenset[str] = ID) -> list[tuple[int, list[str], str]]:
    found = CsvText(file_of(folder, content.encode()), wanted).records()
    return [(record.line, list(record.cells), record.remark) for record in found]


@pytest.mark.parametrize(
    ("content", "encoding"),
    [
        (b"", "utf-8"),
        (b"id,1a\ns1,3.95\n", "utf-8"),
        ("id,1a\ns1,5 µL\n".encode(), "utf-8"),
        (b"\xef\xbb\xbfid\n", "utf-8-sig"),
        ("id,1a\n".encode("utf-16"), "utf-16"),
        ("id,1a\ns1,3.95 mL\n".encode("utf-16-le"), "utf-16-le"),
        ("id,1a\ns1,3.95 mL\n".encode("utf-16-be"), "utf-16-be"),
        ("id,1a\ns1,5 µL\n".encode("latin-1"), "cp1252"),
        ("id,1a\ns1,“5” … €\n".encode("cp1252"), "cp1252"),
        ("id,1a\nÄÖÜ,ßé\n".encode("latin-1"), "cp1252"),
        (b"id,1a\ns\x001,2\n", "utf-8"),
    ],
)
def test_encodings_are_told_by_the_bytes(tmp_path: Path, content: bytes, encoding: str) -> None:
    assert encoding_of(file_of(tmp_path, content)) == encoding


OTHER = "other bytes than UTF-8, read as Windows-1252; look at this row"
UNSEEN = "zero bytes or marks of the encoding, left out; look at this row"
UNREADABLE = "bytes that are no text, each shown as �; look at this row"


@pytest.mark.parametrize(
    ("content", "cells", "remark"),
    [
        ("s1,5 µL\n".encode(), ["s1", "5 µL"], ""),
        (b"s1,\xb5L\n", ["s1", "µL"], OTHER),
        (b"s1,\xb5L \xc3\xa9\n", ["s1", "µL é"], OTHER),
        (b"s1,\x81\n", ["s1", "�"], f"{OTHER}; {UNREADABLE}"),
        (b"s1,1\x000.5\n", ["s1", "10.5"], UNSEEN),
        (b"\xef\xbb\xbfs1,1\n", ["s1", "1"], UNSEEN),
        ("s1,�\n".encode(), ["s1", "�"], UNREADABLE),
        (b's1,"a\nb\x00",\n', ["s1", "a\nb", ""], UNSEEN),
    ],
)
def test_a_row_of_another_encoding_or_with_bytes_that_nobody_typed_is_told(
    tmp_path: Path, content: bytes, cells: list[str], remark: str
) -> None:
    text = "id,1a\ns0,°C\n".encode() + content + b"s2,3\n"
    *_, found, last = CsvText(file_of(tmp_path, text), ID).records()
    assert (list(found.cells), found.remark) == (cells, remark)
    assert (list(last.cells), last.remark) == (["s2", "3"], "")


@pytest.mark.parametrize("mark", [b"\xef\xbb\xbf", b""])
def test_of_two_encodings_each_row_is_read_in_its_own(tmp_path: Path, mark: bytes) -> None:
    """One section saved as UTF-8, the other as Latin-1, put together."""
    content = mark + "id,name\ns1,Zoë\n".encode() + "s2,Zoë\ns3,Noël\n".encode("latin-1")
    found = list(CsvText(file_of(tmp_path, content), ID).records())[1:]
    assert [(list(one.cells), one.remark) for one in found] == [
        (["s1", "Zoë"], ""),
        (["s2", "Zoë"], OTHER),
        (["s3", "Noël"], OTHER),
    ]


def test_utf_16_that_breaks_off_is_told(tmp_path: Path) -> None:
    content = "id,1a\ns1,5\n".encode("utf-16") + b"\x00\xd8s\x00"
    *_, last = CsvText(file_of(tmp_path, content), ID).records()
    assert last.remark == UNREADABLE


def test_all_printing_characters_of_latin_1_are_kept(tmp_path: Path) -> None:
    printing = "".join(chr(code) for code in range(0xA1, 0x100) if code != 0xAD)
    found = CsvText(file_of(tmp_path, f"id,1a\ns1,{printing}\n".encode("latin-1")), ID)
    assert list(found.records())[1].cells[1] == printing


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("id,1a\ns1,1\n", ["id", "1a"]),
        ("id;1a\ns1;1,5\n", ["id", "1a"]),
        ("id\t1a\ns1\t1,5;2\n", ["id", "1a"]),
        ('id;"Mass, in g, of A"\ns1;2\n', ["id", "Mass, in g, of A"]),
        ('"id";"1a"\n', ["id", "1a"]),
        ("id\ns1\n", ["id"]),
        ("Results, spring, A, B\nid;1a;1b\ns1;1;2\n", ["Results, spring, A, B"]),
        ("nr;1a\n1,2;3\n", ["nr", "1a"]),
    ],
)
def test_the_separator_is_that_of_the_header(tmp_path: Path, text: str, expected: list[str]) -> None:
    assert rows(tmp_path, text)[0][1] == expected


@pytest.mark.parametrize("first", ["sep=|\n", '"sep=|"\r\n', "SEP=|\r\n", "\ufeffsep=|\n"])
def test_a_first_line_can_tell_the_separator(tmp_path: Path, first: str) -> None:
    assert rows(tmp_path, f"{first}id|1a\ns1|3,95\n") == [(2, ["id", "1a"], ""), (3, ["s1", "3,95"], "")]


def test_a_first_line_can_tell_a_tab(tmp_path: Path) -> None:
    assert rows(tmp_path, "sep=\t\nid\t1a\n") == [(2, ["id", "1a"], "")]


HEADER = "id,1a,1b,1c\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('s1,"a\nb",2,3\n', [(2, ["s1", "a\nb", "2", "3"], "")]),
        ('s1,"a ""b"" c",2,3\n', [(2, ["s1", 'a "b" c', "2", "3"], "")]),
        ('s1,5" g,2,3\n', [(2, ["s1", '5" g', "2", "3"], "")]),
        ('s1,"5" g,2,3\n', [(2, ["s1", "5 g", "2", "3"], "")]),
        ('s1,"5,2,3\ns2,1,2,3\n', [(2, ["s1", '"5', "2", "3"], OPEN), (3, ["s2", "1", "2", "3"], "")]),
        (
            's1,"5,2,3\ns2,"6",2,3\n',
            [(2, ["s1", '"5', "2", "3"], OPEN), (3, ["s2", "6", "2", "3"], "")],
        ),
        (
            's1,1,2,"3\ns2,1,2,3\ns3,1,2,3"\n',
            [(2, ["s1", "1", "2", '"3'], OPEN), (3, ["s2", "1", "2", "3"], ""), (4, ["s3", "1", "2", '3"'], "")],
        ),
        ('"s1,1,2,3\n', [(2, ['"s1', "1", "2", "3"], OPEN)]),
        ('s1,"a\n\nb\n",2,3\ns2,1,2,3\n', [(2, ["s1", "a\n\nb\n", "2", "3"], ""), (6, ["s2", "1", "2", "3"], "")]),
    ],
)
def test_quotation_marks_closed_and_open(tmp_path: Path, text: str, expected: list[tuple[int, list[str], str]]) -> None:
    assert rows(tmp_path, HEADER + text)[1:] == expected


def test_an_open_mark_in_a_long_file_costs_one_row_at_most(tmp_path: Path) -> None:
    lines = [f's{n},"1,2,3' if n == 7 else f"s{n},1,2,3" for n in range(1000)]
    found = rows(tmp_path, HEADER + "\n".join(lines) + "\n")[1:]
    assert [cells[0] for _, cells, _ in found] == [f"s{n}" for n in range(1000)]
    assert [line for line, _, remark in found if remark] == [9]


CELL = st.text(st.sampled_from('a1 ",;\n\r\t'), max_size=6)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(CELL, CELL, CELL), max_size=8))
def test_every_row_of_ids_is_seen_whatever_the_cells_hold(tmp_path: Path, cells: list[tuple[str, str, str]]) -> None:
    """Each row begins a line with its own id: that line is the beginning of a row, or told to be inside of a cell."""
    lines = [f"s{n},{','.join(three)}" for n, three in enumerate(cells)]
    found = list(CsvText(file_of(tmp_path, (HEADER + "\n".join(lines) + "\n").encode()), ID).records())
    text = "\n".join("\n".join(record.cells) for record in found)
    assert all(f"s{n}" in text for n in range(len(cells)))
    assert [record.line for record in found] == sorted(record.line for record in found)


@given(st.lists(st.lists(st.text(st.sampled_from('ab1"\n,'), max_size=4), min_size=3, max_size=3), max_size=6))
def test_well_formed_tables_read_back(tmp_path_factory: pytest.TempPathFactory, cells: list[list[str]]) -> None:
    quoted = [",".join('"' + cell.replace('"', '""') + '"' for cell in ["x", *row]) for row in cells]
    path = file_of(tmp_path_factory.mktemp("t"), ("id,1a,1b\n" + "\n".join(quoted) + "\n").encode())
    found: list[Record] = list(CsvText(path, ID).records())[1:]
    assert [list(record.cells) for record in found] == [["x", *row] for row in cells]
