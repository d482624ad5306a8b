from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from problemgen.practice.packing import grown
from problemgen.practice.page import page_words, practice_page
from tests.practice.conftest import TEMPLATES


@pytest.fixture(scope="session")
def data(practice_file: Path) -> dict[str, Any]:
    text = practice_file.read_text(encoding="utf-8")
    found = re.search(r'id="practice-data">(.*?)</script>', text, re.DOTALL)
    assert found is not None
    result: dict[str, Any] = json.loads(found[1])
    return result


@pytest.fixture(scope="session")
def problems(data: dict[str, Any]) -> list[dict[str, Any]]:
    return [problem for template in data["templates"] for problem in grown(template["body"])["problems"]]


def test_a_page_holds_the_templates_asked_for_with_so_many_variants(
    data: dict[str, Any], problems: list[dict[str, Any]]
) -> None:
    assert [template["id"] for template in data["templates"]] == list(TEMPLATES)
    codes = [template["codes"] for template in data["templates"]]
    assert [len(set(some)) for some in codes] == [1 if name.startswith("equations/") else 5 for name in TEMPLATES]
    assert [one["code"] for one in problems] == [code for some in codes for code in some]


def test_an_answer_is_told_by_its_number_and_window_or_a_choice_or_a_formula(problems: list[dict[str, Any]]) -> None:
    kinds = {tuple(sorted(answer)) for one in problems for answer in one["answers"].values()}
    assert kinds == {("figures", "high", "low", "value"), ("choice",), ("text",)}


def test_the_table_of_elements_is_whole(data: dict[str, Any]) -> None:
    assert len(data["elements"]) == 118
    assert data["elements"][16] == {"number": 17, "symbol": "Cl", "name": "chlorine", "weight": "35.45"}
    assert data["elements"][42]["weight"] == ""


def test_hostile_data_cannot_leave_its_element() -> None:
    hostile = "</script><script>alert(1)</script><!--"
    text = practice_page({"title": hostile, "language": "en", "direction": "ltr", "words": page_words()})
    assert text.count("<script") == 2
    assert "alert(1)</script>" not in text
    assert "&lt;/script&gt;&lt;script&gt;" in text


def test_the_page_may_run_its_own_script_alone_and_ask_for_nothing(practice_file: Path) -> None:
    text = practice_file.read_text(encoding="utf-8")
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)
    assert policy is not None
    assert re.fullmatch(
        r"default-src 'none'; script-src 'sha256-[\w+/=]{44}'; style-src 'unsafe-inline'; base-uri 'none'; "
        r"form-action 'none'",
        policy[1],
    )
    assert not re.search(r'(?:src|href)="(?!#)', text)
