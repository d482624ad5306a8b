"""Files that sheets are bound into, as a printer, a viewer and a screen reader find them."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Any, cast

import pikepdf
import pytest
from pikepdf import Array, Dictionary
from pypdf import PdfReader

from problemgen.model.blocks import Document, NewSheet, Part, Prose
from problemgen.render.printers.typst import sheet_data
from problemgen.write.binding.bindery import Bindery
from problemgen.write.binding.shelf import Place
from problemgen.write.pdf import Job, compile_all

SIZE = (595.0, 842.0)  # points of A4
Sheets = Mapping[str, bytes]


def bound(bindery: Bindery, places: Sequence[Place], title: str = "Class") -> bytes:
    file = io.BytesIO()
    bindery.bind(places, title, file)
    return file.getvalue()


def of(*pdfs: bytes, apart: bool = False) -> bytes:
    """A file of some PDFs."""
    bindery = Bindery(io.BytesIO())
    return bound(bindery, [place for pdf in pdfs for place in bindery.take(io.BytesIO(pdf), apart=apart)])


def pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


@dataclass(frozen=True)
class Tag:
    """An element of the tags, with the pieces of pages (page, number) that are its own."""

    kind: str
    entries: Mapping[str, Any]
    pieces: tuple[tuple[tuple[int, int], int], ...]
    objgen: tuple[int, int]


def tags(file: pikepdf.Pdf) -> list[Tag]:
    """All tags in reading order."""
    return list(_tags(file.Root.StructTreeRoot.K, None))


def _tags(node: Any, page: Any) -> Iterator[Tag]:
    for one in node if isinstance(node, Array) else [node]:
        if isinstance(one, Dictionary) and "/S" in one:
            here = one.get("/Pg", page)
            kids = one.get("/K", Array())
            listed = list(kids) if isinstance(kids, Array) else [kids]
            pieces = tuple(_piece(kid, here) for kid in listed if not isinstance(kid, Dictionary) or "/S" not in kid)
            yield Tag(str(one.S)[1:], dict(one), pieces, one.objgen)
            yield from _tags(Array(kid for kid in listed if isinstance(kid, Dictionary) and "/S" in kid), here)


def _piece(kid: Any, page: Any) -> tuple[tuple[int, int], int]:
    if isinstance(kid, Dictionary):
        return kid.get("/Pg", page).objgen, int(kid.MCID)
    return page.objgen, int(kid)


def marked(page: pikepdf.Page) -> list[int]:
    """The numbers of the marked pieces of a page, in the order in which they are drawn."""
    found = []
    for operands, operator in pikepdf.parse_content_stream(page):
        if str(operator) == "BDC" and isinstance(operands[1], Dictionary) and "/MCID" in operands[1]:
            found.append(int(operands[1].MCID))
    return found


@pytest.fixture(scope="module")
def sheets(make_sheet: Callable[..., Document], layouts: Mapping[str, str]) -> Sheets:
    """Sheets of one, of three and of several pages, one of two sheets, and one in German."""
    part = Part("p", "p", (Prose("Asked. "),), "1 point", "mol", work_lines=20)
    two = (NewSheet("First"), part, part, part, NewSheet("Second"), part)
    documents = {
        "long": make_sheet("Anna"),
        "short": make_sheet("Ben", "us-letter", ()),
        "two": replace(make_sheet("Cem", blocks=two), leaves=True),
        "german": replace(make_sheet("Dilara"), language="de", title="Bananenöl (Übung)"),
    }
    jobs = [Job(name, sheet_data(document)) for name, document in documents.items()]
    return dict(compile_all(jobs, layouts))


def test_each_student_starts_on_a_right_hand_page(sheets: Sheets) -> None:
    assert len(pages(sheets["long"])) % 2 == 1
    book = of(*[sheets["long"], sheets["short"]] * 2)
    starts = [number for number, text in enumerate(pages(book)) if "Page 1 of" in text]
    assert len(starts) == 4
    assert all(number % 2 == 0 for number in starts)
    assert len(pages(book)) == starts[-1] + 1
    with pikepdf.open(io.BytesIO(book)) as file:
        assert str(file.Root.ViewerPreferences.Duplex) == "/DuplexFlipLongEdge"
        blank = next(page for page in file.pages if not page.obj.get("/Contents"))
        assert [round(float(edge)) for edge in blank.mediabox] == [0, 0, *SIZE]


def test_one_sheet_of_each_student_can_be_bound(sheets: Sheets) -> None:
    text = pages(sheets["two"])
    assert [page == "" for page in text] == [False, False, False, True, False]
    bindery = Bindery(io.BytesIO())
    first, second = zip(*(bindery.take(io.BytesIO(sheets["two"]), apart=True) for _ in range(2)), strict=True)
    assert pages(bound(bindery, first)) == [*text[:3], "", *text[:3]]
    assert pages(bound(bindery, second)) == [text[4], "", text[4]]
    assert pages(bound(bindery, [*first[:1], *second[:1]])) == text
    for some, titles in ((first, ["First", "First"]), (second, ["Second", "Second"])):
        with pikepdf.open(io.BytesIO(bound(bindery, some))) as file, file.open_outline() as outline:
            assert [entry.title for entry in outline.root] == titles
            assert [str(tag.entries["/T"]) for tag in tags(file) if tag.kind == "H1"] == titles


def test_the_file_tells_what_it_is(sheets: Sheets) -> None:
    bindery = Bindery(io.BytesIO())
    book = bound(bindery, bindery.take(io.BytesIO(sheets["short"])), "Übung (1): Δ")
    with pikepdf.open(io.BytesIO(book)) as file:
        assert file.check_pdf_syntax() == []
        assert str(file.docinfo["/Title"]) == "Übung (1): Δ"
        assert bool(file.Root.ViewerPreferences.DisplayDocTitle)
        assert bool(file.Root.MarkInfo.Marked)
        assert str(file.Root.Lang) == "en"
        with file.open_metadata() as metadata:
            assert metadata["dc:title"] == "Übung (1): Δ"
            assert metadata["pdfuaid:part"] == "1"
            assert list(metadata["dc:language"]) == ["en"]


def test_the_outline_leads_to_every_student(sheets: Sheets) -> None:
    bindery = Bindery(io.BytesIO())
    places = [
        place for name in ("long", "short", "long") for place in bindery.take(io.BytesIO(sheets[name]), whose=name)
    ]
    with pikepdf.open(io.BytesIO(bound(bindery, places))) as file, file.open_outline() as outline:
        assert [entry.title for entry in outline.root] == [f"{one}: Banana oil" for one in ("long", "short", "long")]
        starts = [number for number, page in enumerate(pages(bound(bindery, places))) if "Page 1 of" in page]
        leads = [[page.obj.objgen for page in file.pages].index(entry.destination[0].objgen) for entry in outline.root]
        assert leads == starts
        with pikepdf.open(io.BytesIO(sheets["long"])) as alone, alone.open_outline() as own:
            assert [kid.title for kid in outline.root[2].children] == [kid.title for kid in own.root[0].children] != []


def test_every_piece_of_every_page_has_its_tag_once(sheets: Sheets) -> None:
    book = of(*(sheets[name] for name in ("long", "two", "short", "german", "long")), apart=True)
    with pikepdf.open(io.BytesIO(book)) as file:
        found = tags(file)
        owners = {piece: tag.objgen for tag in found for piece in tag.pieces}
        drawn = Counter((page.obj.objgen, number) for page in file.pages for number in marked(page))
        assert drawn == Counter(piece for tag in found for piece in tag.pieces)
        assert max(drawn.values()) == 1
        parents = dict(pikepdf.NumberTree(file.Root.StructTreeRoot.ParentTree).items())
        keys = [int(page.obj.StructParents) for page in file.pages if "/StructParents" in page.obj]
        assert sorted(parents) == sorted(set(keys)) == sorted(keys)
        for page in file.pages:
            numbers = marked(page)
            assert ("/StructParents" in page.obj) == bool(numbers)
            if numbers:
                row = cast("Any", parents[int(page.obj.StructParents)])
                assert [row[number].objgen for number in numbers] == [owners[page.obj.objgen, n] for n in numbers]


def test_tags_are_those_of_the_sheets_in_order(sheets: Sheets) -> None:
    names = ("german", "long", "two", "long")
    with pikepdf.open(io.BytesIO(of(*(sheets[name] for name in names)))) as file:
        found = tags(file)
        expected = ["Document"]
        for name in names:
            with pikepdf.open(io.BytesIO(sheets[name])) as alone:
                expected += ["Part", *(tag.kind for tag in tags(alone)[1:])]
        assert [tag.kind for tag in found] == expected
        assert [str(tag.entries["/Lang"]) for tag in found if tag.kind == "Part" and "/Lang" in tag.entries] == [
            *("de", "en", "en", "en")
        ]
        places = {page.obj.objgen: number for number, page in enumerate(file.pages)}
        read = [places[page] for page, _ in groupby(piece[0] for tag in found for piece in tag.pieces)]
        assert read == sorted(set(read))


def test_kinds_and_names_of_tags_are_told(sheets: Sheets) -> None:
    with pikepdf.open(io.BytesIO(of(sheets["long"], sheets["two"], sheets["long"]))) as file:
        tree, found = file.Root.StructTreeRoot, tags(file)
        with pikepdf.open(io.BytesIO(sheets["long"])) as alone:
            assert dict(tree.RoleMap) == dict(alone.Root.StructTreeRoot.RoleMap)
            names = [str(tag.entries["/ID"]) for tag in tags(alone) if "/ID" in tag.entries]
        mine = [str(tag.entries["/ID"]) for tag in found if "/ID" in tag.entries]
        assert len(mine) == len(set(mine)) == 2 * len(names) > 0
        assert sorted(pikepdf.NameTree(tree.IDTree)) == sorted(mine)
        limits = [tuple(map(str, node.Limits)) for node in tree.IDTree.Kids]
        assert all(before[1] < behind[0] for before, behind in pairwise(limits))
        headers = [str(name) for tag in found for one in tag.entries.get("/A", []) for name in one.get("/Headers", [])]
        assert set(headers) <= set(mine)


def test_what_sheets_share_stands_once_beside_what_the_first_has(sheets: Sheets) -> None:
    alone = _streams(sheets["long"]).count("/CIDFontType0C")
    assert [_streams(of(*[sheets["long"]] * many)).count("/CIDFontType0C") for many in (1, 2, 5)] == [
        alone,
        2 * alone,
        2 * alone,
    ]


def test_what_came_long_ago_is_forgotten_and_nothing_is_missing(
    sheets: Sheets, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("problemgen.write.binding.bindery._REMEMBERED", 1)
    book = of(*[sheets["long"]] * 3)
    assert _streams(book).count("/CIDFontType0C") == 3 * _streams(sheets["long"]).count("/CIDFontType0C") > 0
    with pikepdf.open(io.BytesIO(book)) as file:
        assert file.check_pdf_syntax() == []


def _streams(pdf: bytes) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf)) as file:
        return [str(one.get("/Subtype", "")) for one in file.objects if isinstance(one, pikepdf.Stream)]


def test_any_choice_of_the_sheets_is_a_whole_file(sheets: Sheets) -> None:
    bindery = Bindery(io.BytesIO())
    places = [place for _ in range(30) for name in sheets for place in bindery.take(io.BytesIO(sheets[name]))]
    for choice in (places, places[1::4], places[::-3], places[-3:-5:-1], places[-1:], []):
        book = bound(bindery, choice)
        with pikepdf.open(io.BytesIO(book)) as file:
            assert 3 * int(file.trailer.Size) < len(book)
            assert file.check_pdf_syntax() == ([] if choice else ["ERROR: file does not contain any pages"])
            assert [tag.kind for tag in tags(file)].count("Part") >= len(choice)


def test_the_same_sheets_are_the_same_bytes(sheets: Sheets) -> None:
    alike = of(sheets["long"], sheets["two"])
    assert alike == of(sheets["long"], sheets["two"])
    assert alike != of(sheets["two"], sheets["long"])


@pytest.mark.parametrize("text", ["12 0 R", "(12 0 R", "\\12 0 R)", ") 3 0 R (", "<31> 1 0 R", "\x7f7 0 R"])
def test_text_that_looks_like_a_reference_is_text(
    text: str, make_sheet: Callable[..., Document], layouts: Mapping[str, str]
) -> None:
    ((_, pdf),) = compile_all([Job("one", sheet_data(replace(make_sheet(blocks=()), title=text)))], layouts)
    with pikepdf.open(io.BytesIO(of(pdf, pdf))) as file, pikepdf.open(io.BytesIO(pdf)) as alone:
        told = [str(tag.entries["/T"]) for tag in tags(alone) if tag.kind == "H1"]
        assert [str(tag.entries["/T"]) for tag in tags(file) if tag.kind == "H1"] == told * 2
