"""The words of parts and numbers: those of the author, or the engine's."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.exact.digits import read_written
from problemgen.load.templates.template import load_template
from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.template import Template, label_of
from problemgen.render.words.prompts import points_text, prompt_of, quantity_text
from tests.support.small_set import CHROMATE, banks


def words(line: Line) -> str:
    return "".join(
        p.formula if isinstance(p, Chemical) else p.text for p in line if isinstance(p, Prose | Strong | Chemical)
    )


def prompts(template: Template) -> list[str]:
    return [words(prompt_of(template, part)) for part in template.parts]


@pytest.fixture
def chromate(tmp_path: Path) -> Template:
    path = tmp_path / "t.toml"
    path.write_text(CHROMATE, encoding="utf-8")
    return load_template(path, "t", banks())


@pytest.mark.parametrize(("index", "label"), [(0, "a"), (25, "z"), (26, "aa"), (27, "ab"), (51, "az"), (52, "ba")])
def test_parts_have_letters(index: int, label: str) -> None:
    assert label_of(index) == label


def test_no_two_parts_share_a_letter() -> None:
    assert len({label_of(index) for index in range(26 * 27)}) == 26 * 27


@pytest.mark.parametrize(
    ("text", "expected"),
    [("1", "1 point"), ("1.0", "1.0 point"), ("2", "2 points"), ("0.5", "0.5 points"), ("0", "0 points")],
)
def test_points_are_told_in_words(text: str, expected: str) -> None:
    assert points_text(read_written(text)) == expected


@pytest.mark.parametrize(
    ("number", "unit", "expected"),
    [
        ("2.60", "mL", "2.60\u00a0mL"),
        ("37", "%", "37\u00a0%"),
        ("4", "1", "4"),
        ("9.2e-4", "mol", "9.2\u00a0×\u00a010⁻⁴\u00a0mol"),
    ],
)
def test_given_values_are_printed_with_their_unit(number: str, unit: str, expected: str) -> None:
    assert quantity_text(Datum(read_written(number), unit)) == expected


def test_the_engine_asks_in_words(chromate: Template) -> None:
    assert prompts(chromate) == [
        "The amount of silver nitrate (AgNO3)",
        "The amount of potassium chromate (K2CrO4)",
        "The amount of silver chromate that could form if silver nitrate were used up completely",
        "The amount of silver chromate that could form if potassium chromate were used up completely",
        "Which reagent is the limiting reagent? Tick one.",
        "The theoretical yield of silver chromate (Ag2CrO4), in milligrams",
        "The amount of the reagent in excess that is left over",
    ]


def test_the_author_is_quoted(tmp_path: Path) -> None:
    path = tmp_path / "t.toml"
    path.write_text(CHROMATE.replace("points = 2", 'points = 2\nprompt = "How much, #in *mg*?"'), encoding="utf-8")
    assert "How much, #in *mg*?" in prompts(load_template(path, "t", banks()))
