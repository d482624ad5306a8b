"""Sentences of commands as the desk says them: nothing in them is typed on a command line."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from problemgen.desk.worded import on_desk

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", ""),
        ("line 2: no id; the row is not marked", "line 2: no id; the row is not marked"),
        ("unread.csv: 4 different answers that could not be read. Fill in what they mean, and mark again.", ""),
        (
            "Put it back, or draw the problem anew on purpose: --redraw p1.",
            "Put it back, or draw the problem anew on purpose.",
        ),
        (
            "Put the file back from a copy; or build with --new-secret: all numbers that are printed stay.",
            "Put the file back from a copy, or build with another secret: what is printed stays.",
        ),
        (
            "The set is no longer in sets/x: marked by the policies kept in answers.json. --set names its folder.",
            (
                "The set is no longer in sets/x: marked by the policies kept in answers.json. "
                "Build its sheets again to mark by the set as it is now."
            ),
        ),
        ("These sheets have numbers of their own. Others are printed with --out, and --replace.",
         "These sheets have numbers of their own."),
        ("Fill in --columns. Name it in --columns.", "Say what each column is, with “Columns” beside the table."),
        ("found 2 -- 3, the cell --x", "found 2 -- 3, the cell --x"),
    ],
)  # fmt: skip
def test_what_would_be_typed_is_said_otherwise(text: str, said: str) -> None:
    assert on_desk(text) == said


def test_all_texts_of_commands_go_through_it() -> None:
    """Where a page shows lines of a report, or the hint of a fault, it has the filter."""
    pages = {path.name: path.read_text(encoding="utf-8") for path in (ROOT / "problemgen/desk/pages").glob("*.html")}
    shown = re.compile(r"{% for (?:line|note) in (?!meanings)[^%]*%}")
    found = {name: [one for one in shown.findall(text) if "on_desk" not in one] for name, text in pages.items()}
    assert {name: loops for name, loops in found.items() if loops} == {}
    assert "fault.hint | on_desk" in pages["told.html"]
