"""Sheets with fields: the printed ones with a field at every blank, in order, with their spoken labels."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pikepdf
import pytest

from problemgen.cli import main
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.returns.fill_in import read_fill_in
from problemgen.model.handed_out import read_stamp
from problemgen.pipeline.built import SECRET_FILE
from problemgen.pipeline.collect import collect
from tests.support.filled_in import filled_book, filled_sheet, table
from tests.support.small_class import SET, files_of, write_class
from tests.support.viewer import typed_in_viewer

TWICE = f"{SET}[attempts]\nnumber = 2\n"


def built(folder: Path, text: str = SET, *more: str, out: str = "out") -> Path:
    week = write_class(folder, text, {"s1": "=Adrel O'Sommer", "s2": "טלורה בן ערפל"})
    assert main(["build", str(week), "--out", str(folder / out), "--quiet", *more]) == 0
    return folder / out


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of two with sheets to fill in and workbooks. Not to be written into."""
    return built(tmp_path_factory.mktemp("class"), SET, "--fill-in", "--workbook")


def columns(out: Path) -> tuple[str, ...]:
    with Answers(out / ANSWERS_FILE) as answers:
        return answers.head.response_columns


def widgets(sheet: pikepdf.Pdf) -> list[Any]:
    return [mark for page in sheet.pages for mark in page.obj.get("/Annots", pikepdf.Array())]


def test_the_printed_sheet_is_the_same_with_and_without(out: Path, tmp_path: Path) -> None:
    (tmp_path / "plain").mkdir()
    (tmp_path / "plain" / SECRET_FILE).write_bytes((out / SECRET_FILE).read_bytes())
    plain = built(tmp_path, SET, "--replace", out="plain")
    with_fields, without = files_of(out), files_of(plain)
    for name in ("sheets/s1.pdf", "sheets/s2.pdf", "class.pdf", "key.pdf", "responses.csv"):
        assert with_fields[name] == without[name]
    again = built(tmp_path, SET, "--replace", "--fill-in", "--workbook", out="plain")
    names = [name for name in with_fields if name.startswith(("fill-in/", "workbooks/"))]
    assert sorted(names) == ["fill-in/s1.pdf", "fill-in/s2.pdf", "workbooks/s1.xlsx", "workbooks/s2.xlsx"]
    assert {name: files_of(again)[name] for name in names} == {name: with_fields[name] for name in names}


def test_every_blank_is_a_field_with_its_place_in_the_order_and_a_spoken_label(out: Path) -> None:
    with pikepdf.open(out / "fill-in" / "s1.pdf") as sheet:
        found = widgets(sheet)
        assert {str(one.Subtype) for one in found} == {"/Widget"}
        named = [str(one.get("/T") or one.Parent.T) for one in found]
        assert tuple(dict.fromkeys(named)) == columns(out)
        tags = pikepdf.NumberTree(sheet.Root.StructTreeRoot.ParentTree)
        for one in found:
            tag = tags[int(one.StructParent)]
            assert (str(tag.S), str(tag.Alt)) == ("/Form", str(one.TU))
            assert "/A" not in one
        assert str(found[0].TU).startswith("Problem 1, part a: The amount of ")
        assert str(found[0].TU).endswith(" Answer in mmol.")
        buttons = [one for one in found if "/Parent" in one]
        assert [str(one.TU).rpartition("Tick one. ")[2][:2] for one in buttons] == ["A\u2002", "B\u2002"]
        assert len(sheet.Root.AcroForm.Fields) == len(columns(out))
        assert str(sheet.Root.Lang) == "en"
        assert all(page.obj.Tabs == pikepdf.Name.S for page in sheet.pages if "/Annots" in page.obj)
        assert not {"/OpenAction", "/AA", "/Names"} & set(sheet.Root.keys())
        assert "/XFA" not in sheet.Root.AcroForm


def test_it_says_which_sheet_it_is_in_its_metadata_and_nowhere_else(out: Path) -> None:
    with Answers(out / ANSWERS_FILE) as answers:
        code = answers.sheets["s1", 1]
    with pikepdf.open(out / "fill-in" / "s1.pdf") as sheet:
        stamp = read_stamp(str(sheet.docinfo["/Keywords"]))
        assert stamp is not None
        assert (stamp.kind, stamp.set_id, stamp.code) == ("sheet", "week", code)
        assert stamp.is_sealed_with((out / SECRET_FILE).read_bytes())
        assert not any(code in str(one.get("/V", "")) + str(one.get("/T", "")) for one in widgets(sheet))


@pytest.mark.parametrize("more", ['answers = "box"\n', 'layout = "compact"\n', 'layout = "compact"\nanswers = "box"\n'])
def test_other_layouts_have_the_same_fields(more: str, tmp_path: Path) -> None:
    out = built(tmp_path, more + SET, "--fill-in")
    assert set(read_fill_in(out / "fill-in" / "s2.pdf").cells) == set(columns(out))


def test_a_later_attempt_has_files_of_its_own_and_its_answers_a_row(tmp_path: Path) -> None:
    out = built(tmp_path, TWICE, "--fill-in", "--workbook")
    back = tmp_path / "back"
    back.mkdir()
    (back / "1").write_bytes(filled_sheet((out / "fill-in" / "s1-2.pdf").read_bytes(), {"1a": "2nd"}))
    (back / "2").write_bytes(filled_book((out / "workbooks" / "s1.xlsx").read_bytes(), {"1a": "1st"}))
    collect(out, back, tmp_path / "answers.csv")
    rows = (tmp_path / "answers.csv").read_text(encoding="utf-8-sig").splitlines()
    assert [row.split(",")[4:6] for row in rows[1:3]] == [["1", "1st"], ["2", "2nd"]]


def test_what_an_earlier_build_left_does_not_stay_beside_new_sheets(tmp_path: Path) -> None:
    out = built(tmp_path, SET, "--fill-in", "--workbook")
    built(tmp_path, SET, "--replace", "--workbook")
    assert not (out / "fill-in").exists() or not list((out / "fill-in").iterdir())
    assert len(list((out / "workbooks").iterdir())) == 2


def test_what_is_typed_in_a_browsers_viewer_comes_back(out: Path, tmp_path: Path) -> None:
    cells = {"1a": "2,5 mmol", "1e": "B", "2b": "41.2 ½", "2d": "73 %"}
    saved = typed_in_viewer(out / "fill-in" / "s2.pdf", cells)
    (tmp_path / "download (1).pdf").write_bytes(saved)
    report = collect(out, tmp_path / "download (1).pdf", tmp_path / "answers.csv")
    assert report.messages == ()
    row = table(tmp_path / "answers.csv")["s2"]
    assert {name: row[name] for name in columns(out)} == dict.fromkeys(columns(out), "") | cells


OWN = {
    "1.glucose.mass": "2.02 g",
    "1.acetic-anhydride.mass": "9.7",
    "1.glucose-pentaacetate.obtained": "2,51 g",
    "1.glucose-pentaacetate.ratio": "94:6",
    "1a": "11.2",
}


def test_values_of_the_students_own_come_back_by_both_ways(tmp_path: Path) -> None:
    out = tmp_path / "own"
    order = ("build", "organic-two-products", "--out", str(out), "--count", "2", "--fill-in", "--workbook", "--quiet")
    assert main(order) == 0
    (tmp_path / "back").mkdir()
    (tmp_path / "back" / "a").write_bytes(filled_sheet((out / "fill-in" / "v001.pdf").read_bytes(), OWN))
    (tmp_path / "back" / "b").write_bytes(filled_book((out / "workbooks" / "v002.xlsx").read_bytes(), OWN))
    assert collect(out, tmp_path / "back", tmp_path / "answers.csv").messages == ()
    rows = table(tmp_path / "answers.csv")
    for student in ("v001", "v002"):
        assert {name: cell for name, cell in rows[student].items() if name in columns(out) and cell} == OWN
