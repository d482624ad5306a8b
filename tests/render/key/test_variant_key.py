"""The instructor's key: answers with their windows, and the working, confidential on every page."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.blocks import (
    Calculation,
    Chemical,
    Document,
    Heading,
    Line,
    NewSheet,
    Paragraph,
    Symbol,
    Table,
)
from problemgen.model.problem_set import Method, Student
from problemgen.model.truths import NumberTruth
from problemgen.model.variant import Variant
from problemgen.render.key.variant_key import key_document
from problemgen.render.printers.terminal import text_lines
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import STUDENTS, made, small_set


def words(line: Line) -> str:
    return "".join(
        p.formula if isinstance(p, Chemical) else p.letter if isinstance(p, Symbol) else p.text for p in line
    )


def rows(document: Document) -> list[list[list[str]]]:
    return [
        [[words(cell) for cell in row] for row in block.rows]
        for block in document.blocks
        if isinstance(block, Table) and block.caption == "Answers"
    ]


@pytest.fixture
def key(tmp_path: Path) -> tuple[Document, tuple[Variant, ...]]:
    problem_set = small_set(tmp_path)
    variants = made(problem_set, "s1")
    return key_document(problem_set, STUDENTS[0], "Ada", "ABCD-EFGH", variants), variants


def test_a_key_says_whose_it_is_and_that_it_is_confidential(key: tuple[Document, tuple[Variant, ...]]) -> None:
    document, _ = key
    assert document.confidential
    assert (document.title, document.student, document.code) == ("Small: key for s1", "Ada", "ABCD-EFGH")
    assert document.blocks[0] == NewSheet("Key: s1")


def test_a_name_that_is_the_id_stands_once(tmp_path: Path) -> None:
    problem_set = small_set(tmp_path)
    document = key_document(problem_set, Student("v001", "v001", ""), "v001", "c", made(problem_set, "v001"))
    assert document.blocks[0] == NewSheet("Key: v001")


def test_every_answer_stands_with_its_window(key: tuple[Document, tuple[Variant, ...]]) -> None:
    document, variants = key
    chromate, ester = rows(document)
    assert [row[:1] + row[2:3] + row[5:] for row in chromate] == [
        ["a", "2.500", "mmol", "1"],
        ["b", "2.000", "mmol", "1"],
        ["c", "1.250", "mmol", "1"],
        ["d", "2.000", "mmol", "1"],
        ["e", "silver nitrate", "", "1"],
        ["f", "414.7", "mg", "2"],
        ["g", "0.750", "mmol", "1"],
    ]
    for table, variant in ((chromate, variants[0]), (ester, variants[1])):
        for row, answer in zip(table, variant.answers, strict=True):
            if not isinstance(answer, NumberTruth):
                assert row[3:5] == ["–", "–"]
            else:
                low, high = (read_written(row[i]).value for i in (3, 4))
                assert low < read_written(row[2]).value < high
                assert abs(low - answer.low) < answer.value * Fraction("1e-4")


def test_what_was_given_is_told(key: tuple[Document, tuple[Variant, ...]]) -> None:
    document, _ = key
    given = [words(b.line) for b in document.blocks if isinstance(b, Paragraph) and words(b.line).startswith("Given: ")]
    assert len(given) == 2
    assert "silver nitrate: 0.1000\u00a0mol/L, 25.00\u00a0mL of solution; " in given[0]
    assert "5.00\u00a0mL" in given[1]


@for_every(NAMES)
def test_every_shipped_template_has_a_worked_solution_of_every_part(name: str) -> None:
    template = shipped(name)
    document = key_document(set_of(name), STUDENTS[0], "Ada", "c", (variant_of(name),))
    headings = [block.text for block in document.blocks if isinstance(block, Heading) and block.level == 3]
    labels = [row[0] for row in rows(document)[0]]
    assert headings == [f"({label})" for label in labels]
    assert len(labels) == len(template.parts)
    asks_numbers = any(part.asked.form == "number" for part in template.parts)
    assert any(isinstance(block, Calculation) for block in document.blocks) or not asks_numbers


def test_the_key_tells_the_way_that_the_class_is_taught() -> None:
    name = "limiting-reagent/silver-chromate"
    ways: tuple[tuple[Method, bool], ...] = (("product", False), ("extent", True))
    for method, told in ways:
        document = key_document(replace(set_of(name), method=method), STUDENTS[0], "Ada", "c", (variant_of(name),))
        assert any("ξ(AgNO₃)" in line for line in text_lines(document.blocks)) is told


def test_windows_that_the_set_has_changed_are_told(tmp_path: Path) -> None:
    more = "[problem.part.d]\nreplace_percent = 5\n[problem.policy]\nwiden_percent = 1.5\n"
    problem_set = small_set(tmp_path, more)
    document = key_document(problem_set, STUDENTS[0], "Ada", "c", made(problem_set, "s1"))
    told = [words(block.line) for block in document.blocks if isinstance(block, Paragraph)]
    windows = [line for line in told if line.startswith("Windows: ")]
    assert windows == ["Windows: (a), (b), (c) widened by 1.5 %; (d) replaced by ± 5 %."]
