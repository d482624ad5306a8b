"""A document as data for the layout: literal strings, heading levels, units and fractions."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from problemgen.model.blocks import (
    Amount,
    Block,
    Bullets,
    Calculation,
    Caution,
    Chemical,
    Document,
    Flagged,
    Heading,
    Judged,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Ratio,
    Scheme,
    SchemeItem,
    Symbol,
    Table,
    UnitPiece,
)
from problemgen.render.printers.typst import document_data, sheet_data


def document(*blocks: Block, **fields: Any) -> Document:
    plain = Document("Salt", "CHEM 1", "Anna", "AB-12", "a4", "en", blocks)
    return replace(plain, **fields)


def shaped(block: Block) -> dict[str, Any]:
    found: dict[str, Any] = sheet_data(document(block))["blocks"][0]
    return found


def test_the_frame_of_a_document() -> None:
    data = sheet_data(document(student=" An\u202ena\n", language="en-GB"))
    assert {key: data[key] for key in ("title", "course", "student", "code", "paper", "lang", "region", "dir")} == {
        "title": "Salt",
        "course": "CHEM 1",
        "student": "Anna",
        "code": "AB-12",
        "paper": "a4",
        "lang": "en",
        "region": "GB",
        "dir": "ltr",
    }
    assert data["words"]["confidential"] == "CONFIDENTIAL: answers"


@pytest.mark.parametrize(
    ("tag", "lang", "region", "direction"),
    [
        ("de", "de", None, "ltr"),
        ("zh-Hant-TW", "zh", "TW", "ltr"),
        ("ar", "ar", None, "rtl"),
        ("he-IL", "he", "IL", "rtl"),
        ('x"]', "en", None, "ltr"),
        ("", "en", None, "ltr"),
    ],
)
def test_languages(tag: str, lang: str, region: str | None, direction: str) -> None:
    data = sheet_data(document(language=tag))
    assert (data["lang"], data["region"], data["dir"]) == (lang, region, direction)


def test_a_paper_of_another_size_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^paper 'a3' is not one of a4, us-letter$"):
        sheet_data(document(paper="a3"))


def test_heading_levels_start_below_the_title_and_skip_none() -> None:
    levels = (
        Heading(1, "a"),
        Heading(4, "b"),
        Heading(2, "c"),
        Heading(3, "d"),
        NewSheet("e"),
        Heading(3, "f"),
    )
    blocks = sheet_data(document(*levels))["blocks"]
    assert [block.get("level", block["kind"]) for block in blocks] == [2, 3, 2, 3, "sheet", 2]


@pytest.mark.parametrize(
    ("units", "printed"),
    [
        ((UnitPiece("g"),), "g"),
        ((UnitPiece("g"), UnitPiece("mol", -1)), "g/mol"),
        ((UnitPiece("g"), UnitPiece("cm", -3)), "g/cm^3"),
        ((UnitPiece("cm", 3),), "cm^3"),
        ((UnitPiece("mol", -1),), "mol^−1"),
        (
            (UnitPiece("kPa"), UnitPiece("L"), UnitPiece("mol", -1), UnitPiece("K", -1)),
            "kPa L mol^−1 K^−1",
        ),
    ],
)
def test_units(units: tuple[UnitPiece, ...], printed: str) -> None:
    line = Calculation(Symbol("x"), (), (), (), Amount("1", units), "")
    pieces = shaped(line)["result"]["units"]
    text = "".join(p["join"] + p["text"] + (f"^{p['sup']}" if p["sup"] else "") for p in pieces)
    assert text == printed


def test_what_a_unit_is_of_goes_when_all_of_the_unit_goes() -> None:
    gone = (UnitPiece("mol", cancelled=True),)
    half = (UnitPiece("g", cancelled=True), UnitPiece("mol", -1))
    terms = (Ratio((Amount("1", gone, "NaCl"),)), Ratio((Amount("2", half, "NaCl"),)), Ratio((Amount("3"),)))
    data = shaped(Calculation(Symbol("x"), (), terms, ("×", "-"), Amount("1"), ""))
    assert [term["top"][0]["of_cancelled"] for term in data["terms"]] == [True, False, False]
    assert data["operators"] == ["×", "−"]


def test_one_lone_slash_makes_a_fraction_of_a_relation() -> None:
    m, over, big_m = Symbol("m"), Prose(" / "), Symbol("M")
    fraction = shaped(Calculation(Symbol("n"), (m, over, big_m), (), (), Amount("1"), ""))["relation"]
    assert [piece["letter"] for piece in fraction["top"]] == ["m"]
    assert [piece["letter"] for piece in fraction["bottom"]] == ["M"]
    plain = shaped(Calculation(Symbol("n"), (m, over, m, over, m), (), (), Amount("1"), ""))["relation"]
    assert len(plain["top"]) == 5
    assert plain["bottom"] == []


@pytest.mark.parametrize(
    ("line", "wide"),
    [
        (Calculation(Symbol("n", "NaCl"), (), (), (), Amount("1"), ""), False),
        (Calculation(Symbol("n", "C" * 40), (), (), (), Amount("1"), ""), True),
        (Calculation(Symbol("n"), (Prose("x" * 40),), (), (), Amount("1"), ""), True),
        (Calculation(Symbol("n"), (Prose("x" * 30), Prose("/"), Prose("x" * 30)), (), (), Amount("1"), ""), False),
        (Calculation(Symbol("n"), (), (Ratio((Amount("2"),) * 3, (Amount("3"),) * 3),), (), Amount("1"), ""), False),
        (Calculation(Symbol("n"), (), (Ratio((Amount("2"),), (Amount("3"),) * 6),), (), Amount("1"), ""), True),
        (Calculation(Symbol("n"), (), (), (), Amount("1" * 40), ""), True),
    ],
)
def test_only_what_may_be_wider_than_a_line_is_measured(line: Calculation, *, wide: bool) -> None:
    assert shaped(line)["wide"] is wide


@pytest.mark.parametrize(("brief", "blocks"), [(True, 0), (False, 1)])
def test_paper_has_no_working_of_what_is_right(*, brief: bool, blocks: int) -> None:
    judged = Judged("1a", (), "", "✓", "Right", (), (), (Paragraph((Prose("So."),)),), brief)
    told = document_data(document(judged))
    assert len(told["blocks"][0]["working"]) == 1
    assert len(sheet_data(document(judged), told)["blocks"][0]["working"]) == blocks
    assert sheet_data(document(judged), told) == sheet_data(document(judged))


def test_a_part_as_it_was_marked() -> None:
    line = (Prose("x"),)
    data = shaped(Judged("1a", line, "1 of 2 points", "✓", "Right", (), (line, line)))
    assert {key: data[key] for key in ("kind", "label", "points", "sign", "verdict", "wrote")} == {
        "kind": "judged",
        "label": "1a",
        "points": "1 of 2 points",
        "sign": "✓",
        "verdict": "Right",
        "wrote": [],
    }
    assert len(data["sentences"]) == 2


def test_flagged_blocks_stand_inside_their_flag() -> None:
    data = shaped(Flagged(((Prose("here"),),), (Paragraph((Prose("a"),)), Note((Prose("b"),)))))
    assert [block["kind"] for block in data["blocks"]] == ["paragraph", "note"]
    assert data["lines"] == [[{"kind": "prose", "text": "here"}]]


def test_a_part_asks_for_no_more_room_than_a_page_has() -> None:
    assert shaped(Part("a", "a", (), "1 point", "g", work_lines=500))["work"] == 20
    assert shaped(Part("a", "a", (), "1 point", "g", work_lines=-1))["work"] == 0


def test_a_species_is_drawn_where_a_drawing_tells_more_than_its_formula() -> None:
    left = (
        SchemeItem(1, "C2H6O", "ethanol", "CCO"),
        SchemeItem(2, "H2O", "water", "O"),
        SchemeItem(1, "Mg", "x"),
    )
    data = sheet_data(document(Scheme(left, (), "", "", "")))
    assert set(data["drawings"]) == {"CCO"}
    assert [item["smiles"] for item in data["blocks"][0]["left"]] == ["CCO", "", ""]
    assert [item["coefficient"] for item in data["blocks"][0]["left"]] == ["", "2", ""]
    undrawn = sheet_data(document(Scheme(left, (), "", "", "", drawn=False)))
    assert undrawn["drawings"] == {}
    assert undrawn["blocks"][0]["drawn"] is False


def test_every_string_is_cleaned_wherever_it_stands() -> None:
    bad = "x\x00\u202e"
    line = (Prose(bad), Symbol(bad, bad, False, bad), Chemical(bad))
    amount = Amount(bad, (UnitPiece(bad),), bad)
    blocks: tuple[Block, ...] = (
        Heading(2, bad),
        Paragraph(line),
        Note(line),
        Bullets((line,)),
        Caution(bad, (line,)),
        Scheme((SchemeItem(1, bad, bad),), (), bad, bad, bad),
        Table(bad, (line,), ((line,),), (False,)),
        Part(bad, bad, line, bad, bad, (line,)),
        Calculation(Symbol(bad), line, (Ratio((amount,), (amount,)),), (bad,), amount, ""),
        Judged(bad, line, bad, bad, bad, line, (line,)),
        Flagged((line,), (Note(line),)),
        NewSheet(bad),
    )
    data = sheet_data(document(*blocks, title=bad, course=bad, student=bad, code=bad))
    text = json.dumps(data, ensure_ascii=False)
    assert "\\u0000" not in text
    assert "\u202e" not in text


def test_fractions_have_their_bars_wherever_a_line_of_working_stands_on_paper() -> None:
    ratio = Ratio((Amount("12.5"),), (Amount("2"),))
    line = Calculation(Symbol("m"), (), (ratio, ratio), ("×",), Amount("1"), alt="")
    judged = Judged("1a", (), "1 of 2 points", "✗", "Wrong", (), working=(Flagged((), (line,)),))
    for block in (line, judged, Flagged((), (line,))):
        assert '"bar"' not in json.dumps(document_data(document(block)))  # a browser needs none
        assert json.dumps(sheet_data(document(block))).count('"bar": "top"') == len(line.terms)
