"""The page's own judging, run in a browser on the contents of an answers.json."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from problemgen.exact.digits import read_written
from problemgen.model.answers import KeyHead
from problemgen.model.file_types import FileForm
from problemgen.model.fixed import Datum
from problemgen.practice.content import given_windows, printed_values
from problemgen.practice.lists import units_list
from problemgen.practice.modules import joined
from problemgen.practice.rules import page_rules
from problemgen.practice.tries import tries_data

__all__ = ["forms_of", "judged_in_page", "shown"]

_HEAD = FileForm[KeyHead](KeyHead)
ASSETS = Path(__file__).parents[2] / "problemgen" / "practice" / "assets"
_ENTRY = """
import { judgeProblem } from "./judge.js";
import { problemKey, templateKey } from "./page.js";
import { useRules } from "./rules.js";
import { useUnits } from "./units.js";
const judgeAll = ({ rules, units, templates, problems, mark }) => {
  useRules(rules);
  useUnits(units);
  const shells = templates.map((key) => ({ key }));
  return problems.map(({ template, given, printed, answers, cells }) =>
    judgeProblem(templateKey(shells[template]), problemKey({ given, printed, answers }), cells, mark).map(
      ({ label, verdict, reason, mistakes, read, remarks }) => [label, verdict, reason, mistakes, read, remarks.length],
    ),
  );
};
"""


def judged_in_page(
    page: Page,
    answers: Mapping[str, Any],
    responses: Sequence[tuple[str, Mapping[str, str]]],
    rules: Mapping[str, Any] | None = None,
) -> list[dict[str, list[Any]]]:
    """For each student's cells the results by column: label, verdict, reason, mistakes, what was read, remarks.

    `rules` may stand in the place of those that a page is made with.
    """
    modules = {path.name: path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js")}
    script = joined({**modules, "entry.js": _ENTRY.lstrip()}, "entry.js")
    templates = answers["head"]["templates"]
    order = list(templates)
    students = {student["student"]: student for student in answers["students"]}
    asked = [(students[who], cells) for who, cells in responses]
    problems = [
        _problem(templates[problem["template"]], order.index(problem["template"]), problem, cells)
        for student, cells in asked
        for problem in student["problems"]
    ]
    data = {
        "rules": rules or page_rules(),
        "units": units_list(),
        "templates": [{**template, "tries": _tries(answers, name)} for name, template in templates.items()],
        "problems": problems,
        "mark": answers["head"]["decimal_mark"],
    }
    results = iter(page.evaluate(f"data => {{ {script}; return judgeAll(data); }}", data))
    return [
        {
            f"{problem['problem'].removeprefix('p')}{result[0]}": result
            for problem in student["problems"]
            for result in next(results)
        }
        for student, _ in asked
    ]


def _problem(
    template: Mapping[str, Any], index: int, problem: Mapping[str, Any], cells: Mapping[str, str]
) -> dict[str, Any]:
    """A problem as the page knows it: a reagent is chosen by its id."""
    ids = {species["name"]: name for name, species in template["scene"]["species"].items()}
    number = problem["problem"].removeprefix("p")
    mine = {part["label"]: cells.get(f"{number}{part['label']}", "") for part in template["parts"]}
    chosen = {part["label"] for part in template["parts"] if part["asked"]["form"] == "species"}
    return {
        "template": index,
        "given": given_windows({name: _datum(told) for name, told in problem["given"].items()}),
        "printed": printed_values({name: _datum(told) for name, told in problem["given"].items()}),
        "answers": problem["truths"],
        "cells": {label: ids.get(cell, "") if label in chosen else cell for label, cell in mine.items()},
    }


def _tries(answers: Mapping[str, Any], name: str) -> dict[str, Any]:
    """The tries of a template, with the units of the first student who has it."""
    head = _HEAD.read(json.dumps(answers["head"]).encode())
    problems = (one for student in answers["students"] for one in student["problems"])
    problem = next(one for one in problems if one["template"] == name)
    return tries_data(head.templates[name], {given: _datum(told) for given, told in problem["given"].items()})


def _datum(told: Mapping[str, str]) -> Datum:
    return Datum(read_written(told["written"]), told["unit"])


def shown(results: Mapping[str, list[Any]], forms: Mapping[str, str]) -> dict[str, list[Any]]:
    """What both sides tell. Of a reagent the page need not tell what was read: it offers the reagents."""
    return {
        column: [*result[:3], *([] if forms[column] == "species" else result[3:])] for column, result in results.items()
    }


def forms_of(answers: Mapping[str, Any]) -> dict[str, str]:
    """The forms of all parts of a set, by column."""
    return {
        f"{problem['problem'].removeprefix('p')}{part['label']}": part["asked"]["form"]
        for problem in answers["students"][0]["problems"]
        for part in answers["head"]["templates"][problem["template"]]["parts"]
    }
