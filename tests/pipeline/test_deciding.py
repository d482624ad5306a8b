"""Lines added to overrides.csv, means.csv, columns.csv, and taken out: all others stay, byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.deciding import (
    Meaning,
    decision_lines,
    meaning_lines,
    with_columns,
    with_decision,
    with_meanings,
    without,
)
from tests.support.small_set import small_set, write_answers

OURS = "student,part,points,reason\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A built set of the students s1 and s2."""
    built = tmp_path / "built"
    built.mkdir()
    write_answers(built, small_set(tmp_path))
    return built


def decide(folder: Path, **decision: str) -> str:
    with Answers(folder / ANSWERS_FILE) as answers:
        content = with_decision(folder, answers, decision)
    (folder / "overrides.csv").write_bytes(content)
    return content.decode("utf-8-sig", "replace")


def mean(folder: Path, *meanings: Meaning) -> str:
    with Answers(folder / ANSWERS_FILE) as answers:
        content = with_meanings(folder, answers, meanings)
    (folder / "means.csv").write_bytes(content)
    return content.decode("utf-8-sig")


@pytest.mark.parametrize(
    ("before", "told", "behind"),
    [
        ("", {"a.csv": {"nr": "id", "=q": "leave out"}},
         "ours,theirs,file\r\nid,nr,a.csv\r\nleave out,'=q,a.csv\r\n"),
        ("ours;theirs\nid;Number\n", {"a.csv": {"nr": "id"}}, "ours;theirs;file\nid;Number\nid;nr;a.csv\n"),
        ("ours,theirs,file\nid,x,a.csv\n1a,y,b.csv\n\n", {"a.csv": {"nr": "id"}},
         "ours,theirs,file\n1a,y,b.csv\n\nid,nr,a.csv\n"),
        ("ours,theirs,file\nid,x,a.csv\n1a,y,b.csv\n", {"a.csv": {}}, "ours,theirs,file\n1a,y,b.csv\n"),
        ("ours,theirs,file\nid,x,a.csv\n", {"a.csv": {}}, None),
    ],
)  # fmt: skip
def test_what_columns_are_takes_the_place_of_what_was_said_of_the_table(
    folder: Path, before: str, told: dict[str, dict[str, str]], behind: str | None
) -> None:
    if before:
        (folder / "columns.csv").write_text(before, encoding="utf-8", newline="")
    with Answers(folder / ANSWERS_FILE) as answers:
        content = with_columns(folder, answers, told)
    assert (content.decode("utf-8-sig") if content is not None else None) == behind


def test_what_marking_would_refuse_of_columns_is_refused(folder: Path) -> None:
    with (
        Answers(folder / ANSWERS_FILE) as answers,
        pytest.raises(FaultsError, match=r"columns\.csv: line 2: found"),
    ):
        with_columns(folder, answers, {"a.csv": {"nr": "9z"}})


def test_the_first_decision_makes_the_file(folder: Path) -> None:
    text = decide(folder, student="s1", part="1f", points="1", reason='Said "so", twice')
    assert text == 'student,part,points,reason\r\ns1,1f,1,"Said ""so"", twice"\r\n'
    (line,) = decision_lines(folder)
    assert (line.student, line.part, line.points, line.reason) == ("s1", "1f", "1", 'Said "so", twice')


@pytest.mark.parametrize(
    ("before", "behind"),
    [
        (f"{OURS}s2,1a,1,Ill\n", f"{OURS}s2,1a,1,Ill\ns1,1f,1,New\n"),
        (f"{OURS}s2,1a,1,Ill", f"{OURS}s2,1a,1,Ill\ns1,1f,1,New\n"),  # no end of line at the end
        (f"{OURS}\n,,,\ns2,1a,1,Ill\n", f"{OURS}\n,,,\ns2,1a,1,Ill\ns1,1f,1,New\n"),  # lines that are read past
        (f"{OURS}S1,1F,bonus 1,Nice\n", f"{OURS}S1,1F,bonus 1,Nice\ns1,1f,1,New\n"),  # a bonus is another thing
        (f'{OURS}S1, 1F ,0.5,"Two\nlines"\ns2,1a,1,Ill\n', f"{OURS}s2,1a,1,Ill\ns1,1f,1,New\n"),  # the same place
        ("sep=;\nreason;student;points;part\nIll;s2;1;1a\n",
         "sep=;\nreason;student;points;part\nIll;s2;1;1a\nNew;s1;1;1f\n"),
        ("note\tstudent\tpart\tpoints\treason\r\n", "note\tstudent\tpart\tpoints\treason\r\n\ts1\t1f\t1\tNew\r\n"),
    ],
)  # fmt: skip
def test_other_lines_stay_as_they_are(folder: Path, before: str, behind: str) -> None:
    (folder / "overrides.csv").write_bytes(before.encode())
    assert decide(folder, student="s1", part="1f", points="1", reason="New") == behind


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_encoding_stays(folder: Path, encoding: str) -> None:
    (folder / "overrides.csv").write_bytes(f"{OURS}s2,1a,1,Übel\n".encode(encoding))
    decide(folder, student="s1", part="1f", points="1", reason="Für später")
    content = (folder / "overrides.csv").read_bytes()
    assert content == f"{OURS}s2,1a,1,Übel\ns1,1f,1,Für später\n".encode(encoding)


def test_letters_that_an_encoding_has_not_make_it_utf_8(folder: Path) -> None:
    (folder / "overrides.csv").write_bytes(f"{OURS}s2,1a,1,Übel\n".encode("cp1252"))
    assert "苔原" in decide(folder, student="s1", part="1f", points="1", reason="苔原")
    assert [one.reason for one in decision_lines(folder)] == ["Übel", "苔原"]


@pytest.mark.parametrize(
    ("decision", "told"),
    [
        ({"student": "s9"}, "overrides.csv: line 2: found the student 's9'; expected an id of the set's roster"),
        ({"part": "9z"}, "overrides.csv: line 2: found the part '9z'"),
        ({"points": "99"}, "overrides.csv: line 2: found 99 points"),
        ({"points": "=1+1"}, 'overrides.csv: line 2: found points "\'=1+1"'),
        ({"reason": ""}, "overrides.csv: line 2: found no reason"),
        ({"student": "*", "part": "", "points": "drop"}, "found the whole sheet dropped for all"),
    ],
)
def test_what_marking_would_refuse_is_refused(folder: Path, decision: dict[str, str], told: str) -> None:
    with pytest.raises(FaultsError) as error:
        decide(folder, **{"student": "s1", "part": "1f", "points": "1", "reason": "New", **decision})
    assert told in str(error.value)
    assert not (folder / "overrides.csv").exists()


def test_a_line_is_taken_out_by_what_it_says(folder: Path) -> None:
    text = f'{OURS}s1,1a,1,"One\nof two lines"\ns2,1a,1,Ill\ns1,1b,1,Other\n'
    (folder / "overrides.csv").write_text(text, encoding="utf-8")
    first = decision_lines(folder)[0]
    (folder / "overrides.csv").write_text(f"{OURS}s2,1f,0,Before it\n{text.removeprefix(OURS)}", encoding="utf-8")
    left = f"{OURS}s2,1f,0,Before it\ns2,1a,1,Ill\ns1,1b,1,Other\n"
    assert without(folder, "overrides.csv", first.id).decode() == left
    (folder / "overrides.csv").write_text(text.replace("two", "three"), encoding="utf-8")
    with pytest.raises(FaultsError, match="found no such line any more; expected the line as it was shown"):
        without(folder, "overrides.csv", first.id)


def test_a_workbook_is_not_written_into(folder: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["student", "part", "points", "reason"])
    book.save(folder / "overrides.csv")
    with pytest.raises(FaultsError, match="found a workbook; expected text, to which a line can be added"):
        decide(folder, student="s1", part="1f", points="1", reason="New")


def test_what_cells_mean_is_added_by_column_and_in_the_place_of_what_they_meant(folder: Path) -> None:
    text = "written,means,part,times\nsee b,,,6\nStyrol,styrene,1e,2\n"
    (folder / "means.csv").write_text(text, encoding="utf-8")
    behind = mean(folder, Meaning("=cmd", "2 g"), Meaning(" STYROL", "benzene", ("1e", "2a")))
    assert behind == "written,means,part,times\nsee b,,,6\n'=cmd,2 g,,\n STYROL,benzene,1e,\n STYROL,benzene,2a,\n"
    assert [(one.written, one.means, one.part) for one in meaning_lines(folder)] == [
        ("'=cmd", "2 g", ""), ("STYROL", "benzene", "1e"), ("STYROL", "benzene", "2a"),
    ]  # fmt: skip
    left = without(folder, "means.csv", meaning_lines(folder)[1].id).decode()
    assert left == "written,means,part,times\nsee b,,,6\n'=cmd,2 g,,\n STYROL,benzene,2a,\n"


def test_a_part_that_there_is_not_is_refused(folder: Path) -> None:
    with pytest.raises(FaultsError, match=r"means\.csv: line 2: found the part '9z'"):
        mean(folder, Meaning("x", "2 g", ("9z",)))
    assert not (folder / "means.csv").exists()
