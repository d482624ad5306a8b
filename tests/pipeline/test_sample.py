from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline import sample as module

TEMPLATES = Path(__file__).parents[2] / "templates"

ONE_STEP = """title = "Salt"
topic = "t"
difficulty = 1
[given.sodium-chloride]
mass = { from = 1.000, to = 9.000, unit = "g", step = 0.001 }
[[part]]
quantity = "amount"
of = "sodium-chloride"
unit = "mmol"
"""


def sample(name: str, count: int) -> list[str]:
    return [line for one in module.sample(name, count) for line in str(one).split("\n")]


def test_a_sample_shows_the_sheet_the_answers_and_the_working() -> None:
    lines = list(sample("equations/propane-burns", 1))
    assert lines == [
        "══ Propane burns: variant 1 of 1",
        "",
        "Problem 1: Propane burns",
        "A gas grill burns propane in air.",
        "C₃H₈ + O₂ → CO₂ + H₂O",
        "In words: propane + oxygen → carbon dioxide + water.",
        "(a) Balance the equation with the smallest whole numbers, and write it out. [2 points] ____",
        "",
        "── Answers",
        "  (a) C3H8 + 5 O2 -> 3 CO2 + 4 H2O",
        "",
        "── Worked solution",
        "",
        "(a)",
        "Each element as often on the left as on the right",
        "  Element  Atoms on the left  Atoms on the right",
        "  C                        3                   3",
        "  H                        8                   8",
        "  O                       10                  10",
        "Balanced: C₃H₈ + 5 O₂ → 3 CO₂ + 4 H₂O",
        "",
    ]


def test_as_many_variants_as_asked_each_with_numbers_of_its_own() -> None:
    lines = list(sample("amounts/three-weighings", 4))
    heads = [line for line in lines if line.startswith("══")]
    assert [head.rpartition(": ")[2] for head in heads] == [f"variant {n} of 4" for n in range(1, 5)]
    answers = [lines[i + 4] for i, line in enumerate(lines) if line == "── Answers"]
    assert len(set(answers)) == 4
    assert list(sample("amounts/three-weighings", 4)) == lines


def test_a_choice_is_shown_by_its_name() -> None:
    answers = [line for line in sample("yield/zinc-iodide", 1) if line.startswith("  (")]
    assert answers[4] in ("  (e) zinc", "  (e) iodine")
    units = [line.split(" ")[-1] for line in answers]
    assert [*units[:4], *units[5:]] == ["mmol", "mmol", "mmol", "mmol", "g", "%"]


def test_all_sessions_are_shown() -> None:
    text = "\n".join(sample("preparations/aspirin", 1))
    assert text.count("Acetylsalicylic acid (continued)") == 1
    assert "(e) The percent yield of acetylsalicylic acid [2 points] ____ %" in text


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "yield/zinc-iodide.toml"])
def test_a_template_is_found_by_its_name_with_or_without_the_ending(name: str) -> None:
    assert next(iter(sample(name, 1))) == "══ Zinc iodide from the elements: variant 1 of 1"


def test_a_file_anywhere_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "salt.toml"
    path.write_text(ONE_STEP, encoding="utf-8")
    assert next(iter(sample(str(path), 2))) == "══ Salt: variant 1 of 2"


def test_a_misspelt_name_is_told_with_the_nearest() -> None:
    with pytest.raises(FaultsError) as caught:
        list(sample("yield/zink-iodide", 1))
    assert str(caught.value) == (
        "yield/zink-iodide: found no such template; expected a file, or the name of a template that `list` shows. "
        "Did you mean 'yield/zinc-iodide'?"
    )
