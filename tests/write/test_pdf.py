"""Printed sheets, as a reader, a screen reader and a printer find them."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pikepdf
import pytest
from pypdf import PdfReader

from problemgen.errors import OutputError
from problemgen.model.blocks import (
    Amount,
    AnswerBox,
    Block,
    BoxRow,
    Bullets,
    Calculation,
    Caution,
    Document,
    Heading,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Scheme,
    SchemeItem,
    Symbol,
    Table,
)
from problemgen.render.printers.typst import sheet_data
from problemgen.render.words.text import clean_text
from problemgen.write import pdf as pdf_module
from problemgen.write.binding.bindery import Bindery
from problemgen.write.pdf import Job, Press, compile_all

HOSTILE = (
    '#read("/etc/passwd")',
    "$x$ *b* _i_ `r`",
    "@ref <label> = Heading",
    "{{ 7*7 }} {% if x %}",
    "=cmd|calc!A1",
    "\\u{1F600} \\ // /* c */",
    "#set page(width: 1cm)",
)
POINTS = {"a4": (595, 842), "us-letter": (612, 792)}


def printed(document: Document, layouts: Mapping[str, str]) -> bytes:
    ((_, pdf),) = compile_all([Job("one", sheet_data(document))], layouts)
    return pdf


def pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def tags(pdf: bytes) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every element of the structure tree in reading order: its type and its entries."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        waiting: list[Any] = [file.Root.StructTreeRoot.K]
        while waiting:
            node = waiting.pop()
            if isinstance(node, pikepdf.Array):
                waiting.extend(reversed(list(node)))
            elif isinstance(node, pikepdf.Dictionary):
                if "/S" in node:
                    yield str(node.S)[1:], dict(node)
                if "/K" in node:
                    waiting.append(node.K)


def test_title_language_and_size(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    for paper, size in POINTS.items():
        with pikepdf.open(io.BytesIO(printed(make_sheet(paper=paper), layouts))) as file:
            assert str(file.docinfo["/Title"]) == "Banana oil"
            assert str(file.Root.Lang) == "en"
            assert bool(file.Root.MarkInfo.Marked)
            assert "/CreationDate" not in file.docinfo
            assert [round(float(edge)) for edge in file.pages[0].mediabox][2:] == list(size)
            with file.open_metadata() as metadata:
                assert metadata["pdfuaid:part"] == "1"


def test_headings_tables_lists_and_figures_are_tagged(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    found = list(tags(printed(make_sheet(), layouts)))
    kinds = [kind for kind, _ in found]
    assert [kind for kind in kinds if re.fullmatch(r"H\d", kind)] == ["H1", "H2", "H3"]
    assert kinds.count("Table") == kinds.count("THead") == 1
    assert (kinds.count("TH"), kinds.count("TD")) == (2, 4)
    scopes = [str(entry.get("/Scope")) for kind, e in found if kind == "TH" for entry in e["/A"] if "/Scope" in entry]
    assert scopes == ["/Column", "/Column"]
    assert (kinds.count("L"), kinds.count("LI")) == (2, 3)
    spoken = [str(entries["/Alt"]) for kind, entries in found if kind == "Figure"]
    scheme = (
        "3-methylbutan-1-ol plus acetic acid gives 3-methylbutyl acetate plus water."
        " Conditions: H2SO4 (catalytic), reflux, 1 h"
    )
    assert spoken == [scheme, scheme, "the amount is mass over molar mass"]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_printed_as_they_are(name: str, make_sheet: Any, layouts: Mapping[str, str]) -> None:
    blocks = (Paragraph((Prose(name),)), Part(name, name, (Prose(name),), name, "g"))
    document = replace(make_sheet(name, blocks=blocks), title=name, course=name, code=name)
    (text,) = pages(printed(document, layouts))
    assert squeezed(text).count(squeezed(name)) >= 7
    assert "root:" not in text


def test_direction_overrides_do_not_reach_the_page(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    text = pages(printed(make_sheet("Anna \u202egnp.exe\u2066", blocks=()), layouts))[0]
    assert "Anna gnp.exe" in text
    assert not {"\u202e", "\u2066"} & set(text)


@pytest.mark.parametrize(
    "name",
    ["Zoëlle Åskemyr-Ñandir", "Μυρσαλία Ανεμοπέτρου", "Велмир Дождещёкин", "Lữ Thềm Ngọc Rạng"],
)
def test_names_in_letters_of_the_wheels_fonts(name: str, make_sheet: Any, layouts: Mapping[str, str]) -> None:
    assert clean_text(name) in pages(printed(make_sheet(name, blocks=()), layouts))[0]


@pytest.mark.parametrize("name", ["טלורה בן־ערפל", "سهيدة الغيام"])
def test_names_written_from_right_to_left(name: str, make_sheet: Any, layouts: Mapping[str, str]) -> None:
    text = pages(printed(make_sheet(name, blocks=()), layouts))[0]
    assert {letter for letter in name if letter.isalpha()} <= set(text)


def starts_of_text(pdf: bytes) -> list[tuple[float, str]]:
    """Where each run of text on the first page starts, in points from the left edge."""
    seen: list[tuple[float, str]] = []

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        if text.strip():
            seen.append((line[4] * page[0] + page[4], text))

    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    return seen


def test_a_very_long_name_stays_inside_the_margins(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    pdf = printed(make_sheet("W" * 90, blocks=()), layouts)
    (name_at,) = [x for x, text in starts_of_text(pdf) if "WWW" in text]
    assert 62 <= name_at < 150
    assert squeezed(pages(pdf)[0]).count("W") == 90


def test_head_and_foot_of_each_page(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    sheet = pages(printed(make_sheet(), layouts))
    assert len(sheet) > 2
    for number, text in enumerate(sheet, start=1):
        assert "CHEM 12" in text
        assert "Name: Anna" in text
        assert "Sheet AB-12" in text
        assert f"Page {number} of {len(sheet)}" in text
        assert text.count("Banana oil") == 1
        assert "CONFIDENTIAL" not in text


def test_a_sheet_for_nobody_has_a_line_for_the_name(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    assert "Name:" in pages(printed(replace(make_sheet(""), name_line=True), layouts))[0]
    assert "Name:" not in pages(printed(make_sheet(""), layouts))[0]


def test_a_key_says_so_on_every_page(key: Document, layouts: Mapping[str, str]) -> None:
    text = pages(printed(key, layouts))
    assert len(text) == 3
    for number, (page, name) in enumerate(zip(text, ("Anna", "Ben", "Cem"), strict=True), start=1):
        assert page.count("CONFIDENTIAL: answers") == 2
        assert f"{name}: answers" in page
        assert f"Page {number} of 3" in page
    kinds = [kind for kind, _ in tags(printed(key, layouts))]
    assert kinds.count("H1") == 3


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
@pytest.mark.parametrize("lines", [0, 1, 3, 7, 12, 20])
def test_a_part_stays_with_its_blank_on_one_page(
    paper: str, lines: int, make_sheet: Any, layouts: Mapping[str, str]
) -> None:
    long = Prose("The text of this question goes on for some lines. " * 6)
    parts = tuple(Part(c, c, (Prose(f"Asked-{c}. "), long), "2 points", f"mol{c}", work_lines=lines) for c in "pqrst")
    text = pages(printed(make_sheet(paper=paper, blocks=parts), layouts))
    for name in "pqrst":
        (holding,) = [page for page in text if f"Asked-{name}" in page]
        assert f"mol{name}" in holding


@pytest.mark.parametrize("filled", range(2, 20))
def test_a_problem_stays_with_its_first_part(filled: int, make_sheet: Any, layouts: Mapping[str, str]) -> None:
    """Wherever on a page it would begin; before it stand notes, behind it other parts."""
    table = next(block for block in make_sheet().blocks if isinstance(block, Table))
    scheme = next(block for block in make_sheet().blocks if isinstance(block, Scheme))
    before = tuple(Part(f"b{n}", "b", (Prose("Before."),), "1 point", "mol", work_lines=1) for n in range(filled))
    story, note = Paragraph((Prose("Told-story."),)), Note((Prose("Told-note."),))
    told = (Heading(2, "Whole problem"), story, scheme, table, note)
    asked = tuple(Part(c, c, (Prose(f"Asked-{c}."),), "1 point", "mol") for c in "pqrs")
    text = pages(printed(make_sheet(blocks=(*before, *told, *asked)), layouts))
    (holding,) = [page for page in text if "Whole problem" in page]
    for words in ("Told-story", "3-methylbutyl", "Data", "Told-note", "Asked-p"):
        assert words in holding


def test_a_problem_too_long_for_a_page_is_divided(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    story = tuple(Paragraph((Prose(f"Told-{n}. " + "Some words that fill their line. " * 12),)) for n in range(20))
    part = Part("p", "p", (Prose("Asked-p."),), "1 point", "mol")
    text = pages(printed(make_sheet(blocks=(Heading(2, "Long"), *story, part)), layouts))
    assert 2 <= len(text) <= 4
    assert "Told-0." in text[0]
    assert "Asked-p" in text[-1]


def test_a_chain_that_is_too_long_wraps(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    line = make_sheet().blocks[-1]
    assert isinstance(line, Calculation)
    chain = replace(line, terms=line.terms * 12, operators=("×",) * 11)
    wide = replace(line, terms=(replace(line.terms[0], top=line.terms[0].top * 12),))
    pdf = printed(make_sheet(blocks=(chain, wide)), layouts)
    assert max(x for x, _ in starts_of_text(pdf)) < 595 - 62
    assert pages(pdf)[0].count("4.05") == 24


def test_the_same_sheet_is_the_same_bytes(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    assert printed(make_sheet(), layouts) == printed(make_sheet(), layouts)


def test_a_sheet_as_pictures_has_one_a_page(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    press = Press(layouts)
    job = Job("one", sheet_data(make_sheet()))
    pictures = press.pictures(job)
    assert len(pictures) == len(pages(printed(make_sheet(), layouts)))
    assert all(picture.startswith(b"<svg ") for picture in pictures)
    assert press.pictures(Job("short", sheet_data(make_sheet(blocks=())))) != pictures
    with pytest.raises(OutputError, match=r"^sheet 'bad' could not be laid out: "):
        press.pictures(Job("bad", {**job.data, "blocks": [{"kind": "unknown"}]}))


def test_a_pool_gives_the_same_sheets_in_order(
    make_sheet: Any, layouts: Mapping[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    jobs = [Job(f"s{i}", sheet_data(make_sheet(f"Student {i}", blocks=()))) for i in range(9)]
    alone = list(compile_all(jobs, layouts, workers=1))
    monkeypatch.setattr(pdf_module, "POOL_FROM", 4)
    monkeypatch.setattr(pdf_module, "CHUNK", 2)
    assert list(compile_all(iter(jobs), layouts, workers=2)) == alone
    assert [name for name, _ in alone] == [job.name for job in jobs]
    bad = Job("bad", {**jobs[0].data, "blocks": [{"kind": "unknown"}]})
    with pytest.raises(OutputError, match=r"^sheet 'bad' could not be laid out: .*no layout for the block unknown"):
        list(compile_all([*jobs, bad], layouts, workers=2))


def test_empty_lines_and_cells_are_printed_as_nothing(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    blocks = (
        Paragraph(()),
        Note(()),
        Bullets(((),)),
        Caution("", ((),)),
        Scheme((SchemeItem(1, "", ""),), (SchemeItem(1, "", "", "CC"),), "", "heat", ""),
        Scheme((), (), "", "", "", drawn=False),
        Table("", ((), ()), (((), ()),), (True, True)),
        Part("", "", (), "", "", work_lines=0),
        Calculation(Symbol(""), (), (), (), Amount(""), ""),
    )
    (text,) = pages(printed(replace(make_sheet("", blocks=blocks), title="", course="", code=""), layouts))
    assert "Answer:" in text


def leafy(make_sheet: Any, *pages_of_sheets: int) -> Document:
    """A document of sheets with so many pages each, made by parts that fill a page."""
    part = Part("p", "p", (Prose("Asked. "),), "1 point", "mol", work_lines=20)
    blocks: list[Block] = []
    for number, count in enumerate(pages_of_sheets, start=1):
        blocks += [NewSheet(f"Sheet-{number}"), *[part] * count]
    return replace(make_sheet(blocks=tuple(blocks)), leaves=True)


@pytest.mark.parametrize("counts", [(1, 1), (2, 1), (1, 2), (3, 2, 1)])
def test_each_sheet_starts_on_a_leaf_and_counts_its_own_pages(
    counts: tuple[int, ...], make_sheet: Any, layouts: Mapping[str, str]
) -> None:
    pdf = printed(leafy(make_sheet, *counts), layouts)
    text = pages(pdf)
    starts = [place for place, page in enumerate(text) if "Page 1 of" in page]
    assert all(start % 2 == 0 for start in starts)
    told = [[line for line in page.splitlines() if line.startswith("Sheet AB-12")] for page in text]
    expected = [f"Sheet AB-12 Page {n} of {count}" for count in counts for n in range(1, count + 1)]
    assert [line for lines in told for line in lines] == expected
    assert [page for page in text if not page] == [""] * sum(count % 2 for count in counts[:-1])
    for number, count in enumerate(counts):
        bindery, file = Bindery(io.BytesIO()), io.BytesIO()
        bindery.bind([bindery.take(io.BytesIO(pdf), apart=True)[number] for _ in range(2)], "T", file)
        alone = pages(file.getvalue())
        assert [page for page in alone if page] == text[starts[number] : starts[number] + count] * 2
        assert [place for place, page in enumerate(alone) if "Page 1 of" in page] == [0, count + count % 2]


def compact(make_sheet: Any) -> Document:
    return replace(make_sheet(), compact=True, about="s1, section B")


def sizes(pdf: bytes) -> list[tuple[float, str]]:
    """The height of the letters of each run of text of the first page, in points."""
    seen: list[tuple[float, str]] = []

    def note(text: str, page: list[float], line: list[float], _: object, size: float) -> None:
        seen.append((abs(size * line[3] * page[3]), text.strip()))

    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    return [(size, text) for size, text in seen if any(letter.isalpha() for letter in text)]


def test_a_compact_sheet_has_less_pages_and_the_same_tags(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    small, large = printed(compact(make_sheet), layouts), printed(make_sheet(), layouts)
    assert len(pages(small)) == 1 < len(pages(large))
    wanted = ("H1", "H2", "H3", "Table", "THead", "TH", "TD", "LI", "Figure")
    assert [sum(kind == one for kind, _ in tags(small)) for one in wanted] == [
        sum(kind == one for kind, _ in tags(large)) for one in wanted
    ]
    with pikepdf.open(io.BytesIO(small)) as file, file.open_metadata() as metadata:
        assert metadata["pdfuaid:part"] == "1"


def test_nothing_on_a_compact_sheet_is_smaller_than_nine_points(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    found = sizes(printed(compact(make_sheet), layouts))
    assert len(found) > 40
    assert not [text for size, text in found if size < 8.99]


def test_a_compact_part_has_room_for_its_answer(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    """Blanks of one column stand at least 7.5 mm below each other."""
    parts = tuple(Part(c, c, (Prose("Short?"),), "1 point", f"mol{c}") for c in "pqrstu")
    document = replace(make_sheet(blocks=parts), compact=True)
    heights: list[float] = []

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        if text.strip().startswith("mol"):
            heights.append(line[5] * page[3] + page[5])

    PdfReader(io.BytesIO(printed(document, layouts))).pages[0].extract_text(visitor_text=note)
    assert len(heights) == 6
    assert min(a - b for a, b in pairwise(heights)) >= 7.5 / 25.4 * 72


def test_a_box_for_all_answers_is_a_table(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    rows = (BoxRow("1a", "mmol"), BoxRow("1b", "", wide=True), BoxRow("1c", "g"), BoxRow("1d", "mL"))
    part = Part("p", "p", (Prose("Asked."),), "1 point", "mmol", blank=False, work_lines=0)
    for narrow in (False, True):
        document = replace(make_sheet(blocks=(AnswerBox(rows), part)), compact=narrow)
        pdf = printed(document, layouts)
        kinds = [kind for kind, _ in tags(pdf)]
        assert (kinds.count("Table"), kinds.count("TH")) == (1, 4)
        text = pages(pdf)[0]
        assert [text.count(label) for label in ("1a", "1b", "1c", "1d")] == [1] * 4
        assert text.count("mmol") == 1
        assert "Answer:" not in text


@pytest.mark.parametrize(("times", "lines"), [(1, 1), (3, 1), (4, 1), (6, 2)])
def test_an_equation_shrinks_a_little_before_it_is_broken(
    times: int, lines: int, make_sheet: Any, layouts: Mapping[str, str]
) -> None:
    """166 mm have room for some 8 formulas of this length; a fifth more is shrunk."""
    item = SchemeItem(3, "K2Cr2O7", "")
    scheme = Scheme((item,) * times, (item,) * times, "", "", "", drawn=False)
    places: set[float] = set()

    def note(text: str, page: list[float], line: list[float], *_: object) -> None:
        if text.strip().startswith("3"):
            places.add(round(line[5] * page[3] + page[5]))

    pdf = printed(make_sheet(blocks=(scheme,)), layouts)
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    assert len(places) == lines


def test_no_job_no_sheet(layouts: Mapping[str, str]) -> None:
    assert list(compile_all([], layouts)) == []


def test_a_letter_without_a_glyph_is_an_error_in_plain_words(make_sheet: Any, layouts: Mapping[str, str]) -> None:
    with pytest.raises(OutputError, match=r"^sheet 'one' could not be laid out: .*could not be displayed"):
        printed(make_sheet("Anna \U0001f680"), layouts)
