"""Values go into a file of ours and come back; what stands there otherwise is refused, with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import pytest
from pydantic import ValidationError

from problemgen.chemistry.formula import read_formula
from problemgen.exact.digits import read_written
from problemgen.model.file_types import (
    Count,
    DecimalText,
    ExactText,
    FileForm,
    FormulaText,
    InMemory,
    LeftOut,
    Share,
    SortedTexts,
    WrittenText,
)


@dataclass(frozen=True)
class Inner:
    """A record in another."""

    exact: ExactText
    """An exact number."""


@dataclass(frozen=True)
class Outer:
    """A record with a field of each type."""

    inner: Inner
    decimal: DecimalText
    written: WrittenText
    share: Share
    formula: FormulaText
    several: SortedTexts
    count: Count
    worked: InMemory[tuple[str, ...]]
    known: InMemory[Mapping[str, int]]
    words: LeftOut[str] = ""
    capacity: LeftOut[ExactText | None] = None
    seen: InMemory[frozenset[str]] = field(default_factory=frozenset)


FORM = FileForm(Outer)
TEXT = (
    b'{"inner":{"exact":"-3/2"},"decimal":"0.0333333333333","written":"2.50e-4","share":"1/3","formula":"CuSO4.5H2O",'
    b'"several":["a","b"],"count":2}'
)


def record(**changes: Any) -> Outer:
    fields: dict[str, Any] = {
        "inner": Inner(Fraction(-3, 2)),
        "decimal": Fraction("0.0333333333333"),
        "written": read_written("2.50e-4"),
        "share": Fraction(1, 3),
        "formula": read_formula("CuSO4.5H2O"),
        "several": frozenset("ba"),
        "count": 2,
        "worked": (),
        "known": {},
    }
    return Outer(**fields | changes)


def test_there_and_back() -> None:
    assert FORM.text(record()) == TEXT
    assert FORM.read(TEXT) == record()
    assert FORM.data(record())["inner"] == {"exact": "-3/2"}


def test_what_is_empty_is_left_out_and_what_is_not_is_there() -> None:
    full = record(words="x", capacity=Fraction(250))
    assert FORM.text(full) == TEXT.removesuffix(b"}") + b',"words":"x","capacity":"250"}'
    assert FORM.read(FORM.text(full)) == full


def test_what_lives_in_memory_is_not_written() -> None:
    assert FORM.text(record(worked=("a",), known={"a": 1}, seen=frozenset("a"))) == TEXT


def test_the_schema_tells_what_stands_in_every_file() -> None:
    schema = FORM.schema()
    assert set(schema["properties"]) - set(schema["required"]) == {"words", "capacity"}
    assert not {"worked", "known", "seen"} & set(schema["properties"])
    assert schema["$defs"]["Inner"] == {
        "description": "A record in another.",
        "type": "object",
        "additionalProperties": False,
        "required": ["exact"],
        "properties": {
            "exact": {"description": "An exact number.", "type": "string", "pattern": "^-?[0-9]+(/[1-9][0-9]*)?$"}
        },
    }


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [
        ('"-3/2"', '"3/0"', ("inner", "exact")),
        ('"-3/2"', '"1.5"', ("inner", "exact")),
        ('"-3/2"', "1.5", ("inner", "exact")),
        ('"-3/2"', '"٣"', ("inner", "exact")),
        ('{"exact"', '{"more":1,"exact"', ("inner", "more")),
        ('"0.0333333333333"', '"1e9999"', ("decimal",)),
        ('"0.0333333333333"', '".5"', ("decimal",)),
        ('"0.0333333333333"', "0.5", ("decimal",)),
        ('"2.50e-4"', '"2,50"', ("written",)),
        ('"2.50e-4"', f'"{"9" * 101}"', ("written",)),
        ('"1/3"', '"4/3"', ("share",)),
        ('"1/3"', '"-1/3"', ("share",)),
        ('"CuSO4.5H2O"', '"cuso4"', ("formula",)),
        ('"CuSO4.5H2O"', "5", ("formula",)),
        ('["a","b"]', '["a",1]', ("several", 1)),
        ('"count":2', '"count":0', ("count",)),
        ('"count":2', '"count":2,"worked":["a"]', ("worked",)),
        ('"count":2', '"count":2,"seen":[]', ("seen",)),
        ('"count":2', '"count":2,"more":2', ("more",)),
    ],
)
def test_anything_else_is_refused_at_its_place(old: str, new: str, place: tuple[str | int, ...]) -> None:
    text = TEXT.decode()
    assert old in text
    with pytest.raises(ValidationError) as caught:
        FORM.read(text.replace(old, new).encode())
    assert {one["loc"][: len(place)] for one in caught.value.errors()} == {place}
