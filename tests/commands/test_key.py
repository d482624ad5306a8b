"""`problemgen key`: the worked key of one student, from the built set alone."""

from __future__ import annotations

import stat
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers

Say = Callable[[], str]


def text_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def test_the_key_of_one_student_is_written_for_the_owner_alone(key: Path, said: Say) -> None:
    assert main(["key", str(key), "S1"]) == 0
    assert said() == "Written to built/worked-key-s1.pdf. It is confidential.\n"
    path = key / "worked-key-s1.pdf"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    text = text_of(path)
    with Answers(key / ANSWERS_FILE) as answers:
        code = answers.student("s1").code
    for words in ("Key: s1", "Ada", "section A", code, "CONFIDENTIAL", "Worked solution", "414.7", "2.500"):
        assert words in text
    assert "Bea" not in text


def test_an_earlier_file_is_kept_until_it_is_to_be_replaced(key: Path, said: Say, tmp_path: Path) -> None:
    out = tmp_path / "k.pdf"
    out.write_bytes(b"mine")
    assert main(["key", str(key), "s1", "--out", str(out)]) == 1
    assert said() == ". already holds k.pdf; nothing was written. --replace replaces them\n"
    assert out.read_bytes() == b"mine"
    assert main(["key", str(key), "s1", "--out", str(out), "--replace"]) == 0
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["s9"], "student: found 's9'; expected one of the set's students"),
        (["s1", "--attempt", "2"], "attempt: found '2'; expected one of the set's attempts"),
    ],
)
def test_who_is_not_in_the_set_is_told(key: Path, said: Say, arguments: list[str], told: str) -> None:
    assert main(["key", str(key), *arguments]) == 1
    assert said() == f"1 fault; nothing was written:\n  built/answers.json: {told}\n"
    assert not list(key.glob("*.pdf"))
