"""Scanned pages of a class sorted: nobody's page goes to another, and what cannot be sorted is told and kept."""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.returns.kinds import kind_of
from problemgen.model.page_code import PageCode, read_page_code
from problemgen.model.returned import Returned
from problemgen.pipeline.scanned import ScanReport, sort_scans
from problemgen.write.files import Staging
from tests.support.hostile_scans import UNREADABLE, huge_image_pdf, png
from tests.support.scans import Scanner, blank, file_of, pages_of
from tests.support.small_class import SET, build_small, write_class

TWO = SET.replace("[[problem]]", '[[sheet]]\nsession = 2\ntitle = "After the session"\n[[problem]]', 1)
TWICE = f"{TWO}[attempts]\nnumber = 2\n"
STUDENTS = ("s1", "unsorted")
OTHER = STUDENTS[1]  # an id that is also what the file of pages that nobody has is called
SCANNER = Scanner()

Pages = dict[PageCode, Image.Image]


@dataclass(frozen=True)
class ScanFile:
    """A file that a scanner has made."""

    name: str
    content: bytes


@dataclass(frozen=True)
class Class:
    """A built class, its students' ids and attempts by the codes on their sheets, and the pages as they are printed."""

    out: Path
    owners: dict[str, tuple[str, int]]
    pages: Pages


def _read(page: Image.Image) -> list[zxingcpp.Barcode]:
    return zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))


def code_on(page: Image.Image) -> PageCode:
    (found,) = _read(page)
    return read_page_code(found.text)


def printed(out: Path, *folders: str) -> Pages:
    pages = (page for folder in folders for path in sorted((out / folder).glob("*.pdf")) for page in pages_of(path))
    return {code_on(page): page for page in pages}


@pytest.fixture(scope="module")
def school(tmp_path_factory: pytest.TempPathFactory) -> Class:
    folder = tmp_path_factory.mktemp("school")
    write_class(folder, TWICE, {student: student.upper() for student in STUDENTS})
    out = folder / "out"
    assert build_small(folder, out, "--slip", "--quiet") == 0
    with Answers(out / ANSWERS_FILE) as answers:
        owners = {code: entry for entry, code in answers.sheets.items()}
    return Class(out, owners, printed(out, "sheets", "slips"))


def result(school: Class, files: Sequence[ScanFile], folder: Path) -> ScanReport:
    with Answers(school.out / ANSWERS_FILE) as answers, Staging(folder / "sorted") as staging:
        return sort_scans([lying(one, folder, at) for at, one in enumerate(files)], answers, staging, "scans")


def lying(file: ScanFile, folder: Path, at: int) -> Returned:
    """A file as it lies there when it came back."""
    path = folder / f"came-{at}"
    path.write_bytes(file.content)
    return Returned(file.name, path, kind_of(path))


def scanned(name: str, pages: Sequence[Image.Image], seed: int = 1) -> ScanFile:
    draw = random.Random(seed)  # noqa: S311 - keeps no secret
    return ScanFile(name, file_of([SCANNER.scanned(page, draw) for page in pages]))


def codes_in(path: Path) -> list[PageCode]:
    """The codes of a file's pages, all of which stand upright."""
    codes = []
    for page in pypdfium2.PdfDocument(path):
        (found,) = _read(page.render(scale=200 / 72, grayscale=True).to_pil())
        assert abs(found.orientation) < 10
        codes.append(read_page_code(found.text))
    return codes


def rows(folder: Path) -> list[dict[str, str]]:
    text = (folder / "sorted" / "scans" / "pages.csv").read_text("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def names(folder: Path) -> set[str]:
    return {path.name for path in (folder / "sorted" / "scans").iterdir()}


def test_a_class_in_any_order_comes_out_in_order(school: Class, tmp_path: Path) -> None:
    draw = random.Random(7)  # noqa: S311 - keeps no secret
    pages = list(school.pages.values())
    draw.shuffle(pages)
    backs = [blank(page) for page in pages[:4]]
    mixed = [one for page, back in zip(pages, [*backs, *[None] * len(pages)], strict=False) for one in (page, back)]
    there = [one for one in mixed if one is not None]
    files = [scanned(f"scan-{start}.pdf", there[start : start + 9], start) for start in range(0, len(there), 9)]
    report = result(school, files, tmp_path)
    assert (report.sorted, report.blank, report.unsorted, report.remarks) == (len(pages), 4, 0, ())
    assert (report.pages, len(report.came)) == (len(pages) + 4, len(STUDENTS))
    stems = {f"{student}{attempt}.pdf": (student, 1 + bool(attempt)) for student in STUDENTS for attempt in ("", "-2")}
    assert names(tmp_path) == {*stems, "pages.csv"}
    for name, entry in stems.items():
        found = codes_in(tmp_path / "sorted" / "scans" / name)
        mine = [code for code in school.pages if school.owners[code.sheet] == entry]
        assert found == sorted(mine, key=lambda code: (code.session, code.page))


def of(school: Class, student: str, session: int = 1, attempt: int = 1) -> list[Image.Image]:
    mine = {code for code in school.pages if school.owners[code.sheet] == (student, attempt)}
    return [school.pages[code] for code in sorted(mine, key=lambda code: code.page) if code.session == session]


def test_what_is_missing_or_came_twice_is_told(school: Class, tmp_path: Path) -> None:
    (slip,) = of(school, "s1", 0)
    first = of(school, "s1")
    assert len(first) > 1
    files = [scanned("a.pdf", [*first[1:], slip]), scanned("b.pdf", [slip, *of(school, OTHER)[:1]])]
    report = result(school, files, tmp_path)
    pages = len(first)
    assert report.remarks == (
        f"b.pdf, page 1: page 1 of s1, slip once more, as a.pdf, page {pages}",
        f"s1: no page 1 of session 1 (of {pages})",
        f"{OTHER}: no page of slip",
        f"{OTHER}: no page {', '.join(map(str, range(2, pages + 1)))} of session 1 (of {pages})",
    )
    assert [code.session for code in codes_in(tmp_path / "sorted" / "scans" / "s1.pdf")] == [0, 0, *[1] * (pages - 1)]
    assert [row["what"] for row in rows(tmp_path)].count("missing") == 1 + 1 + (pages - 1)
    double = next(row for row in rows(tmp_path) if row["what"] == "double")
    assert (double["file"], double["page of file"], double["id"], double["sheet"]) == ("b.pdf", "1", "s1", "slip")


def test_a_written_back_is_kept_with_the_page_before(school: Class, tmp_path: Path) -> None:
    front = of(school, OTHER)[0]
    written = blank(front)
    written.paste(front.crop((200, 200, 700, 500)), (200, 200))
    report = result(school, [scanned("a.pdf", [front, written, blank(front), written])], tmp_path)
    assert report.remarks[:2] == (
        f"a.pdf, page 2: no code found; it lies behind page 1, which is {OTHER}'s",
        "a.pdf, page 4: no code found",
    )
    assert (report.sorted, report.unsorted, report.blank) == (1, 2, 1)
    assert names(tmp_path) == {"unsorted.pdf", "unsorted~.pdf", "pages.csv"}
    (own,) = codes_in(tmp_path / "sorted" / "scans" / "unsorted.pdf")
    assert school.owners[own.sheet] == (OTHER, 1)
    assert len(pypdfium2.PdfDocument(tmp_path / "sorted" / "scans" / "unsorted~.pdf")) == 2


def test_pages_of_other_builds_are_nobody_s(school: Class, tmp_path: Path) -> None:
    other = write_class(tmp_path, TWICE, {"s1": "S1"})
    assert main(["build", str(other), "--out", str(tmp_path / "other"), "--quiet"]) == 0
    foreign = printed(tmp_path / "other", "sheets")
    code, page = next(iter(foreign.items()))
    report = result(school, [scanned("a.pdf", [page])], tmp_path)
    assert report.remarks == (f"a.pdf, page 1: a page of another build: {code.shown}",)
    assert (report.sorted, report.unsorted, len(report.came)) == (0, 1, 0)
    assert names(tmp_path) == {"unsorted.pdf", "pages.csv"}


def test_a_sheet_that_was_drawn_anew_is_told(tmp_path: Path) -> None:
    week = write_class(tmp_path, TWO, {"s1": "S1"})
    out = tmp_path / "out"
    assert main(["build", str(week), "--out", str(out), "--quiet"]) == 0
    before = printed(out, "sheets")
    assert main(["build", str(week), "--out", str(out), "--quiet", "--replace", "--redraw", "1"]) == 0
    code, page = next(iter(before.items()))
    after = Class(out, {}, {})
    report = result(after, [scanned("a.pdf", [page])], tmp_path)
    told = "a page of no sheet that answers.json has, drawn anew or of somebody who has left"
    assert report.remarks == (f"a.pdf, page 1: {told}: {code.shown}",)


def test_a_rebuild_with_a_new_secret_knows_the_sheets_on_paper(tmp_path: Path) -> None:
    week = write_class(tmp_path, TWO, {"s1": "S1"})
    out = tmp_path / "out"
    assert main(["build", str(week), "--out", str(out), "--quiet"]) == 0
    before = printed(out, "sheets")
    (out / "secret").unlink()
    assert main(["build", str(week), "--out", str(out), "--quiet", "--replace", "--new-secret"]) == 0
    report = result(Class(out, {}, {}), [scanned("a.pdf", list(before.values()))], tmp_path)
    assert (report.sorted, report.remarks) == (len(before), ())


def test_each_file_that_cannot_be_read_is_one_remark_and_the_rest_goes_on(school: Class, tmp_path: Path) -> None:
    hostile = [ScanFile(name, content) for name, (content, _) in UNREADABLE.items()]
    whole = png(of(school, "s1", 0)[0])
    damaged = [ScanFile("half.png", whole[: len(whole) // 2]), ScanFile("huge.pdf", huge_image_pdf())]
    report = result(school, [*hostile, *damaged, ScanFile("good.png", whole)], tmp_path)
    assert report.unread == {name: message for name, (_, message) in UNREADABLE.items()}
    assert report.remarks[:2] == (
        "half.png, page 1: a page that is damaged",
        "huge.pdf, page 1: a picture of more than 100,000,000 pixels",
    )
    assert (report.sorted, len(report.came)) == (1, 1)
    assert names(tmp_path) == {"s1.pdf", "pages.csv"}
    assert [row["what"] for row in rows(tmp_path)][: len(hostile)] == ["unread"] * len(hostile)


def test_names_of_files_are_no_formulas(school: Class, tmp_path: Path) -> None:
    result(school, [ScanFile("=cmd|x.pdf", b"")], tmp_path)
    assert [row["file"] for row in rows(tmp_path)] == ["'=cmd|x.pdf"]


def test_nothing_came(school: Class, tmp_path: Path) -> None:
    report = result(school, [], tmp_path)
    assert report == ScanReport(0, 0, 0, 0)
    assert not list((tmp_path / "sorted").glob("*"))


def test_collect_sorts_what_was_scanned_beside_what_was_filled_in(
    school: Class, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    back, table = tmp_path / "back", tmp_path / "answers.csv"
    back.mkdir()
    pages = of(school, "s1", 1)
    (back / "pile.pdf").write_bytes(scanned("pile.pdf", [*reversed(pages), blank(pages[0])]).content)
    (back / "empty.pdf").write_bytes(scanned("empty.pdf", [blank(pages[0])]).content)
    told = ["collect", str(school.out), str(back), "--out", str(table)]
    assert main(told) == 3
    said = capsys.readouterr().err
    assert "empty.pdf: nothing is on its pages" in said
    assert f"Scanned pages of one student ({len(pages)}) lie in answers-scans/" in said
    scans = tmp_path / "answers-scans"
    assert len(pypdfium2.PdfDocument(scans / "s1.pdf")) == len(pages)
    assert (scans / "pages.csv").is_file()
    assert table.is_file()
    assert main(told) == 1  # what is there is not written over
    (back / "pile.pdf").unlink()
    assert main([*told, "--replace"]) == 3
    assert not (scans / "s1.pdf").exists()
