"""A TOML text cut at the heads of its tables, put together again, and values put into its tables."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from problemgen.load.resources import templates_folder
from problemgen.write.pieces import groups_of, joined, pieces_of, put
from tests.support.every_row import for_every

SHIPPED = sorted((templates_folder() / "sets").glob("*/set.toml"))


@for_every(SHIPPED)
def test_pieces_are_the_text(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "".join(piece.text for piece in pieces_of(text)) == text
    assert joined(pieces_of(text)) == text


def test_an_entry_is_its_table_with_those_inside_it() -> None:
    text = "# top\na = 1\n# one\n[[b]]\nx = 1\n[b.c]\ny = 2\n[d]\nz = 3\n[[b]]\nx = 4\n"
    groups = ["".join(piece.text for piece in group) for group in groups_of(pieces_of(text), "b")]
    assert groups == ["# one\n[[b]]\nx = 1\n[b.c]\ny = 2\n", "[[b]]\nx = 4\n"]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (tomlkit.value("2.50"), "x = 2.50 # as weighed\n"),
        (tomlkit.value("2.5"), "x = 2.5 # as weighed\n"),
        ("two", 'x = "two" # as weighed\n'),
        ([1, 2], "x = [1, 2] # as weighed\n"),
        (None, ""),
    ],
)
def test_a_value_keeps_the_comment_behind_it(value: Any, text: str) -> None:
    table = tomlkit.parse("x = 2.50 # as weighed\n")
    put(table, "x", value)
    assert tomlkit.dumps(table) == text


def test_what_is_not_there_is_new_and_what_is_so_stays_as_it_is_written() -> None:
    table = tomlkit.parse("x = [ 1,\n  2 ]\n")
    put(table, "x", [1, 2])
    put(table, "y", float(Decimal("0.5")))
    put(table, "z", None)
    assert tomlkit.dumps(table) == "x = [ 1,\n  2 ]\ny = 0.5\n"
