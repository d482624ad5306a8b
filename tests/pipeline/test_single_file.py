"""A file under a chosen name takes the place of nothing that the program needs."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import OutputError
from problemgen.pipeline.single_file import check_single_file


@pytest.mark.parametrize("name", ["answers.json", "secret", "set.toml", "course.toml", "roster.csv", "responses.csv"])
def test_a_single_file_does_not_take_the_place_of_one_that_is_needed(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutputError) as error:
        check_single_file(tmp_path / name)
    told = f"{tmp_path / name} is a file that the program needs; choose another name. Nothing was written"
    assert str(error.value) == told


@pytest.mark.parametrize("name", ["", ".", "/"])
def test_a_single_file_has_a_name(name: str) -> None:
    with pytest.raises(OutputError, match="is no file name; nothing was written"):
        check_single_file(Path(name))
    check_single_file(Path("practice.html"))
