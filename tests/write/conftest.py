"""A sheet and a key made by hand, and the layouts that the package ships."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from problemgen.model.blocks import (
    Amount,
    Block,
    Bullets,
    Calculation,
    Caution,
    Chemical,
    Document,
    Heading,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Ratio,
    Scheme,
    SchemeItem,
    Strong,
    Symbol,
    Table,
    UnitPiece,
)

GRAM_GONE = UnitPiece("g", cancelled=True)
MakeSheet = Callable[..., Document]


def reaction(*, drawn: bool) -> Scheme:
    alcohol = SchemeItem(1, "C5H12O", "3-methylbutan-1-ol", "CC(C)CCO")
    acid = SchemeItem(1, "C2H4O2", "acetic acid", "CC(=O)O")
    ester = SchemeItem(1, "C7H14O2", "3-methylbutyl acetate", "CC(C)CCOC(C)=O")
    water = SchemeItem(1, "H2O", "water", "O")
    return Scheme((alcohol, acid), (ester, water), "H2SO4 (catalytic)", "reflux, 1 h", "", drawn)


def calculation() -> Calculation:
    term = Ratio((Amount("4.05", (GRAM_GONE,)),), (Amount("88.15", (GRAM_GONE, UnitPiece("mol", -1))),))
    relation = (Symbol("m", "C5H12O"), Prose("/"), Symbol("M", "C5H12O"))
    result = Amount("0.04594", (UnitPiece("mol"),))
    return Calculation(Symbol("n", "C5H12O"), relation, (term,), (), result, "the amount is mass over molar mass")


def part(label: str, lines: int = 4) -> Part:
    prompt = (Prose(f"What is asked in {label}: the amount of "), Chemical("C5H12O"), Prose("?"))
    return Part(label, label, prompt, "2 points", "mol", work_lines=lines)


def body() -> tuple[Block, ...]:
    header = ((Prose("Reagent"),), (Symbol("M"), Prose(" / g/mol")))
    row = ((Prose("acetic acid"),), (Prose("60.05"),))
    choices = ((Chemical("C5H12O"),), (Chemical("C2H4O2"),))
    return (
        Paragraph((Prose("An ester that smells of bananas."),)),
        reaction(drawn=True),
        Table("Data", header, (row, row), (False, True)),
        Heading(2, "Questions"),
        *(part(label) for label in "abcdefgh"),
        Part("i", "i", (Prose("Which is limiting?"),), "1 point", "", choices, 0),
        Heading(3, "More"),
        Bullets(((Prose("one "), Strong("thing")),)),
        Caution("Caution", ((Prose("Follow the safety data sheet."),),)),
        reaction(drawn=False),
        Note((Prose("Three figures or more."),)),
        calculation(),
    )


@pytest.fixture(scope="session")
def make_sheet() -> MakeSheet:
    """Make a sheet; blocks may be given in place of the usual ones."""

    def make(student: str = "Anna", paper: str = "a4", blocks: tuple[Block, ...] | None = None) -> Document:
        return Document("Banana oil", "CHEM 12", student, "AB-12", paper, "en", body() if blocks is None else blocks)

    return make


@pytest.fixture
def key() -> Document:
    blocks: list[Block] = []
    for name in ("Anna", "Ben", "Cem"):
        blocks += [NewSheet(f"{name}: answers"), calculation()]
    return Document("Banana oil: key", "CHEM 12", "", "KEY-1", "us-letter", "en", tuple(blocks), True)


@pytest.fixture(scope="session")
def layouts() -> Mapping[str, str]:
    folder = Path(__file__).parents[2] / "templates" / "layouts"
    return {path.name: path.read_text("utf-8") for path in sorted(folder.iterdir())}
