"""Scanned pages of a class, turned, askew, noisy, blurred and between blank backs: how many are sorted, and wrongly."""

from __future__ import annotations

import csv
import io
import random
import re
import tempfile
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
from bench_table import note, print_table
from PIL import Image

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.returned import Returned
from problemgen.pipeline.scanned import sort_scans
from problemgen.write.files import Staging
from tests.support.scans import Scanner, file_of

__all__ = ["scans"]

SET = Path(__file__).parents[2] / "templates" / "sets" / "first-week"
STUDENTS = {"roomy": 63, "compact": 250}
"""So many have 500 pages and some more together, by layout."""
PAGES, BACKS, A_FILE = 500, 100, 50
SCANNERS = {
    "copier, 200 dpi": (200, Scanner()),
    "copier, 150 dpi": (150, Scanner()),
    "poor, 100 dpi": (100, Scanner(skew=4, noise=20, blur=1.0, speckles=1000, paper=60, quality=40)),
}
_PAGE = re.compile(r"Page (\d+) of (\d+)")


@dataclass(frozen=True)
class Printed:
    """A page of a student's sheets, by its place in the file; which of the sheet's it is, its words tell."""

    path: Path
    place: int
    page: str
    pages: str


def scans() -> None:
    """Print what became of 500 pages and 100 blank backs, by layout and scanner."""
    rows = []
    for layout, students in STUDENTS.items():
        with tempfile.TemporaryDirectory() as place:
            out = Path(place) / "built"
            told = ["--count", str(students), "--out", str(out), "--layout", layout, "--demonstration", "--quiet"]
            assert main(["build", str(SET), *told]) == 0
            pages = [one for path in sorted((out / "sheets").glob("*.pdf")) for one in _printed(path)][:PAGES]
            rows += [(f"{layout}: {name}", *_sorted(out, pages, *scanner)) for name, scanner in SCANNERS.items()]
    header = (f"{PAGES} pages, {BACKS} blank backs", "sorted", "wrong", "unsorted", "blank", "pages/s")
    print_table("Scanned pages", header, rows)
    note("Wrong: taken for another student's or another page, by the words on it. Pages are read in two processes.")


def _sorted(out: Path, pages: list[Printed], dots: int, scanner: Scanner) -> tuple[str, ...]:
    draw = random.Random(f"scans at {dots}")  # noqa: S311 - keeps no secret
    mixed = [*pages, *[None] * BACKS]
    draw.shuffle(mixed)
    with tempfile.TemporaryDirectory() as place:
        files = []
        for first in range(0, len(mixed), A_FILE):
            some = (scanner.scanned(_picture(one, dots), draw) for one in mixed[first : first + A_FILE])
            path = Path(place) / f"scan from {first}"
            path.write_bytes(file_of(some, dots))
            files.append(Returned(path.name, path, "pdf"))
        start = time.perf_counter()
        with Answers(out / ANSWERS_FILE) as answers, Staging(Path(place) / "out") as staging:
            report = sort_scans(files, answers, staging, "scans")
        seconds = time.perf_counter() - start
        table = (Path(place) / "out" / "scans" / "pages.csv").read_text("utf-8-sig")
    rows = [row for row in csv.DictReader(io.StringIO(table)) if row["what"] != "missing"]
    wrong = sum(_is_wrong(row, one) for row, one in zip(rows, mixed, strict=True))
    counts = (report.sorted, wrong, report.unsorted, report.blank)
    return (*map(str, counts), f"{report.pages / seconds:.1f}")


def _is_wrong(row: Mapping[str, str], truth: Printed | None) -> bool:
    if row["what"] in ("blank", "unsorted"):
        return row["what"] == "blank" and truth is not None
    return truth is None or (row["id"], row["page"], row["of"]) != (truth.path.stem, truth.page, truth.pages)


def _printed(path: Path) -> Iterator[Printed]:
    """The pages of a student's sheets that have words on them."""
    document = pypdfium2.PdfDocument(path)
    for place, page in enumerate(document):
        found = _PAGE.findall(page.get_textpage().get_text_range())
        if found:
            yield Printed(path, place, *found[-1])
    document.close()


def _picture(one: Printed | None, dots: int) -> Image.Image:
    if one is None:
        return Image.new("L", (827 * dots // 100, 1169 * dots // 100), 255)
    document = pypdfium2.PdfDocument(one.path)
    picture: Image.Image = document[one.place].render(scale=dots / 72, grayscale=True).to_pil()
    document.close()
    return picture
