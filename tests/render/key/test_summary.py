"""The instructor's summary: what each rule turned away, the spread of answers, the widths of windows."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.make.admissible import RULES
from problemgen.model.blocks import Chemical, Document, Line, Note, Paragraph, Prose, Symbol, Table
from problemgen.model.problem_set import ProblemSet
from problemgen.model.variant import Rejections
from problemgen.render.key.summary import RULE_WORDS, Spread, summary_document
from tests.support.small_set import HEAD, made, small_set


def words(line: Line) -> str:
    return "".join(
        p.formula if isinstance(p, Chemical) else f"{p.letter}({p.of})" if isinstance(p, Symbol) else p.text
        for p in line
    )


def table(document: Document, start: str) -> list[list[str]]:
    (found,) = (b for b in document.blocks if isinstance(b, Table) and b.caption.startswith(start))
    return [[words(cell) for cell in row] for row in found.rows]


@pytest.fixture
def problem_set(tmp_path: Path) -> ProblemSet:
    return small_set(tmp_path)


def summary(problem_set: ProblemSet, rejections: dict[tuple[str, str], Rejections] | None = None) -> Document:
    spread = Spread()
    for student in ("s1", "s2"):
        for variant in made(problem_set, student):
            spread.add(variant)
    return summary_document(problem_set, 2, rejections or {}, spread, ["s2: a note."])


def test_every_rule_has_a_column() -> None:
    assert tuple(RULE_WORDS) == RULES


def test_the_summary_is_confidential_and_holds_the_notes(problem_set: ProblemSet) -> None:
    document = summary(problem_set)
    assert document.confidential
    assert (document.title, document.student) == ("Small: summary of the build", "")
    first, last = document.blocks[0], document.blocks[-1]
    assert isinstance(first, Paragraph)
    assert words(first.line).startswith("2 students. ")
    assert last == Note((Prose("s2: a note."),))


def test_what_the_rules_turned_away_is_told_in_percent(problem_set: ProblemSet) -> None:
    counts = Rejections(200, {**dict.fromkeys(RULES, 0), "flask": 100, "mistake": 33})
    rejections = {("p1", "chromate"): counts, ("p2", "ester"): Rejections(0, dict.fromkeys(RULES, 0))}
    assert table(summary(problem_set, rejections), "What the rules turned away") == [
        ["1", "chromate", "200", "50", "0", "0", "0", "0", "17", "34"],
        ["2", "ester", "0", *"–" * 6, "–"],
    ]


def test_the_spread_tells_least_median_and_greatest(problem_set: ProblemSet) -> None:
    rows = {row[0]: row[1:] for row in table(summary(problem_set), "Spread of the answers")}
    assert list(rows) == ["1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d"]
    assert rows["1a"][1:5] == ["2.50", "2.50", "2.50", "mmol"]
    assert rows["1a"][0] == "n(AgNO3)"
    assert rows["1e"] == ["silver nitrate 2", "", "", "", "", "", ""]
    for label, row in rows.items():
        if label != "1e":
            assert 0 < float(row[5]) <= float(row[6]) < 2


def test_a_problem_with_a_choice_of_templates_has_a_second_number(tmp_path: Path) -> None:
    head = HEAD.replace('template = "ester"', 'choose = ["ester", "chromate"]')
    problem_set = small_set(tmp_path, head=head)
    counts = Rejections(10, dict.fromkeys(RULES, 0))
    keys = [("p1", "chromate"), ("p2", "ester"), ("p2", "chromate")]
    document = summary_document(problem_set, 2, dict.fromkeys(keys, counts), Spread(), [])
    assert [row[0] for row in table(document, "What the rules")] == ["1", "2.1", "2.2"]


def test_templates_that_nobody_got_have_no_rows(problem_set: ProblemSet) -> None:
    document = summary_document(problem_set, 0, {}, Spread(), [])
    assert table(document, "Spread of the answers") == []
