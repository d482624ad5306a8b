"""A build of six: every file, who may read it, names as they are written, the same bytes again."""

from __future__ import annotations

import csv
import io
import json
import os
import re
import stat
import subprocess
import sys
from pathlib import Path

import pikepdf
import pypdf
import pytest

from problemgen.errors import OutputError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.truths import NumberTruth
from problemgen.pipeline.build import build_set
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.write.fonts import missing_glyphs
from tests.support.small_class import NAMES, SET, build_small, files_of, write_class

ROOT = Path(__file__).resolve().parents[2]
PRIVATE = {"answers.json", "key.pdf", "summary.pdf", "secret"}
EXPECTED = {*PRIVATE, "class.pdf", "responses.csv", *(f"sheets/{student}.pdf" for student in NAMES)}


def text_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(path).pages)


def letters(text: str) -> str:
    """The letters of a text in order of their codes: extraction turns right-to-left words round."""
    return "".join(sorted(text.replace(" ", "")))


def test_every_file_is_there_and_nothing_else(built: Path) -> None:
    assert set(files_of(built)) == EXPECTED
    assert [path.name for path in built.parent.iterdir()] == ["out"]


def test_confidential_files_are_for_the_owner_only(built: Path) -> None:
    modes = {name: stat.S_IMODE((built / name).stat().st_mode) for name in EXPECTED}
    assert {name for name, mode in modes.items() if mode == 0o600} == PRIVATE
    umask = os.umask(0)
    os.umask(umask)
    assert {mode for name, mode in modes.items() if name not in PRIVATE} == {0o666 & ~umask}


@pytest.mark.parametrize("student", NAMES)
def test_a_name_is_printed_as_it_is_written(built: Path, student: str) -> None:
    name = NAMES[student]
    text = text_of(built / "sheets" / f"{student}.pdf")
    printed = student if missing_glyphs(name) else name
    if name.isascii() or "’" in name:
        assert printed in text
    else:
        assert any(letters(printed) in letters(line) for line in text.splitlines()) or letters(printed) in letters(text)
    others = [other for one, other in NAMES.items() if one != student]
    assert not any(other in text for other in others)


@pytest.mark.parametrize("student", NAMES)
def test_a_sheet_is_tagged_and_says_who_and_what(built: Path, student: str) -> None:
    with pikepdf.open(built / "sheets" / f"{student}.pdf") as pdf:
        with pdf.open_metadata() as about:
            assert about["pdfuaid:part"] == "1"
        assert pdf.Root.MarkInfo.Marked
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.Root.Lang) == "en"
    text = text_of(built / "sheets" / f"{student}.pdf")
    assert "calculation exercise, not a procedure" in text.replace("\n", " ")


def test_no_sheet_shows_a_key(built: Path) -> None:
    with Answers(built / ANSWERS_FILE) as answers:
        for key in answers:
            words = set(re.findall(r"[0-9][0-9.]*[0-9]", text_of(built / "sheets" / f"{key.student}.pdf")))
            given = {datum.written.text for problem in key.problems for datum in problem.given.values()}
            truths = [t for problem in key.problems for t in problem.truths.values()]
            shown = {t.printed for t in truths if isinstance(t, NumberTruth)} & (words - given)
            assert not shown


def test_the_key_holds_every_answer_and_says_that_it_is_confidential(built: Path) -> None:
    pages = [page.extract_text() for page in pypdf.PdfReader(built / "key.pdf").pages]
    written = [page for page in pages if page.strip()]
    assert all("CONFIDENTIAL" in page for page in written)
    text = "\n".join(pages)
    with Answers(built / ANSWERS_FILE) as answers:
        for key in answers:
            for problem in key.problems:
                assert all(t.printed in text for t in problem.truths.values() if isinstance(t, NumberTruth))


def test_the_class_file_has_every_student_on_a_right_hand_page(built: Path) -> None:
    reader = pypdf.PdfReader(built / "class.pdf")
    counts = [len(pypdf.PdfReader(built / "sheets" / f"{student}.pdf").pages) for student in NAMES]
    start = 0
    with Answers(built / ANSWERS_FILE) as answers:
        for student, count in zip(NAMES, counts, strict=True):
            assert start % 2 == 0
            assert answers.student(student).code in reader.pages[start].extract_text()
            start += count + count % 2
    assert len(reader.pages) in (start, start - 1)


def test_the_responses_file_is_ready_to_be_filled_in(built: Path) -> None:
    content = (built / "responses.csv").read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")
    rows = list(csv.reader(io.StringIO(content.decode("utf-8-sig"))))
    with Answers(built / ANSWERS_FILE) as answers:
        columns = answers.head.columns
    assert rows[0] == ["id", "name", "section", "code", *columns]
    assert [row[0] for row in rows[1:]] == list(NAMES)
    assert rows[2][1] == "'=Adrel O'Sommer"  # so that a spreadsheet does not run it
    with Answers(built / ANSWERS_FILE) as answers:
        assert [row[3] for row in rows[1:]] == list(answers.sheets.values())
    assert all(cell == "" for row in rows[1:] for cell in row[4:])


def test_every_variant_is_another_one(built: Path) -> None:
    with Answers(built / ANSWERS_FILE) as answers:
        for place in (0, 1):
            variants = [tuple(d.written.text for d in key.problems[place].given.values()) for key in answers]
            assert len(set(variants)) == len(NAMES)
        assert len({key.code for key in answers}) == len(NAMES)


def test_what_went_in_is_told_with_its_digest(built: Path) -> None:
    with Answers(built / ANSWERS_FILE) as answers:
        inputs = answers.head.inputs
    banks = {path.name for path in (ROOT / "banks").rglob("*.toml")}
    assert set(inputs) == {"atomic weights", "course.toml", "set.toml", "chromate.toml", "ester.toml", *banks}
    assert all(re.fullmatch("[0-9a-f]{64}", digest) for name, digest in inputs.items() if name != "atomic weights")


def test_a_build_with_the_same_secret_gives_the_same_bytes(class_folder: Path, built: Path, tmp_path: Path) -> None:
    again = tmp_path / "again"
    again.mkdir()
    (again / "secret").write_bytes((built / "secret").read_bytes())
    assert build_small(class_folder, again, "--quiet") == 0
    assert files_of(again) == files_of(built)


def test_another_secret_gives_other_numbers(class_folder: Path, built: Path, tmp_path: Path) -> None:
    assert build_small(class_folder, tmp_path / "other", "--quiet") == 0
    assert (tmp_path / "other" / "secret").read_bytes() != (built / "secret").read_bytes()
    with Answers(built / ANSWERS_FILE) as one, Answers(tmp_path / "other" / ANSWERS_FILE) as other:
        assert one.student("s1").problems != other.student("s1").problems


def test_a_build_that_replaces_keeps_the_secret_and_the_numbers(class_folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert build_small(class_folder, out, "--quiet") == 0
    before = files_of(out)
    assert build_small(class_folder, out, "--quiet", "--replace") == 0
    after = files_of(out)
    assert {name for name in before if before[name] != after.get(name)} == {"summary.pdf"}  # nothing was drawn now
    assert before.keys() == after.keys()


def test_a_student_keeps_the_numbers_when_others_come(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_class(tmp_path, names={"s1": "One", "s2": "Two"})
    assert build_small(tmp_path, out, "--quiet") == 0
    with Answers(out / ANSWERS_FILE) as answers:
        before = answers.student("s2").problems
    write_class(tmp_path, names={"s1": "One", "s2": "Two", "s3": "Three"})
    assert build_small(tmp_path, out, "--quiet", "--replace") == 0
    with Answers(out / ANSWERS_FILE) as answers:
        assert answers.student("s2").problems == before
        assert answers.students == ("s1", "s2", "s3")


def test_a_name_that_no_font_shows_is_replaced_by_the_id_and_noted(tmp_path: Path) -> None:
    week = write_class(tmp_path, names={"s1": "Ada", "s2": "\U00012345\U00012346"})
    report = build_set(BuildRequest(week, tmp_path / "out"), lambda *_: None)
    told = "s2: the name has characters that no font at hand shows; the id is printed instead."
    assert report.notes == (told,)
    assert "s2" in text_of(tmp_path / "out" / "sheets" / "s2.pdf")
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        assert answers.student("s2").name == "\U00012345\U00012346"


def test_a_published_secret_is_noted_and_not_written(tmp_path: Path) -> None:
    week = write_class(tmp_path, 'demonstration_secret = "x"\n' + SET, {"s1": "Ada"})
    report = build_set(BuildRequest(week, tmp_path / "out"), lambda *_: None)
    assert report.notes == ("The secret of this set is published: build it for demonstration only.",)
    assert not (tmp_path / "out" / "secret").exists()


def test_progress_is_told_from_the_first_to_the_last(tmp_path: Path) -> None:
    week = write_class(tmp_path, names={"s1": "Ada", "s2": "Bea"})
    told: list[tuple[str, int, int]] = []
    build_set(BuildRequest(week, tmp_path / "out"), lambda *what: told.append(what))
    assert told[:2] == [("printing", 1, 2), ("printing", 2, 2)]
    outlets = told[-1][1]
    assert outlets > 0
    assert told[2:] == [("binding", done, outlets) for done in range(outlets + 1)]


@pytest.mark.parametrize("at", [("printing", 1), ("printing", 2), ("binding", 0), ("binding", 2)])
@pytest.mark.parametrize("existing", [False, True])
def test_an_interrupted_run_leaves_nothing_behind(tmp_path: Path, at: tuple[str, int], existing: bool) -> None:
    week = write_class(tmp_path, names={"s1": "Ada", "s2": "Bea"})
    out = tmp_path / "out"
    if existing:
        out.mkdir()
        (out / "mine.txt").write_text("kept", encoding="utf-8")

    def interrupt(what: str, done: int, _: int) -> None:
        if (what, done) == at:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        build_set(BuildRequest(week, out), interrupt)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "course.toml",
        *(["out"] if existing else []),
        "templates",
        "week",
    ]
    assert (files_of(out) == {"mine.txt": b"kept"}) if existing else not out.exists()


def test_nothing_is_made_before_the_output_folder_is_looked_at(tmp_path: Path) -> None:
    week = write_class(tmp_path, names={"s1": "Ada"})
    (tmp_path / "out" / "sheets").mkdir(parents=True)
    (tmp_path / "out" / "sheets" / "s1.pdf").write_bytes(b"old")
    told: list[str] = []
    with (
        pytest.raises(OutputError, match=r"already holds sheets/s1\.pdf; nothing was written"),
    ):
        build_set(BuildRequest(week, tmp_path / "out"), lambda what, *_: told.append(what))
    assert told == []
    assert files_of(tmp_path / "out") == {"sheets/s1.pdf": b"old"}


def test_any_machine_makes_the_same_bytes(tmp_path: Path) -> None:
    """The shipped set in two processes that differ in hash seed, time zone, language and working folder."""
    shipped = ROOT / "templates" / "sets" / "first-week"
    command = [sys.executable, "-m", "problemgen.cli", "build", str(shipped), "--out", "out", "--count", "1"]
    runs = []
    for name, seed, zone, language in (
        ("a", "1", "Pacific/Kiritimati", "C"),
        ("b", "4242", "America/Caracas", "C.UTF-8"),
    ):
        (tmp_path / name).mkdir()
        around = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": language, "PYTHONPATH": str(ROOT)}
        runs.append(subprocess.Popen(command, cwd=tmp_path / name, env=around, stderr=subprocess.DEVNULL))  # noqa: S603 - ours
    assert [run.wait() for run in runs] == [0, 0]
    outputs = [files_of(tmp_path / name / "out") for name in ("a", "b")]
    assert outputs[0] == outputs[1]
    assert json.loads(outputs[0]["answers.json"])["head"]["set_id"] == "first-week"
