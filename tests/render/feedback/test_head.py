"""What feedback says first: what cost the points, what to practise, what is said of several parts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from problemgen.load.answers.answers import Answers
from problemgen.model.answers import TemplateKey
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.feedback.head import first_words, shared_remarks
from problemgen.render.printers.terminal import text_lines
from tests.support.small_set import small_set, write_answers

MASS = "mass(isopentyl-alcohol)"


def part(
    label: str,
    points: int = 0,
    verdict: str = "mistake",
    *titles: str,
    remarks: tuple[str, ...] = (),
    at: tuple[str, ...] = (),
) -> PartResult:
    number = f"{'abcdefghij'.index(label[1]) % 4 + 1:02}"
    return PartResult(f"p{label[0]}", number, label, verdict, "r", "s", remarks, Fraction(points), Fraction(2), "1",
                      "1", mistakes=titles, titles=titles, at=at)  # fmt: skip


def result(*parts: PartResult) -> StudentResult:
    return StudentResult("s1", "Ada", "A", "CODE", parts)


def told(folder: Path, *parts: PartResult, handed_in: bool = True) -> list[str]:
    with Answers(write_answers(folder, small_set(folder))) as answers:
        chromate, ester = answers.head.templates.values()
    templates: dict[str, TemplateKey] = {"p1": chromate, "p2": replace(ester, id="preparations/ester")}
    return [line for line in text_lines(first_words(replace(result(*parts), handed_in=handed_in), templates)) if line]


def test_one_cause_is_told_as_one_and_practised(tmp_path: Path) -> None:
    assert told(
        tmp_path,
        part("1a", 2, "right"),
        part("2a", 0, "mistake", "density left out", at=(MASS,)),
        part("2b", 1, "mistake", "density left out", at=(MASS,)),
    ) == [
        "You lost 3 of 6 points, all from one thing: the mass of 3-methylbutan-1-ol: density left out (2a, 2b).",
        "To practise this:",
        "- 2a, 2b: problems like “Isopentyl acetate”",
    ]


def test_several_causes_stand_by_what_they_cost(tmp_path: Path) -> None:
    parts = (
        part("1a", 1, "slip"),
        part("1b", 0, "wrong"),
        part("1c", 0, "wrong"),
        part("1d", 1, "right"),
        part("1e", 1, "blank"),
    )
    assert told(tmp_path, *parts) == [
        (
            "You lost 7 of 10 points. 4 points: the amount of potassium chromate and the amount of silver chromate "
            "from silver nitrate: not right (1b, 1c); 1 point: the amount of silver nitrate: nearly right: a slip "
            "(1a); 1 point: how the answer is written (1d); and more."
        )
    ]


def test_a_cause_of_many_quantities_is_told_alone(tmp_path: Path) -> None:
    told_alone = told(tmp_path, *(part(f"1{letter}", 0, "wrong") for letter in "abc"))
    assert told_alone == ["You lost 6 of 6 points, all from one thing: not right (1a, 1b, 1c)."]


def test_the_limiting_reagent_is_told_in_plain_words(tmp_path: Path) -> None:
    first, *_ = told(tmp_path, part("1a", 0, "mistake", "excess taken", at=("extent()",)))
    assert first == "You lost 2 of 2 points, all from one thing: which reagent limits: excess taken (1a)."


def test_many_parts_are_counted(tmp_path: Path) -> None:
    (line,) = told(tmp_path, *(part(f"1{letter}", 0, "blank") for letter in "abcdefghij"))
    assert line.endswith("no answer (1a, 1b, 1c, 1d, 1e, 1f, 1g, 1h and 2 more).")


def test_nothing_is_said_where_nothing_was_lost_or_handed_in(tmp_path: Path) -> None:
    assert told(tmp_path, part("1a", 2, "right")) == []
    assert told(tmp_path, part("1a", 0, "blank"), handed_in=False) == []
    assert told(tmp_path, replace(part("1a", 0, "wrong"), dropped=True)) == []


def test_a_remark_of_several_parts_is_shared() -> None:
    parts = (part("1a", remarks=("No unit.", "x", "x")), part("1b", remarks=("No unit.",)), part("2a", remarks=("y",)))
    assert shared_remarks(result(*parts)) == {"No unit.": ("1a", "1b")}
