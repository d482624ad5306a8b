"""Arguments of the front door: what does not fit is told at once, by name, before anything is done."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from problemgen import build, mark, open_answers, read_answer, sample
from problemgen.errors import FaultsError


@pytest.mark.parametrize(
    ("call", "faults"),
    [
        (lambda: read_answer(39.5), ["read_answer: text: found 39.5; expected a valid string"]),  # type: ignore[arg-type]
        (lambda: read_answer(b"39.5"), ["read_answer: text: found b'39.5'; expected a valid string"]),  # type: ignore[arg-type]
        (lambda: read_answer("1,2", decimal_mark=";"), ["read_answer: decimal_mark: found ';'; expected '.' or ','"]),  # type: ignore[arg-type]
        (lambda: sample("gases", 0), ["sample: n: found 0; expected greater than or equal to 1"]),
        (lambda: sample("gases", "2"), ["sample: n: found '2'; expected a valid integer"]),  # type: ignore[arg-type]
        (lambda: open_answers(None), ["open_answers: folder: found None; expected the path of a file or folder"]),  # type: ignore[arg-type]
        (lambda: mark("built", []), ["mark: responses: found []; expected the path of a file, or a list of paths"]),  # type: ignore[arg-type]
        (
            lambda: build(5, "out", count=-1, roster=b"r"),  # type: ignore[arg-type]
            [
                "build: count: found -1; expected greater than or equal to 1",
                "build: folder: found 5; expected the path of a file or folder",
                "build: roster: found b'r'; expected the path of a file or folder",
            ],
        ),
    ],
)  # fmt: skip
def test_arguments_that_do_not_fit_are_told_together(call: Callable[[], Any], faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        call()
    assert str(caught.value).splitlines() == faults


def test_what_fits_passes_by_position_or_by_name() -> None:
    assert read_answer(text="39.5 g") == read_answer("39.5 g")
    with pytest.raises(FaultsError, match=r"elsewhere/answers\.json: found no such file"):
        open_answers(folder=Path("elsewhere"))


def test_a_missing_or_unknown_argument_raises_as_with_any_function() -> None:
    with pytest.raises(TypeError, match="missing a required argument: 'text'"):
        read_answer()  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="unexpected keyword argument 'units'"):
        read_answer("39.5 g", units="g")  # type: ignore[call-arg]
