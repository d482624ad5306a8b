"""What can be asked: every question that is offered is one that the reader of templates takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.sets.courses import Course
from problemgen.load.templates.template import load_template
from problemgen.model.preview import Question
from problemgen.model.template import Template
from problemgen.pipeline.preparing.questions import questions

SHIPPED = Course()
BANKS = SHIPPED.banks()

SOME = (
    "preparations/aspirin",
    "limiting-reagent/silver-chromate",
    "titrations/borax",
    "gases/hydrogen-from-aluminium",
    "amounts/four-ways",
)


def part_text(question: Question) -> str:
    return "\n[[part]]\n" + "".join(f'{key} = "{value}"\n' for key, value in question.part.items())


def template(name: str) -> Template:
    return load_template(SHIPPED.templates[name], name, BANKS)


@pytest.mark.parametrize("name", SOME)
def test_what_is_offered_can_be_asked(name: str, tmp_path: Path) -> None:
    text = SHIPPED.templates[name].read_text(encoding="utf-8")
    path = tmp_path / "more.toml"
    refused = []
    for question in questions(template(name)):
        path.write_text(text + part_text(question), encoding="utf-8")
        try:
            load_template(path, name, BANKS)
        except FaultsError as error:
            refused.append((dict(question.part), str(error)))
    assert refused == []


def test_what_is_asked_already_is_not_offered() -> None:
    offered = [dict(one.part) for one in questions(template("preparations/aspirin"))]
    assert {"quantity": "limiting_reagent"} not in offered
    assert {"quantity": "mass", "of": "product"} not in offered
    assert {"quantity": "amount", "of": "product", "from": "each reagent", "unit": "mmol"} in offered


def test_what_rests_on_what_is_obtained_comes_in_the_second_session() -> None:
    offered = questions(template("preparations/aspirin"))
    by_role = {one.part["role"]: one.session for one in offered if "role" in one.part}
    assert by_role["actual"] == 2
    assert by_role["consumed"] == 1


def test_no_two_questions_read_alike() -> None:
    words = [one.words for one in questions(template("limiting-reagent/silver-chromate"))]
    assert len(words) == len(set(words))
