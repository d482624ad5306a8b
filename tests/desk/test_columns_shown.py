"""The columns of a table as a page asks about them, and what it is answered."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.desk.columns_shown import ColumnShown, check_told, columns_shown
from problemgen.errors import FaultsError
from problemgen.load.people.known_columns import known_columns

HINT = "Say which column it is, or drop another table."


def test_each_column_is_shown_with_its_first_cells(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("Matrikelnr;Gruppe;Note\n;A;\nb01; ;x\nb02;B;\nb03;C;\nb04;D;\n", encoding="utf-8")
    assert columns_shown(known_columns(path).table, ("id",)) == [
        ColumnShown("matrikelnr", "id", ["b01", "b02", "b03"]),
        ColumnShown("gruppe", "", ["A", "B", "C"]),
        ColumnShown("note", "", ["x"]),
    ]


@pytest.mark.parametrize(
    ("told", "faults"),
    [
        ([("a", "id"), ("b", ""), ("c", "1a")], []),
        ([("a", ""), ("b", "1a")], [f"r.csv: found no column that is the student's id; expected one column. {HINT}"]),
        ([("a", "id"), ("b", "id")], ["r.csv: found several columns taken for Id; expected each once"]),
        ([("a", "id"), ("b", "1a"), ("c", "1a")], ["r.csv: found several columns taken for 1a; expected each once"]),
    ],
)  # fmt: skip
def test_an_answer_has_one_column_of_ids_and_each_of_ours_once(told: list[tuple[str, str]], faults: list[str]) -> None:
    if not faults:
        check_told("r.csv", told, {"id": "Id"})
        return
    with pytest.raises(FaultsError) as caught:
        check_told("r.csv", told, {"id": "Id"})
    assert [str(one) for one in caught.value.faults] == faults
