"""What cells mean: rows as an instructor fills them in, and all faults of the file at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.people.means import load_means
from problemgen.model.means import Means

COLUMNS = ("1a", "1b", "2a")


def means(folder: Path, text: str) -> Means:
    (folder / "means.csv").write_text(text, encoding="utf-8")
    return load_means(folder / "means.csv", COLUMNS)


def test_rows_hold_for_all_parts_or_for_one(tmp_path: Path) -> None:
    found = means(tmp_path, "written,means,part,times\nStyrol,styrene,,3\n the  Salt ,B,2A,1\nstyrol,styrene,,1\n")
    assert found == Means({"styrol": "styrene"}, {("2a", "the salt"): "B"})
    assert found.of(" STYROL") == "styrene"
    assert found.of("the salt") is None
    assert found.in_parts({"1a": "the salt", "2a": "The salt"}) == {"1a": "the salt", "2a": "B"}


def test_a_row_without_a_meaning_is_not_filled_in_yet(tmp_path: Path) -> None:
    assert means(tmp_path, "written,means\nstyrol,\nx, \n") == Means()


def test_an_apostrophe_that_guards_a_spreadsheet_is_no_part_of_the_cell(tmp_path: Path) -> None:
    found = means(tmp_path, "written,means\n'=2+3,5\n'tis,7\n")
    assert (found.of("=2+3"), found.of("'tis")) == ("5", "7")


def test_all_faults_are_told_with_their_lines(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        means(tmp_path, "written,means,part\n,styrene,\nx,y,3a\na,b,\nA,c,\na,d,1a\n")
    file = tmp_path / "means.csv"
    assert str(caught.value).splitlines() == [
        f"{file}: line 2: found no cell that means 'styrene'; expected what was written",
        f"{file}: line 3: found the part '3a'; expected one of 1a, 1b, 2a, or nothing for all",
        f"{file}: line 5: found another meaning of 'a' than on line 4; expected one meaning for a cell",
    ]


def test_a_table_without_the_columns_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        means(tmp_path, "said,means\nx,y\n")
    assert str(caught.value) == (
        f"{tmp_path / 'means.csv'}: line 1: found the columns 'said', 'means'; expected the columns written, means, "
        'and perhaps part. For example "written,means", then "styrol,styrene".'
    )
