"""A form that is not shipped goes the whole way, from the template to the practice page, by its own file alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from problemgen.audit.marked import Marking, marking_of
from problemgen.errors import FaultsError
from problemgen.load.resources import layouts
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.variants import variant_from
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from problemgen.model.verdict import StudentResult
from problemgen.plan.forms import FORMS
from problemgen.practice.content import Contents
from problemgen.practice.packing import grown
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.sheet import problem_blocks
from tests.support.listed_form import LISTED
from tests.support.small_set import CHROMATE, banks

LIST = "\n[[part]]\nquantity = 'one_of'\nof = 'yellow | red | colourless'\nprompt = 'Which colour has the solution?'\n"


@pytest.fixture(autouse=True)
def _known(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(FORMS, LISTED.name, LISTED)  # type: ignore[arg-type]


def template_of(folder: Path, part: str = LIST) -> Template:
    path = folder / "t.toml"
    path.write_text(CHROMATE + part, encoding="utf-8")
    return load_template(path, "t", banks())


@pytest.fixture
def variant(tmp_path: Path) -> Variant:
    template = template_of(tmp_path)
    candidates = draw_candidates(template, Stream(b"listed", "listed", "p1"), ["s0"], 0, 1)
    return variant_from(template, candidates, 0, "s0", "p1")


@pytest.fixture
def marking(variant: Variant) -> Iterator[Marking]:
    with marking_of(variant.template, [variant]) as marking:
        yield marking


def test_the_sheet_shows_the_options_and_the_solution_the_answer(variant: Variant) -> None:
    told = [*text_lines(problem_blocks(variant, 1))]
    assert any(line.startswith("(h) Which colour has the solution?") for line in told)
    blank = LISTED.blank(variant.template.scene, variant.template.plan, variant.template.parts[-1].asked, 3)
    assert [piece.text for line in blank.choices for piece in line] == ["colourless", "red", "yellow"]
    assert [*text_lines(variant_solution(variant))][-1] == "The answer is yellow."


@pytest.mark.parametrize(
    ("wrote", "verdict", "read"),
    [
        ("yellow", "right", "yellow"),
        ("it is Yelow", "right", "yellow"),
        ("red", "wrong", "red"),
        ("blue", "unread", ""),
        ("", "blank", ""),
    ],
)
def test_it_is_marked_by_answers_json_alone(marking: Marking, wrote: str, verdict: str, read: str) -> None:
    parts = marking.head.templates[marking.keys[0].problems[0].template].parts
    results = marking.mark(0, {part.id: wrote if part.id == "08" else "" for part in parts})
    assert (results["08"].verdict, results["08"].read) == (verdict, read)
    key = marking.keys[0]
    result = StudentResult(key.student, key.name, key.section, key.code, tuple(results.values()))
    told = [line.strip() for line in text_lines(feedback_document(marking.head, key, result).blocks)]
    assert told[-2] == "The answer is yellow."
    assert ("✗ Not right. You wrote red." in told) == (verdict == "wrong")


def test_the_practice_page_is_told_the_options_and_the_answer(variant: Variant) -> None:
    contents = Contents(layouts())
    contents.add(variant.template, [variant])
    data = contents.data()
    body = grown(data["templates"][0]["body"])
    part = body["parts"][-1]
    assert part["form"] == "listed"
    assert [one["id"] for one in part["choices"]] == ["colourless", "red", "yellow"]
    assert body["problems"][0]["answers"]["08"] == {"text": "yellow"}


def test_a_list_of_one_is_a_fault_of_the_template(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match=r"one_of has nothing to choose from; missing: answers, divided by \|"):
        template_of(tmp_path, LIST.replace("yellow | red | colourless", "yellow"))
