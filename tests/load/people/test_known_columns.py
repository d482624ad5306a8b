"""The columns of a table of answers, or of a class list: known by what was told, by our names, by their headings."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.load.fault_log import FaultLog
from problemgen.load.people.known_columns import KnownColumns, known_columns

PARTS, IDS = ("1a", "1b"), ("b01", "b02", "1")


def known(folder: Path, text: str, names: dict[str, str] | None = None) -> KnownColumns:
    path = folder / "r.csv"
    path.write_text(text, encoding="utf-8")
    return known_columns(path, names, PARTS, IDS)


@pytest.mark.parametrize(
    ("text", "columns"),
    [
        ("Matrikelnr;Name;1a;Aufgabe 1b\nB01;x;2;3\n", ("id", "name", "1a", "1b")),
        ("Week 1;;\nMatrikelnr;Name;1a\nb01;x;2\n", ("id", "name", "1a")),
        ("Week 1\n\nname,1 a\nx,2\n", ("name", "1a")),
        # ids of the class stand in one of two
        ("Login,Matrikelnr,1a\nann,b01,1\nbob,b02,1\n", ("login", "id", "1a")),
        ("id,Matrikelnr,1a\n17,b01,2\n18,b02,2\n", ("id (not mapped)", "id", "1a")),
        # and where they stand in both, ours is the one of our name
        ("id,Matrikelnr,1a\nb02,b01,2\n", ("id", "matrikelnr", "1a")),
        ("id,Matrikelnr,1a\nx,y,2\n", ("id", "matrikelnr", "1a")),
    ],
)
def test_columns_are_known_by_their_headings(tmp_path: Path, text: str, columns: tuple[str, ...]) -> None:
    found = known(tmp_path, text)
    assert (found.table.columns, found.doubts) == (columns, {})


def test_what_was_told_goes_over_headings(tmp_path: Path) -> None:
    text = "Login,Number,Aufgabe 1a,Aufgabe 1b,Gruppe\nb01,b02,3,4,A\n"
    names = {"number": "id", "aufgabe 1a": "leave out", "gruppe": "gruppe"}
    found = known(tmp_path, text, names)
    assert found.table.columns == ("login", "id", "", "1b", "gruppe")
    assert [row.cells["id"] for row in found.table] == ["b02"]


def test_one_answer_that_looks_like_an_id_makes_no_column_of_ids(tmp_path: Path) -> None:
    found = known(tmp_path, "Kennwort,1a,1b\nb01,1,5\nx,2,1\nb02,3,6\n")
    assert found.holding == ("kennwort",)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Login,Matrikelnr,1a\nx,y,2\n",
            (
                "found the columns 'login', 'matrikelnr', '1a', of which 'login' and 'matrikelnr' may be the ids; "
                "expected one column 'id'. Name it in --columns: a CSV file with the lines \"ours,theirs\" and "
                '"id,login".'
            ),
        ),
        (
            "Kennwort,1a\nb01,2\n",
            (
                "found the columns 'kennwort', '1a'; expected a column 'id'. Ids of the class stand in 'kennwort'. "
                'Name it in --columns: a CSV file with the lines "ours,theirs" and "id,kennwort".'
            ),
        ),
        (
            "Number,1a\n7,2\n",
            (
                "found the columns 'number', '1a'; expected a column 'id'. If 'number' has the ids, name it in "
                '--columns: a CSV file with the lines "ours,theirs" and "id,number".'
            ),
        ),
        ("Kennwort,1a\n7,2\n", "found the columns 'kennwort', '1a'; expected a column 'id'. Start anew."),
    ],
)
def test_what_may_be_the_ids_is_told(tmp_path: Path, text: str, expected: str) -> None:
    faults = FaultLog("r.csv")
    known(tmp_path, text).fault_ids(faults, "Start anew.")
    assert [str(one) for one in faults.faults] == [f"r.csv: {expected}"]


def test_which_columns_may_be_a_part_is_told(tmp_path: Path) -> None:
    faults = FaultLog("r.csv")
    known(tmp_path, "id,Aufgabe 1a,1a) mass,1 b mass\n").fault_parts(faults, PARTS)
    assert [str(one) for one in faults.faults] == [
        (
            "r.csv: found 'aufgabe 1a' and '1a) mass' for 1a, which may both be it; expected one column for 1a. Name "
            'it in --columns: a CSV file with the lines "ours,theirs" and "1a,aufgabe 1a".'
        ),
        (
            "r.csv: found '1 b mass' for 1b, which may be it, or something else; expected one column for 1b. Name it "
            'in --columns: a CSV file with the lines "ours,theirs" and "1b,1 b mass".'
        ),
    ]


def test_of_many_headings_the_first_are_told(tmp_path: Path) -> None:
    parts = [f"1{letter}" for letter in "abcdefgh"]
    path = tmp_path / "r.csv"
    path.write_text(",".join(["id", *(f"Aufgabe {part}" for part in parts)]) + "\n", encoding="utf-8")
    (note,) = known_columns(path, None, parts).notes(())
    assert note.endswith("'aufgabe 1e' as 1e, 'aufgabe 1f' as 1f, … and 2 more")


def test_notes_tell_what_was_found_out_and_what_was_not(tmp_path: Path) -> None:
    found = known(tmp_path, "Matrikelnr,Group,Class,1 a\nb01,A,B,2\n")
    assert list(found.notes(("section",))) == [
        "line 1: read by their headings: 'matrikelnr' as id, '1 a' as 1a",
        "line 1: 'group' and 'class' may both be the section; none is read as it",
    ]
    assert list(known(tmp_path, "id,1a\n").notes(("section",))) == []
