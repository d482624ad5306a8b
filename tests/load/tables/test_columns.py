"""The small table that maps a form's columns to ours."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.tables.columns import load_columns

KNOWN = ("id", "name", "section", "1a", "1b", "2a")


def columns(folder: Path, text: str) -> dict[str, str]:
    path = folder / "c.csv"
    path.write_text(text, encoding="utf-8")
    found = load_columns(path, KNOWN)
    assert found.by_file == {}
    return dict(found.anywhere)


def test_each_of_theirs_gets_one_of_ours(tmp_path: Path) -> None:
    text = "Ours;Theirs\nid;Student  Number\n1A;Question 3: mass, in g\n1a;Question 3 (late)\n"
    assert columns(tmp_path, text) == {
        "student number": "id",
        "question 3: mass, in g": "1a",
        "question 3 (late)": "1a",
    }


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("", ["found an empty file; expected a table with a header row"]),
        ("ours,theirs\n", ["found no rows; expected a row for each column"]),
        (
            "a,b\nid,Number\n",
            [
                (
                    "line 1: found the columns 'a', 'b'; expected the columns 'ours' and 'theirs'. For example "
                    '"ours,theirs", then "id,Student number", then "1a,Question 3".'
                )
            ],
        ),
        (
            "ours,theirs\nsectoin,Number\n1a,\n,Q2\n1b,Q3\n2a,q3\n9z,Q4\n",
            [
                (
                    "line 2: found the column 'sectoin'; expected one of id, name, section, 1a, 1b, 2a. "
                    "Did you mean 'section'?"
                ),
                "line 3: found an empty cell; expected one of our columns, and one of theirs",
                "line 4: found an empty cell; expected one of our columns, and one of theirs",
                "line 6: found the column 'q3' again; expected each of their columns once",
                "line 7: found the column '9z'; expected one of id, name, section, 1a, 1b, 2a",
            ],
        ),
    ],
)
def test_faults_are_told_together(tmp_path: Path, text: str, faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        columns(tmp_path, text)
    assert str(caught.value).splitlines() == [f"{tmp_path / 'c.csv'}: {fault}" for fault in faults]


def test_a_row_with_a_file_is_about_the_table_of_that_name(tmp_path: Path) -> None:
    path = tmp_path / "c.csv"
    path.write_text("ours,theirs,file\nid,Number,\nid,Nr,b.csv\nleave out,Number,b.csv\n1a,'=Q,b.csv\n", "utf-8")
    found = load_columns(path, KNOWN)
    assert found.of(tmp_path / "a.csv") == {"number": "id"}
    assert found.of(tmp_path / "b.csv") == {"number": "leave out", "nr": "id", "=q": "1a"}


def test_long_lists_of_columns_are_cut(tmp_path: Path) -> None:
    path = tmp_path / "c.csv"
    path.write_text("ours,theirs\nzz,Q\n", encoding="utf-8")
    with pytest.raises(FaultsError, match=r"expected one of id, 1a, 1b, 1c, 1d, 1e, 1f, 1g, …$"):
        load_columns(path, ("id", *(f"1{letter}" for letter in "abcdefghij")))
