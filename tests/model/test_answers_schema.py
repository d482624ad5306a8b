"""answers.json and its schema: every file that is built validates, and nothing beside it does."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from problemgen.model.answers import FORMAT, VERSION, answers_schema
from problemgen.model.expression import OPERATIONS
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.shipped import NAMES, set_of
from tests.support.small_set import STUDENTS, small_set, write_answers

SCHEMA = answers_schema()
LEFT_OUT = {
    "Species": {"formula", "stands_for", "synonyms"},
    "Scene": {"product", "in_excess", "unknown", "unknown_rest", "solvent", "further", "standard", "driven_off"},
    "FurtherEquation": {"parallel"},
    "Told": {"second"},
    "Constant": {"written"},
    "Mistake": {"harmless"},
    "Plan": {"routes"},
    "TemplateKey": {"may_hide"},
    "KeyHead": {"translations"},
    "SetTexts": {"own"},
    "OwnTexts": {"instrument", "share_words"},
    "PartKey": {"usual_points"},
    "StudentKey": {"more", "language"},
    "OwnValue": {"step", "instrument", "capacity", "share_of", "second"},
}
"""What a file leaves out where it is empty, by the record."""


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    return Draft202012Validator(SCHEMA)


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    folder = tmp_path_factory.mktemp("set")
    loaded: dict[str, Any] = json.loads(write_answers(folder, small_set(folder)).read_bytes())
    return loaded


def described(part: Any, path: str = "") -> Iterator[str]:
    """The paths of all named properties and definitions without a description."""
    if not isinstance(part, dict):
        return
    for name in ("properties", "$defs"):
        for key, value in part.get(name, {}).items():
            target = SCHEMA["$defs"][value["$ref"].rpartition("/")[2]] if "$ref" in value else {}
            if "description" not in {**target, **value}:
                yield f"{path}/{key}"
            yield from described(value, f"{path}/{key}")


def test_the_schema_is_a_schema_and_strict() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    records = {name: one for name, one in SCHEMA["$defs"].items() if "properties" in one}
    assert records.keys() >= LEFT_OUT.keys() | {"KeyHead", "TemplateKey", "Plan", "StudentKey", "ProblemKey"}
    for name, one in {**records, "": SCHEMA}.items():
        assert one["additionalProperties"] is False
        assert set(one["properties"]) - set(one.get("required", ())) == LEFT_OUT.get(name, set())


def test_everything_is_described() -> None:
    assert list(described(SCHEMA)) == []


def test_format_version_and_operations_are_those_of_the_program() -> None:
    assert SCHEMA["properties"]["format"]["const"] == FORMAT
    assert SCHEMA["properties"]["version"]["const"] == VERSION
    heads: set[str] = set()
    for one in SCHEMA["$defs"]["ExpressionArrays"]["oneOf"]:
        heads |= {head["const"] for head in one.get("prefixItems", [])[:1]}
    assert heads == OPERATIONS


def test_a_command_prints_it() -> None:
    command = [sys.executable, "-m", "problemgen.model.answers"]
    printed = subprocess.run(command, check=True, capture_output=True, text=True, encoding="utf-8")  # noqa: S603 - our own
    assert json.loads(printed.stdout) == SCHEMA


def test_a_written_file_validates(validator: Draft202012Validator, document: dict[str, Any]) -> None:
    assert [error.message for error in validator.iter_errors(document)] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_template_makes_a_valid_file(validator: Draft202012Validator, tmp_path: Path, name: str) -> None:
    found = json.loads(write_answers(tmp_path, set_of(name), STUDENTS[:1]).read_bytes())
    assert [error.message[:300] for error in validator.iter_errors(found)] == []


@pytest.mark.parametrize("own", [ALCOHOL_OWN, ("triphenylmethanol.obtained",)])
def test_a_file_of_own_data_validates(validator: Draft202012Validator, tmp_path: Path, own: tuple[str, ...]) -> None:
    found = json.loads(write_answers(tmp_path, own_set(ALCOHOL, own), STUDENTS[:1]).read_bytes())
    assert len(found["head"]["own"]["p1"]) == len(own)
    assert [error.message[:300] for error in validator.iter_errors(found)] == []
    found["head"]["own"]["p1"][0]["column"] = "magnesium"
    assert len(list(validator.iter_errors(found))) == 1


def problem(document: dict[str, Any]) -> Any:
    return document["students"][0]["problems"][0]


def ester(document: dict[str, Any]) -> Any:
    return document["head"]["templates"]["ester"]


@pytest.mark.parametrize(
    "change",
    [
        lambda d: d.update(version=1),
        lambda d: d.update(format="other"),
        lambda d: d.update(extra=1),
        lambda d: d.pop("digest"),
        lambda d: d.update(digest="sha256:xyz"),
        lambda d: d["head"]["columns"].append("a1"),
        lambda d: d["head"].update(decimal_mark=";"),
        lambda d: d["head"]["policy"].update(figures="strict"),
        lambda d: d["head"]["policy"].update(unit_slip=0.5),
        lambda d: d["head"]["policy"].update(unit_slip="-1"),
        lambda d: d["head"]["templates"].clear(),
        lambda d: ester(d)["parts"][0]["asked"].update(form=""),
        lambda d: ester(d)["parts"][0].update(points=1),
        lambda d: ester(d)["parts"][0].pop("prompt"),
        lambda d: ester(d)["parts"][0].update(prompt="The mass"),
        lambda d: ester(d)["parts"][0].update(prompt=[["markup", "x"]]),
        lambda d: ester(d).pop("scene"),
        lambda d: ester(d)["scene"].update(weights={}),
        lambda d: ester(d)["scene"].update(solvent=None),
        lambda d: ester(d)["scene"]["species"]["acetic-acid"].update(coefficient="-1"),
        lambda d: ester(d)["scene"].update(further=[{"id": "x"}]),
        lambda d: ester(d)["told"][0].update(column="margin"),
        lambda d: ester(d)["told"][0].update(session=0),
        lambda d: d["head"].update(method="guess"),
        lambda d: d["head"].update(worked_solution="yes"),
        lambda d: d["head"].update(paper="a5"),
        lambda d: ester(d)["plan"]["steps"][0].update(expression=["exec", "x"]),
        lambda d: ester(d)["plan"]["steps"][0].update(expression=["num", 1.5]),
        lambda d: ester(d)["plan"]["steps"][0].update(expression=["div", "mass(x)"]),
        lambda d: ester(d)["plan"]["steps"][0].update(expression="__import__('os')"),
        lambda d: ester(d)["plan"]["steps"][0].update(rounding="up"),
        lambda d: ester(d)["plan"]["steps"][0].update(quantity="mass"),
        lambda d: ester(d)["plan"]["mistakes"][0]["rewrites"][0].pop(),
        lambda d: ester(d)["plan"].update(asked=[]),
        lambda d: ester(d).update(id="ester"),
        lambda d: d["students"][0].update(student="a/b"),
        lambda d: d["students"][0].update(code=1),
        lambda d: d["students"][0].update(mail="x"),
        lambda d: problem(d).update(problem="1"),
        lambda d: problem(d)["given"].update({"mass(x)": {"written": "1,5", "unit": "g"}}),
        lambda d: problem(d)["given"].update({"mass(x)": {"written": 1.5, "unit": "g"}}),
        lambda d: problem(d)["truths"]["01"].update(value=2.5),
        lambda d: problem(d)["truths"]["01"].update(also=["x"]),
        lambda d: problem(d)["truths"]["05"].update(choice=1),
    ],
)
def test_what_is_not_as_the_schema_says_does_not_validate(
    validator: Draft202012Validator, document: dict[str, Any], change: Callable[[dict[str, Any]], None]
) -> None:
    other = copy.deepcopy(document)
    change(other)
    assert other != document
    assert not validator.is_valid(other)
