"""A marking without names: no id and no name of the roster in any file but codes.csv."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader

from problemgen.errors import OutputError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import StudentKey
from problemgen.pipeline.anonymity import Anonymity
from problemgen.pipeline.mark import MarkingRequest, mark, mark_set
from problemgen.pipeline.outlets.marking.codes import CODES_FILE
from tests.support.many import many_answers, many_students, right_cells
from tests.support.marking import PAGES_ONLY, write_cells

KEYS = (
    StudentKey("u1234567", "Adrel Sommer", "A", "AAAA-1111", ()),
    StudentKey("b-77", "Li", "A", "BBBB-2222", ()),
    StudentKey("20261234", "Adrel Winter", "B", "CCCC-3333", ()),
)


@pytest.mark.parametrize(
    ("text", "hidden"),
    [
        ("39.5 g", "39.5 g"),
        ("", ""),
        ("u1234567: 3 g", "AAAA-1111: 3 g"),
        ("(U1234567)", "(AAAA-1111)"),
        ("see Adrel Sommer.", "see AAAA-1111."),
        ("adrel winter and Adrel Sommer", "CCCC-3333 and AAAA-1111"),
        ("20261234 mg", "CCCC-3333 mg"),
        ("120261234 mg", "120261234 mg"),
        ("Adrel", "Adrel"),
        ("Li", "Li"),
        ("b-77, 5 mL", "BBBB-2222, 5 mL"),
    ],
)
def test_ids_and_names_in_answers_are_hidden(text: str, hidden: str) -> None:
    assert Anonymity(KEYS).hidden(text) == hidden


def text_of(path: Path) -> str:
    """All that a file tells: its name, its bytes, and what is packed in it."""
    told = [path.name, path.read_bytes().decode("latin-1"), path.read_bytes().decode("utf-8", "replace")]
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as archive:
            told += [archive.read(name).decode("utf-8") for name in archive.namelist()]
    if path.suffix == ".pdf":
        reader = PdfReader(path)
        told += [page.extract_text() for page in reader.pages]
        told += [str(reader.metadata), str(reader.xmp_metadata and reader.xmp_metadata.dc_title)]
    return "\n".join(told)


def test_no_roster_name_or_id_is_in_any_file_but_the_codes(tmp_path: Path) -> None:
    folder = many_answers(tmp_path, 40)
    with Answers(folder / ANSWERS_FILE) as answers:
        keys = {key.student: key for key in answers}
        cells = {student: right_cells(answers.head, key) for student, key in keys.items() if student != "roster-0005"}
    cells["roster-0003"] = cells["roster-0009"]
    cells["roster-0002"]["1a"] = "roster-0002 says 5 g, Quillon Ferrant 7 agrees"
    write_cells(tmp_path / "r.csv", cells)
    (folder / "overrides.csv").write_text("student,part,points,reason\nroster-0004,1a,0,Lent to Quillon Ferrant 8\n")
    out = tmp_path / "out"
    report = mark_set(MarkingRequest(folder, (tmp_path / "r.csv",), out, anonymous=True), lambda *_: None)
    assert (report.marked, report.absent, report.cautions) == (39, 1, {CODES_FILE: "tells the names, do not share it"})
    assert "look-into.csv: 1 to look into, answers that are right for another student's numbers." in report.notes
    files = [path for path in out.rglob("*") if path.is_file()]
    assert {path.suffix for path in files} >= {".csv", ".xlsx", ".pdf", ".html"}
    for path in files:
        told = text_of(path)
        names = [word for student in many_students(40) for word in (student.id, student.name) if word in told]
        assert bool(names) is (path.name == CODES_FILE), (path, names[:3])
    assert {path.stem for path in (out / "feedback").iterdir()} == {key.code for key in keys.values()}


def test_the_grades_are_those_of_a_marking_with_names(tmp_path: Path) -> None:
    folder = many_answers(tmp_path, 12)
    with Answers(folder / ANSWERS_FILE) as answers:
        cells = {key.student: right_cells(answers.head, key) for key in answers}
        codes = {key.code: key for key in answers}
    cells["roster-0003"]["1b"] = "7 g"
    write_cells(tmp_path / "r.csv", cells)
    for anonymous in (False, True):
        out = tmp_path / ("codes" if anonymous else "names")
        mark(folder, tmp_path / "r.csv", out, pdf=False, solutions=False, anonymous=anonymous)
    coded = (tmp_path / "codes" / "grades.csv").read_text(encoding="utf-8-sig")
    for code, key in codes.items():
        coded = coded.replace(f"{code},{code}", f"{key.student},{key.name}")
    assert coded == (tmp_path / "names" / "grades.csv").read_text(encoding="utf-8-sig")


def test_codes_do_not_lie_beside_pages_with_ids(tmp_path: Path) -> None:
    folder = many_answers(tmp_path, 3)
    write_cells(tmp_path / "r.csv", {"roster-0001": {"1a": "1"}})
    request = MarkingRequest(folder, (tmp_path / "r.csv",), tmp_path / "out", replace=True, feedback=PAGES_ONLY)
    mark_set(request, lambda *_: None)
    with pytest.raises(OutputError, match=r"holds roster-0001\.html, which tells an id; choose another folder"):
        mark_set(
            MarkingRequest(folder, request.responses, request.out, replace=True, feedback=PAGES_ONLY, anonymous=True),
            lambda *_: None,
        )
