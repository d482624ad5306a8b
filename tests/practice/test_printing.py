"""Blocks printed in forms: the same text as each printed for itself, whatever their numbers."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import problemgen.practice.printing
from problemgen.language.messages import speaking
from problemgen.model import blocks as b
from problemgen.practice.printing import Printer
from problemgen.practice.spoken import with_names
from problemgen.render.printers.html import fragments

FOLDER = Path(__file__).parents[2] / "templates" / "layouts"
LAYOUTS = {"blocks.html": (FOLDER / "blocks.html").read_text("utf-8")}
NAMES = {"NaCl": "sodium chloride", "H2O": "water"}

NUMBERS = st.sampled_from(["2", "2.50", "0.0100", "12345.6", "9.2e-4", "6.022e+23", "?", "−1", "", "10.", "1.2.3"])
FORMULAS = st.sampled_from(["", "NaCl", "H2O", "CuSO4.5H2O", "solution 2"])
TEXTS = st.one_of(
    st.sampled_from(
        ["+", "/", "×", "2", "1,000.5 g", " in 25.0 mL, 3-fold", "H2O & <b>4</b>", "&#39;", "٣", "2\u0301", ""]
    ),
    st.text(st.characters(exclude_categories=("Cs", "Co")), max_size=8),
)
PIECES = st.one_of(
    st.builds(b.Prose, TEXTS),
    st.builds(b.Strong, TEXTS),
    st.builds(b.Chemical, FORMULAS),
    st.builds(b.Symbol, st.sampled_from("nmV"), FORMULAS, st.booleans(), st.sampled_from(["", "2"])),
)
LINES = st.lists(PIECES, max_size=4).map(tuple)
UNITS = st.sampled_from([(), (b.UnitPiece("g"),), (b.UnitPiece("g", cancelled=True), b.UnitPiece("mol", -1))])
AMOUNTS = st.builds(b.Amount, NUMBERS, UNITS, FORMULAS)
SIDES = st.lists(AMOUNTS, max_size=3).map(tuple)
BLOCKS = st.one_of(
    st.builds(b.Paragraph, LINES),
    st.builds(b.Note, LINES),
    st.builds(b.Bullets, st.lists(LINES, max_size=3).map(tuple)),
    st.builds(b.Heading, st.just(2), TEXTS),
    st.builds(
        b.Table,
        TEXTS,
        st.tuples(LINES, LINES),
        st.lists(st.tuples(LINES, LINES), max_size=3).map(tuple),
        st.just((False, True)),
    ),
    st.builds(
        b.Calculation,
        st.builds(b.Symbol, st.just("n"), FORMULAS, st.just(True)),
        LINES,
        st.lists(st.builds(b.Ratio, SIDES, SIDES), max_size=3).map(tuple),
        st.just(("×", "+")),
        AMOUNTS,
        st.one_of(st.just(""), TEXTS),
    ),
)


@pytest.mark.parametrize("language", ["en", "de"])
@given(calls=st.lists(st.lists(BLOCKS, max_size=6), max_size=3))
def test_blocks_are_printed_as_each_would_be_alone(language: str, calls: list[list[b.Block]]) -> None:
    with speaking(language):
        printer = Printer(LAYOUTS, NAMES)
        for blocks in calls:
            assert printer.printed(blocks) == fragments(with_names(blocks, NAMES), LAYOUTS)


def _weighed(mass: str, amount: str) -> b.Calculation:
    terms = (b.Ratio((b.Amount(mass, (b.UnitPiece("g"),)),), (b.Amount("58.44", (b.UnitPiece("g"),)),)),)
    return b.Calculation(b.Symbol("n", "NaCl"), (), terms, (), b.Amount(amount), f"{mass} over 58.44 equals {amount}")


def test_lines_that_differ_in_numbers_alone_are_printed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def counted(blocks: tuple[b.Block, ...], layouts: dict[str, str]) -> list[str]:
        asked.append(len(blocks))
        return fragments(blocks, layouts)

    monkeypatch.setattr(problemgen.practice.printing, "fragments", counted)
    printer = Printer(LAYOUTS, NAMES)
    first, second = printer.printed([_weighed("2.50", "0.0428"), _weighed("3.10", "0.0530")])
    (third,) = printer.printed([_weighed("9.99", "0.171")])
    assert asked == [1, 0]
    assert first.replace("2.50", "3.10").replace("0.0428", "0.0530") == second
    assert "9.99" in third


def test_a_letter_for_private_use_is_left_where_it_is_no_mark() -> None:
    (printed,) = Printer(LAYOUTS, NAMES).printed([b.Paragraph((b.Prose("2 g of \U00100005"),))])
    assert printed == "<p>2 g of \U00100005</p>"
