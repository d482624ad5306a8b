"""answers.json is read back as it was written, and anything else is refused."""

from __future__ import annotations

import hashlib
import json
import random
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import Answers
from problemgen.model.answers import StudentKey
from problemgen.model.problem_set import Student
from problemgen.model.truths import NumberTruth
from problemgen.render.key.answers import own_keys, template_key
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import STUDENTS, made, small_set, write_answers

AGAIN = "Build the set again, or restore the file from a copy."


@pytest.fixture
def built(tmp_path: Path) -> Path:
    return write_answers(tmp_path, small_set(tmp_path))


def refusals(path: Path) -> list[str]:
    with pytest.raises(FaultsError) as caught, Answers(path) as answers:
        list(answers)
    return [str(fault).removeprefix(f"{path}: ") for fault in caught.value.faults]


def refusal(path: Path) -> str:
    (fault,) = refusals(path)
    return fault


def signed(lines: list[bytes]) -> bytes:
    """The lines with the digest that fits them, and nobody's signature."""
    body = b"\n".join(lines)
    return body + f'\n],"digest":"sha256:{hashlib.sha256(body).hexdigest()}","signature":""}}\n'.encode()


def test_the_head_comes_back_as_it_was_written(built: Path, tmp_path: Path) -> None:
    problem_set = small_set(tmp_path)
    with Answers(built) as answers:
        head = answers.head
    assert (head.set_id, head.title, head.course) == ("small", "Small", "C")
    assert head.policy == problem_set.policy
    assert head.columns == ("1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d")
    assert head.inputs == {"set.toml": "0" * 64}
    for problem in problem_set.problems:
        (template,) = problem.templates
        assert head.templates[template.id] == template_key(template, template.id)


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_template_comes_back_as_it_was_written(tmp_path: Path, name: str) -> None:
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        key = answers.head.templates[name]
        student = answers.student("s1")
    assert key == template_key(shipped(name), name)
    assert list(key.scene.species) == list(shipped(name).scene.species)
    assert student.problems[0].given == variant_of(name).given


@pytest.mark.parametrize("own", [ALCOHOL_OWN, ("triphenylmethanol.obtained",)])
def test_own_values_come_back_as_they_were_written(tmp_path: Path, own: tuple[str, ...]) -> None:
    problem_set = own_set(ALCOHOL, own)
    with Answers(write_answers(tmp_path, problem_set, STUDENTS[:1])) as answers:
        assert answers.head.own == {"p1": own_keys(problem_set.problems[0])}


def test_truths_come_back_with_bounds_rounded_outwards(built: Path, tmp_path: Path) -> None:
    variants = made(small_set(tmp_path), "s1")
    with Answers(built) as answers:
        key = answers.student("s1")
    for problem, variant in zip(key.problems, variants, strict=True):
        for part, answer in zip(variant.template.parts, variant.answers, strict=True):
            truth = problem.truths[part.id]
            assert type(truth) is type(answer)
            if isinstance(truth, NumberTruth) and isinstance(answer, NumberTruth):
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
    name = '=Ana "Q" \\ \u2028 \u202e 苔原 \x07 },\n],"digest":"'
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
        (b'{"format":"other","version":5,"students":[\n', "another format",
         "a file of the format 'problemgen answers'"),
        (b'{"format":"problemgen answers","version":1,"students":[\n', "version 1", "version 5"),
        (b'{"format":"problemgen answers","students":[\n', "version None", "version 5"),
        (b'{"format":"problemgen answers","version":5,"students":[\n', "a file that ends too early",
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
    end = content.rindex(b"sha256:", 0, content.rindex(b"hmac-sha256:"))  # the secret alone tells what is behind it
    digest = range(end, end + len(b"sha256:") + 64)
    for place in (*draws.sample(range(head), 60), *draws.sample(range(head, end), 60), *digest):
        other = bytearray(content)
        other[place] = draws.choice([byte for byte in b'0aX",:]}\n' if byte != content[place]])
        changed.write_bytes(other)
        with pytest.raises(FaultsError):
            Answers(changed)


def test_lines_that_change_places_are_noticed(built: Path) -> None:
    head, one, two, foot = built.read_bytes().splitlines()
    built.write_bytes(b"\n".join([head, two + b",", one.removesuffix(b","), foot]) + b"\n")
    assert refusal(built).startswith("found contents that do not fit the digest")


def changed(built: Path, change: Callable[[dict[str, Any]], object]) -> Path:
    """The file with a change in it, and a digest that fits."""
    document = json.loads(built.read_bytes())
    change(document)
    students = [json.dumps(one).encode() for one in document.pop("students")]
    del document["digest"], document["signature"]
    opening = json.dumps({**document, "students": []}).removesuffix("]}").encode()
    built.write_bytes(signed([opening, b",\n".join(students)]))
    return built


def test_a_file_that_is_written_by_others_is_read(built: Path) -> None:
    with Answers(built) as answers:
        head, students = answers.head, list(answers)
    with Answers(changed(built, lambda _: None)) as answers:
        assert (answers.head, list(answers)) == (head, students)


def step(document: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = document["head"]["templates"]["ester"]["plan"]["steps"][1]
    return found


def truth(document: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = document["students"][1]["problems"][0]["truths"]["01"]
    return found


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        (lambda d: d["head"].pop("columns"), "head.columns: found nothing; expected a value for this key"),
        (lambda d: d["head"].update(colour="red"), "head.colour: found an unknown key; expected no such key"),
        (lambda d: d["head"].update(title=5), "head.title: found 5; expected a valid string"),
        (lambda d: d["head"]["policy"].update(unit_slip="half"),
         "head.policy.unit_slip: found 'half'; expected an exact number as text, \"3\" or \"3/2\""),
        (lambda d: step(d).update(expression=["exec", "mass()"]),
         ("head.templates.ester.plan.steps.2.expression: found ['exec', 'mass()']; expected one of add, div, floor, "
          "least, max, min, mul, neg, num, pow, round, whole in place of 'exec'")),
        (lambda d: step(d).update(rounding="up"),
         "head.templates.ester.plan.steps.2.rounding: found 'up'; expected 'figures', 'molar mass', 'whole' or 'none'"),
        (lambda d: step(d).update(quantity="mass(acid,burnt)"),
         "head.templates.ester.plan.steps.2.quantity: found 'mass(acid,burnt)'; expected no role 'burnt'"),
        (lambda d: d["head"]["templates"]["ester"]["plan"].update(asked=[]),
         "head.templates.ester.plan.asked: found []; expected no such key"),
        (lambda d: d["head"]["templates"]["ester"]["scene"]["species"]["acetic-acid"].update(formula="NaXx"),
         ("head.templates.ester.scene.species.acetic-acid.formula: found 'NaXx'; expected a formula: formula 'NaXx', "
          "character 3: no element has the symbol 'Xx'")),
        (lambda d: d["head"]["templates"]["ester"]["told"][0].update(column="margin"),
         "head.templates.ester.told.1.column: found 'margin'; expected 'taken', 'data', 'listed' or 'obtained'"),
        (lambda d: d["head"]["templates"]["ester"]["parts"][0].update(prompt=[["script", "x"]]),
         "head.templates.ester.parts.1.prompt.1.1: found 'script'; expected 'prose', 'strong' or 'chemical'"),
        (lambda d: truth(d).update(low=2.5),
         "students.s2.problems.1.truths.01.low: found 2.5; expected a decimal number as text, \"0.0500\""),
        (lambda d: truth(d).update(high="1e9999"),
         "students.s2.problems.1.truths.01.high: found '1e9999'; expected a decimal number as text, \"0.0500\""),
        (lambda d: d["students"][1].update(mail="x"), "students.s2.mail: found an unknown key; expected no such key"),
        (lambda d: d["students"][1]["problems"][0].update(own=[]),
         "students.s2.problems.1.own: found []; expected no such key"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_place_even_if_the_digest_fits(
    built: Path, change: Callable[[dict[str, Any]], object], fault: str
) -> None:
    assert refusal(changed(built, change)) == f"{fault}. {AGAIN}"


def test_all_faults_of_a_head_are_told_together(built: Path) -> None:
    def change(document: dict[str, Any]) -> None:
        document["head"].pop("templates")
        document["head"].pop("inputs")
        document["head"]["decimal_mark"] = ";"

    assert [fault.partition(":")[0] for fault in refusals(changed(built, change))] == [
        *("head.decimal_mark", "head.inputs", "head.templates"),
    ]
