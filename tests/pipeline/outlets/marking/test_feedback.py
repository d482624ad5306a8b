"""The feedback files: for the owner alone, self-contained, tagged, the same bytes again, and stopped by no answer."""

from __future__ import annotations

import io
import re
import stat
from collections.abc import Iterator, Mapping
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from markupsafe import escape
from pypdf import PdfReader

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.resources import layouts
from problemgen.model.problem_set import Student
from problemgen.pipeline.outlets.marking import feedback as outlet
from problemgen.pipeline.outlets.marking.feedback import FeedbackPages
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices
from problemgen.render.words.prompts import quantity_text
from problemgen.write.files import Staging
from tests.support.small_class import NAMES, files_of
from tests.support.small_set import small_set, write_answers

CLASS = tuple(Student(student, name, "A") for student, name in NAMES.items())
ANSWERS = {
    "s1": {"1a": "2.500 mmol", "1b": "2.000", "1c": "2.500", "1e": "AgNO3", "2b": "0.0701"},
    "s2": {"1a": "\U0001f680 2.5", "1b": "苔原 \u0301\u200d x", "1f": '#read("/etc/passwd") $x$ <b>'},
    "s3": {"1a": "\ue000" * 300, "2a": "\u202e4.05"},
}


def written(
    folder: Path, choices: FeedbackChoices | None = None, cells: Mapping[str, Mapping[str, str]] = ANSWERS
) -> dict[str, bytes]:
    """The files of a class of six with awkward names."""
    folder.mkdir(exist_ok=True)
    with (
        Answers(write_answers(folder, small_set(folder), CLASS)) as answers,
        Staging(folder / "out", replace=True) as staging,
    ):
        pages = FeedbackPages(staging, answers.head, layouts(), choices or FeedbackChoices())
        for key in answers:
            pages.take(key, judge_student(answers.head, key, cells.get(key.student, {})))
        pages.close()
    return files_of(folder / "out")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("feedback")


@pytest.fixture(scope="module")
def files(folder: Path) -> dict[str, bytes]:
    return written(folder)


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def tags(pdf: bytes) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every structure element's tag, with its keys, in reading order."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        waiting: list[Any] = [file.Root.StructTreeRoot.K]
        while waiting:
            node = waiting.pop(0)
            if isinstance(node, pikepdf.Array):
                waiting[:0] = list(node)
            elif isinstance(node, pikepdf.Dictionary):
                if "/S" in node:
                    yield str(node.S)[1:], {str(key): str(node[key]) for key in node if key in ("/Alt", "/Lang")}
                if "/K" in node:
                    waiting.insert(0, node.K)


class Outline(HTMLParser):
    """The start tags of a page, with their attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    @property
    def headings(self) -> list[int]:
        return [int(tag[1]) for tag, _ in self.tags if re.fullmatch("h[1-6]", tag)]


def test_every_student_has_a_page_and_a_pdf(files: dict[str, bytes]) -> None:
    assert sorted(files) == sorted(f"feedback/{student}.{kind}" for student in NAMES for kind in ("html", "pdf"))


def test_they_are_for_the_owner_only(folder: Path, files: dict[str, bytes]) -> None:
    modes = {stat.S_IMODE((folder / "out" / name).stat().st_mode) for name in files}
    assert modes == {0o600}


def test_the_same_marking_gives_the_same_bytes(files: dict[str, bytes], tmp_path: Path) -> None:
    assert written(tmp_path / "again") == files


def test_in_small_chunks_the_bytes_are_the_same(
    files: dict[str, bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outlet, "_CHUNK", 2)
    assert written(tmp_path / "chunks") == files


def test_without_pdf_the_pages_are_the_same(files: dict[str, bytes], tmp_path: Path) -> None:
    pages = written(tmp_path / "pages", FeedbackChoices(pdf=False))
    assert pages == {name: content for name, content in files.items() if name.endswith(".html")}


def test_without_solutions_no_answer_of_the_key_stands_there(files: dict[str, bytes], tmp_path: Path) -> None:
    short = written(tmp_path / "short", FeedbackChoices(solutions=False))
    for name, content in short.items():
        shown = text_of(content) if name.endswith(".pdf") else content.decode()
        assert "Worked solution" not in shown
        assert "414.7" not in shown
    assert "414.7" in files["feedback/s4.html"].decode()
    assert "414.7" in text_of(files["feedback/s4.pdf"])


def test_nobody_else_is_named(files: dict[str, bytes]) -> None:
    for name, content in files.items():
        is_pdf, owner = name.endswith(".pdf"), Path(name).stem
        shown = text_of(content) if is_pdf else content.decode()
        assert is_pdf or str(escape(NAMES[owner])) in shown
        for other in NAMES.keys() - {owner}:
            assert str(escape(NAMES[other])) not in shown
            assert NAMES[other] not in shown
            assert not re.search(rf"\b{other}\b", shown)


def test_nobody_else_s_numbers_stand_there(built: Path, tmp_path: Path) -> None:
    with Answers(built / ANSWERS_FILE) as answers, Staging(tmp_path / "out") as staging:
        pages = FeedbackPages(staging, answers.head, layouts(), FeedbackChoices(pdf=False))
        given = {
            key.student: {quantity_text(datum) for one in key.problems for datum in one.given.values()}
            for key in answers
        }
        for key in answers:
            pages.take(key, judge_student(answers.head, key, {}))
        pages.close()
    for student, own in given.items():
        html = (tmp_path / "out" / "feedback" / f"{student}.html").read_text(encoding="utf-8")
        others = {text for other in given.values() for text in other} - own
        assert len(others) >= len(NAMES)
        assert not any(f">{text}" in html for text in others)
        assert any(f">{text}" in html for text in own)


def test_the_flag_says_in_words_where_it_went_wrong(files: dict[str, bytes]) -> None:
    html, pdf = files["feedback/s1.html"].decode(), text_of(files["feedback/s1.pdf"])
    assert re.search(r'class="flag"><span class="sign" aria-hidden="true">✗</span> <strong>Here 1c went wrong', html)
    assert "✗ Here 1c went wrong: it looks like" in pdf


def test_a_pdf_is_tagged_and_says_who_and_what(files: dict[str, bytes]) -> None:
    for name in files:
        if name.endswith(".pdf"):
            with pikepdf.open(io.BytesIO(files[name])) as pdf:
                assert str(pdf.Root.Lang) == "en"
                assert pdf.Root.MarkInfo.Marked
                with pdf.open_metadata() as about:
                    assert about["dc:title"] == "Small: feedback"
                    assert about["pdfuaid:part"] == "1"


def test_headings_tables_and_calculations_are_tagged(files: dict[str, bytes]) -> None:
    found = list(tags(files["feedback/s1.pdf"]))
    levels = [int(tag[1]) for tag, _ in found if re.fullmatch("H[1-6]", tag)]
    assert levels[0] == 1
    assert set(levels) == {1, 2, 3, 4}
    assert all(later <= earlier + 1 for earlier, later in pairwise(levels))
    names = [tag for tag, _ in found]
    assert names.count("Table") == 2  # the numbers of two problems
    assert names.count("TH") >= 6
    figures = [keys for tag, keys in found if tag in ("Figure", "Formula")]
    assert figures
    assert all(keys.get("/Alt") for keys in figures)


def test_a_page_is_self_contained_and_in_order(files: dict[str, bytes]) -> None:
    for name, content in files.items():
        if not name.endswith(".html"):
            continue
        page = Outline(content.decode())
        tags = [tag for tag, _ in page.tags]
        assert page.tags[0] == ("html", {"lang": "en", "dir": "ltr"})
        assert tags.count("title") == tags.count("h1") == tags.count("main") == 1
        assert not {"script", "link", "img", "iframe", "object", "form"} & {*tags}
        assert not any(key.startswith("on") or key in ("src", "href") for _, keys in page.tags for key in keys)
        assert page.headings[0] == 1
        assert all(later <= earlier + 1 for earlier, later in pairwise(page.headings))
        policy = dict(page.tags)["meta"]
        assert policy is not None
        assert "default-src 'none'" in content.decode()


def test_what_no_font_shows_does_not_stop_the_class(files: dict[str, bytes]) -> None:
    pdf = text_of(files["feedback/s2.pdf"])
    assert "You wrote □ 2.5" in pdf
    assert "#read(" in pdf
    assert "root:" not in pdf
    html = files["feedback/s2.html"].decode()
    assert "\U0001f680 2.5" in html
    assert "&lt;b&gt;" in html
    assert "\u202e" not in files["feedback/s3.html"].decode()


def test_the_set_decides_whether_there_are_solutions(tmp_path: Path) -> None:
    with (
        Answers(
            write_answers(tmp_path, small_set(tmp_path, "\n[feedback]\nworked_solution = false\n"), CLASS)
        ) as answers,
        Staging(tmp_path / "out") as staging,
    ):
        pages = FeedbackPages(staging, answers.head, layouts(), FeedbackChoices(pdf=False))
        key = answers.student("s1")
        pages.take(key, judge_student(answers.head, key, {}))
        pages.close()
    assert b"Worked solution" not in files_of(tmp_path / "out")["feedback/s1.html"]
