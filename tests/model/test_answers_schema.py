"""answers.json and its schema: every file that is built validates, and nothing beside it does."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from problemgen.model.answers import FORMAT, VERSION
from problemgen.model.expression import OPERATIONS
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.shipped import NAMES, set_of
from tests.support.small_set import STUDENTS, small_set, write_answers

SCHEMA: dict[str, Any] = json.loads(
    resources.files("problemgen.model").joinpath("answers.schema.json").read_text(encoding="utf-8")
)


@pytest.fixture(scope="module")
def validator() -> Draft202012Validator:
    return Draft202012Validator(SCHEMA)


@pytest.fixture(scope="module")
def document(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    folder = tmp_path_factory.mktemp("set")
    loaded: dict[str, Any] = json.loads(write_answers(folder, small_set(folder)).read_bytes())
    return loaded


def objects(part: Any) -> Iterator[dict[str, Any]]:
    """All parts of the schema that describe an object."""
    if isinstance(part, dict):
        if part.get("type") == "object":
            yield part
        for value in part.values():
            yield from objects(value)
    elif isinstance(part, list):
        for value in part:
            yield from objects(value)


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
    for one in objects(SCHEMA):
        assert "additionalProperties" in one
        if one["additionalProperties"] is False:
            assert set(one["required"]) == set(one["properties"])


def test_everything_is_described() -> None:
    assert list(described(SCHEMA)) == []


def test_format_version_and_operations_are_those_of_the_program() -> None:
    assert SCHEMA["properties"]["format"]["const"] == FORMAT
    assert SCHEMA["properties"]["version"]["const"] == VERSION
    heads: set[str] = set()
    for one in SCHEMA["$defs"]["expression"]["oneOf"]:
        head = one.get("prefixItems", [{}])[0]
        heads |= {head["const"]} if "const" in head else set(head.get("enum", ()))
    assert heads == OPERATIONS


def test_a_written_file_validates(validator: Draft202012Validator, document: dict[str, Any]) -> None:
    assert [error.message for error in validator.iter_errors(document)] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_template_makes_a_valid_file(validator: Draft202012Validator, tmp_path: Path, name: str) -> None:
    found = json.loads(write_answers(tmp_path, set_of(name), STUDENTS[:1]).read_bytes())
    assert [error.message[:300] for error in validator.iter_errors(found)] == []


@pytest.mark.parametrize("own", [ALCOHOL_OWN, ("triphenylmethanol.obtained",)])
def test_a_file_of_own_data_validates(validator: Draft202012Validator, tmp_path: Path, own: tuple[str, ...]) -> None:
    found = json.loads(write_answers(tmp_path, own_set(ALCOHOL, own), STUDENTS[:1]).read_bytes())
    assert len(found["own"]["p1"]) == len(own)
    assert [error.message[:300] for error in validator.iter_errors(found)] == []
    found["own"]["p1"][0]["column"] = "magnesium"
    assert len(list(validator.iter_errors(found))) == 1


def problem(document: dict[str, Any]) -> Any:
    return document["students"][0]["problems"][0]


@pytest.mark.parametrize(
    "change",
    [
        lambda d: d.update(version=2),
        lambda d: d.update(format="other"),
        lambda d: d.update(extra=1),
        lambda d: d.pop("digest"),
        lambda d: d.update(digest="sha256:xyz"),
        lambda d: d["columns"].append("1a"),
        lambda d: d["columns"].append("a1"),
        lambda d: d["set"].update(decimal_mark=";"),
        lambda d: d["set"]["policy"].update(figures="strict"),
        lambda d: d["set"]["policy"].update(unit_slip=0.5),
        lambda d: d["set"]["policy"].update(unit_slip="-1"),
        lambda d: d["templates"].clear(),
        lambda d: d["templates"]["ester"]["parts"][0].update(form="essay"),
        lambda d: d["templates"]["ester"]["parts"][0].update(points=1),
        lambda d: d["templates"]["ester"]["parts"][0].pop("prompt"),
        lambda d: d["templates"]["ester"]["parts"][0].update(prompt="The mass"),
        lambda d: d["templates"]["ester"]["parts"][0].update(prompt=[["markup", "x"]]),
        lambda d: d["templates"]["ester"].pop("scene"),
        lambda d: d["templates"]["ester"]["scene"].update(weights={}),
        lambda d: d["templates"]["ester"]["scene"].update(solvent=None),
        lambda d: d["templates"]["ester"]["scene"]["species"]["acetic-acid"].update(coefficient="-1"),
        lambda d: d["templates"]["ester"]["scene"]["further"].append({"id": "x"}),
        lambda d: d["templates"]["ester"]["told"][0].update(column="margin"),
        lambda d: d["templates"]["ester"]["told"][0].update(session=0),
        lambda d: d["set"].update(method="guess"),
        lambda d: d["set"].update(worked_solution="yes"),
        lambda d: d["set"].update(paper="a5"),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0].update(expression=["exec", "x"]),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0].update(expression=["num", 1.5]),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0].update(expression=["div", "mass(x)"]),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0].update(expression="__import__('os')"),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0].update(rounding="up"),
        lambda d: d["templates"]["ester"]["plan"]["steps"][0]["quantity"].append("x"),
        lambda d: d["templates"]["ester"]["plan"]["mistakes"][0]["rewrites"].clear(),
        lambda d: d["students"][0].update(student="a/b"),
        lambda d: d["students"][0].update(code="ABC"),
        lambda d: d["students"][0].update(mail="x"),
        lambda d: problem(d).update(problem="1"),
        lambda d: problem(d)["given"].update({"mass(x)": ["1,5", "g"]}),
        lambda d: problem(d)["given"].update({"mass(x)": [1.5, "g"]}),
        lambda d: problem(d)["answers"]["01"].update(value=2.5),
        lambda d: problem(d)["answers"]["01"].update(choice="x"),
        lambda d: problem(d)["answers"]["01"].pop("low"),
        lambda d: problem(d)["answers"]["05"].update(choice=""),
    ],
)
def test_what_is_not_as_the_schema_says_does_not_validate(
    validator: Draft202012Validator, document: dict[str, Any], change: Callable[[dict[str, Any]], None]
) -> None:
    other = copy.deepcopy(document)
    change(other)
    assert other != document
    assert not validator.is_valid(other)
