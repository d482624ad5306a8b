"""answers.json is read back as it was written, and anything else is refused."""

from __future__ import annotations

import hashlib
import json
import random
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers import Answers
from problemgen.model.answers import StudentKey
from problemgen.model.plan import Plan
from problemgen.model.problem_set import Student
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import STUDENTS, made, small_set, write_answers

AGAIN = "Build the set again, or restore the file from a copy."


@pytest.fixture
def built(tmp_path: Path) -> Path:
    return write_answers(tmp_path, small_set(tmp_path))


def as_written(plan: Plan) -> Plan:
    """A plan without what only the making of variants looks at."""
    return replace(plan, mistakes=tuple(replace(mistake, harmless=False) for mistake in plan.mistakes))


def refusal(path: Path) -> str:
    with pytest.raises(FaultsError) as caught:
        Answers(path)
    (fault,) = caught.value.faults
    return str(fault).removeprefix(f"{path}: ")


def signed(lines: list[bytes]) -> bytes:
    """The lines with the digest that fits them."""
    body = b"\n".join(lines)
    return body + f'\n],"digest":"sha256:{hashlib.sha256(body).hexdigest()}"}}\n'.encode()


def test_the_head_comes_back_as_it_was_written(built: Path, tmp_path: Path) -> None:
    problem_set = small_set(tmp_path)
    with Answers(built) as answers:
        head = answers.head
    assert (head.set_id, head.title, head.course) == ("small", "Small", "C")
    assert head.policy == problem_set.policy
    assert head.columns == ("1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d")
    assert head.inputs == {"set.toml": "0" * 64}
    for problem in problem_set.problems:
        template = head.templates[problem.templates[0].id]
        assert template.plan == as_written(problem.templates[0].plan)
        assert [part.asked for part in template.parts] == [part.asked for part in problem.templates[0].parts]


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_plan_comes_back_as_it_was_written(tmp_path: Path, name: str) -> None:
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        key = answers.head.templates[name]
        student = answers.student("s1")
    assert key.plan == as_written(shipped(name).plan)
    assert student.problems[0].given == variant_of(name).given


def test_truths_come_back_with_bounds_rounded_outwards(built: Path, tmp_path: Path) -> None:
    variants = made(small_set(tmp_path), "s1")
    with Answers(built) as answers:
        key = answers.student("s1")
    for problem, variant in zip(key.problems, variants, strict=True):
        for answer in variant.answers:
            truth = problem.truths[answer.part]
            assert truth.choice == answer.choice
            if not answer.choice:
                assert truth.low <= answer.low < answer.high <= truth.high
                assert answer.low - truth.low <= abs(answer.low) * Fraction("1e-11")
                assert truth.figures == answer.figures


def test_students_are_found_in_any_order(built: Path) -> None:
    with Answers(built) as answers:
        assert answers.students == ("s1", "s2")
        assert [answers.student(one).name for one in ("s2", "s1", "s2")] == ["Bea", "Ada", "Bea"]
        assert [key.student for key in answers] == ["s1", "s2"]
        with pytest.raises(KeyError):
            answers.student("s3")


def test_one_student_stands_on_one_line(built: Path) -> None:
    first, *students, last = built.read_bytes().splitlines()
    assert first.endswith(b',"students":[')
    assert [json.loads(line.removesuffix(b","))["student"] for line in students] == ["s1", "s2"]
    assert last.startswith(b'],"digest":"sha256:')
    document = json.loads(built.read_bytes())
    assert [student["student"] for student in document["students"]] == ["s1", "s2"]


def test_a_name_with_every_awkward_character_comes_back(tmp_path: Path) -> None:
    name = '=Ana "Q" \\ \u2028 \u202e 高橋 \x07 },\n],"digest":"'
    path = write_answers(tmp_path, small_set(tmp_path), [Student("s1", name, "A,B")])
    assert len(path.read_bytes().splitlines()) == 3
    with Answers(path) as answers:
        key: StudentKey = answers.student("s1")
    assert (key.name, key.section) == (name, "A,B")


def test_a_missing_file_and_a_folder_are_told_apart(tmp_path: Path) -> None:
    expected = "expected the answers.json of a built set"
    assert refusal(tmp_path / "none.json") == f"found no such file or directory; {expected}"
    assert refusal(tmp_path) == f"found is a directory; {expected}"


@pytest.mark.parametrize(
    ("content", "found", "expected"),
    [
        (b"", "text that is no answers.json", "a file of the format 'problemgen answers'"),
        (b"id,1a\ns1,2\n", "text that is no answers.json", "a file of the format 'problemgen answers'"),
        (b"\xff\xfe\x00", "text that is no answers.json", "a file of the format 'problemgen answers'"),
        (b"[1,2\n", "text that is no answers.json", "a file of the format 'problemgen answers'"),
        (b'{"a":[\n', "another format", "a file of the format 'problemgen answers'"),
        (b'{"format":"other","version":1,"students":[\n', "another format",
         "a file of the format 'problemgen answers'"),
        (b'{"format":"problemgen answers","version":2,"students":[\n', "version 2", "version 1"),
        (b'{"format":"problemgen answers","students":[\n', "version None", "version 1"),
        (b'{"format":"problemgen answers","version":1,"students":[\n', "a file that ends too early",
         "the file as it was built"),
    ],
)  # fmt: skip
def test_another_file_is_refused(tmp_path: Path, content: bytes, found: str, expected: str) -> None:
    path = tmp_path / "a.json"
    path.write_bytes(content)
    assert refusal(path) == f"found {found}; expected {expected}. {AGAIN}"


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        (b'"figures":4', b'"figures":3', "contents that do not fit the digest"),
        (b'"0.1000"', b'"0.1001"', "contents that do not fit the digest"),
        (b'"law":', b'"lax":', "contents that do not fit the digest"),
        (b'"name":"Ada"', b'"name":"Adi"', "contents that do not fit the digest"),
        (b'"digest":"sha256:', b'"digest":"sha25:', "contents that do not fit the digest"),
        (b'],"digest"', b'],"digesT"', "a damaged line at byte "),
        (b'{"student":"s2"', b'{"student:"s2"', "a damaged line at byte "),
        (b'{"student":"s2"', b'{"pupil":"s2"', "a damaged line at byte "),
        (b"\n", b"\r\n", "contents that do not fit the digest"),
    ],
)
def test_a_changed_file_is_refused(built: Path, old: bytes, new: bytes, found: str) -> None:
    content = built.read_bytes()
    assert old in content
    built.write_bytes(content.replace(old, new))
    told = refusal(built)
    assert told.startswith(f"found {found}")
    assert told.endswith(f"; expected the file as it was built. {AGAIN}")


@pytest.mark.parametrize("extra", [b"\n", b"x", b"{}\n"])
def test_text_behind_the_last_line_is_refused(built: Path, extra: bytes) -> None:
    built.write_bytes(built.read_bytes() + extra)
    assert refusal(built) == f"found text behind the last line; expected the file as it was built. {AGAIN}"


def test_a_file_that_is_cut_off_anywhere_is_refused(built: Path, tmp_path: Path) -> None:
    content = built.read_bytes()
    cut = tmp_path / "cut.json"
    places = {0, 1, len(content) - 1, *(i + 1 for i, byte in enumerate(content) if byte == 10 and i < len(content) - 1)}
    for place in sorted({*places, *range(0, len(content), 997)}):
        cut.write_bytes(content[:place])
        assert refusal(cut).endswith(AGAIN)


def test_any_changed_byte_is_noticed(built: Path, tmp_path: Path) -> None:
    content = built.read_bytes()
    draws = random.Random(7)  # noqa: S311 - places to change, not a secret
    changed = tmp_path / "changed.json"
    head = content.index(b"\n")
    for place in (*draws.sample(range(head), 60), *draws.sample(range(head, len(content)), 60), *range(-90, 0)):
        other = bytearray(content)
        other[place] = draws.choice([byte for byte in b'0aX",:]}\n' if byte != content[place]])
        changed.write_bytes(other)
        with pytest.raises(FaultsError):
            Answers(changed)


def test_lines_that_change_places_are_noticed(built: Path) -> None:
    head, one, two, foot = built.read_bytes().splitlines()
    built.write_bytes(b"\n".join([head, two + b",", one.removesuffix(b","), foot]) + b"\n")
    assert refusal(built).startswith("found contents that do not fit the digest")


@pytest.mark.parametrize("key", ["set", "inputs", "columns", "templates"])
def test_a_head_that_lacks_a_key_is_refused_even_if_the_digest_fits(built: Path, key: str) -> None:
    head, *students, _ = built.read_bytes().splitlines()
    data: dict[str, Any] = json.loads(head + b"]}")
    del data[key]
    text = json.dumps(data)
    built.write_bytes(signed([text.removesuffix("]}").encode(), *students]))
    assert refusal(built).startswith("found a first line that lacks what a key holds; ")


def test_an_unknown_operation_is_refused_even_if_the_digest_fits(built: Path) -> None:
    head, *students, _ = built.read_bytes().splitlines()
    assert b'["div",' in head
    built.write_bytes(signed([head.replace(b'["div",', b'["exec",', 1), *students]))
    assert refusal(built).startswith("answers.json: expression: found 'exec'; expected one of add, div, ")
