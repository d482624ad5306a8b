"""Values in lists: the runs of a titration in a table of their own."""

from __future__ import annotations

from problemgen.exact.digits import read_written
from problemgen.model.blocks import Table
from problemgen.model.fixed import Datum
from problemgen.model.problem import Species
from problemgen.model.quantity import Quantity, Role
from problemgen.render.words.listings import in_list, listing_blocks, words_in_list

ACID = {"acid": Species("acid", "hydrochloric acid")}


def reading(role: Role, run: int = 0) -> Quantity:
    return Quantity("volume", "acid", role, stage=run)


VALUES = {
    reading(Role.RUN_END, 1): "22.40",
    reading(Role.RUN_START, 1): "0.35",
    reading(Role.ROUGH_END): "23.10",
    reading(Role.RUN_START, 2): "1.00",
    reading(Role.ROUGH_START): "0.00",
}
DATA = {quantity.id: Datum(read_written(text), "mL") for quantity, text in VALUES.items()}


def cells(row: tuple[object, ...]) -> list[str]:
    return ["".join(getattr(piece, "text", "") for piece in cell) for cell in row]  # type: ignore[attr-defined]


def test_a_column_a_run_the_rough_one_first_and_a_row_a_reading() -> None:
    (table,) = listing_blocks(ACID, VALUES, DATA)
    assert isinstance(table, Table)
    assert table.caption == "Burette readings: hydrochloric acid"
    assert cells(table.header) == ["Run", "rough", "1", "2"]
    assert [cells(row) for row in table.rows] == [
        ["Initial reading", "0.00\u00a0mL", "0.35\u00a0mL", "1.00\u00a0mL"],
        ["Final reading", "23.10\u00a0mL", "22.40\u00a0mL", "–"],
    ]
    assert table.numeric == (False, True, True, True)


def test_in_a_line_each_value_says_which_it_is() -> None:
    assert words_in_list(reading(Role.RUN_END, 2)) == "final reading, run 2: "
    assert words_in_list(reading(Role.ROUGH_START)) == "initial reading, rough: "


def test_the_order_is_that_of_the_columns() -> None:
    ordered = sorted(VALUES, key=in_list)
    assert [q.written_role for q in ordered] == ["rough_start", "rough_end", "start_one", "end_one", "start_two"]
    assert in_list(Quantity("volume", "acid")) == (0, 0, 0)


def test_nothing_listed_makes_no_table() -> None:
    assert list(listing_blocks(ACID, (), {})) == []
