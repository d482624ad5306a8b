"""What stands at an arrow, and what else is in the flask."""

from __future__ import annotations

import pytest

from problemgen.load.fault_log import FaultLog
from problemgen.pipeline.adding.arrows import (
    arrow_notes,
    arrow_values,
    check_arrow,
    listed_names,
    without_arrow_notes,
)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", ()),
        (" ; \n", ()),
        ("N,N-dimethylformamide", ("N,N-dimethylformamide",)),
        ("ethanol; water\r\nethanol ", ("ethanol", "water")),
    ],
)
def test_names_stand_between_semicolons_or_on_lines(text: str, names: tuple[str, ...]) -> None:
    assert listed_names(text) == names


def test_what_is_said_is_a_key_and_the_rest_a_note() -> None:
    said = arrow_values({"above": " heat\n", "below": ""}, [])
    assert said == {"above": "heat"}
    lines = list(arrow_notes(said))
    assert [line.partition(" = ")[0] for line in lines[1:]] == ["below", "auxiliaries"]
    assert list(arrow_notes({"above": "", "below": "", "auxiliaries": []})) == []
    entry = "".join(f"# {line}\n" for line in lines)
    assert without_arrow_notes(f"a = 1\n{entry}# mine\n") == "a = 1\n# mine\n"


def test_a_text_that_is_too_long_is_a_fault() -> None:
    faults = FaultLog("add")
    check_arrow(faults, {"above": "x" * 60, "below": "x" * 61})
    assert [str(one) for one in faults.faults] == [
        "add: below: found 61 letters; expected 60 at most, as they stand at the arrow"
    ]
