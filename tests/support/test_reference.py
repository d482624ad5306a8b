"""The references in the READMEs are those of the records that read the files."""

from __future__ import annotations

from typing import Literal

import pytest
from pydantic import Field

from problemgen.model.document import Document, Flag, Number, Text
from tests.support.reference import REFERENCES, ROOT, reference, with_reference


class Beaker(Document):
    """A beaker.

    Of glass.
    """

    name: Text
    size: Number | None = Field(default=None, alias="holds", description="In mL | to the brim.")
    kind: Literal["tall", "low"] = "low"
    marks: tuple[Number, ...] = ()
    pair: tuple[Number, Number]
    is_clean: Flag = True
    notes: dict[Text, Text] = Field(default_factory=dict)


def test_a_key_is_told_with_its_kind_and_what_holds_without_it() -> None:
    assert reference((("[[beaker]]", Beaker),)).splitlines() == [
        *("### [[beaker]]", "", "A beaker. Of glass.", "", "| key | what | where it is left out |", "|---|---|---|"),
        "| `name` | text | not to be left out |",
        "| `holds` | number: In mL \\| to the brim. | – |",
        '| `kind` | `"tall"` or `"low"` | `"low"` |',
        "| `marks` | list: number | – |",
        "| `pair` | list of 2: number | not to be left out |",
        "| `is_clean` | true or false | true |",
        "| `notes` | table: text by text | – |",
    ]


@pytest.mark.parametrize("name", REFERENCES)
def test_a_readme_has_the_reference_of_today(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert with_reference(text, REFERENCES[name]) == text, "python tests/support/reference.py writes it anew"


def test_a_readme_without_marks_is_refused() -> None:
    with pytest.raises(ValueError, match="no marks of a reference"):
        with_reference("nothing", REFERENCES["banks/README.md"])
