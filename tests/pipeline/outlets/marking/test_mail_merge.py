"""Feedback under names that nobody can guess, and the table that tells whose each file is."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline.built import SECRET_FILE
from problemgen.pipeline.mark import MarkingReport, mark
from problemgen.pipeline.outlets.marking.mail_merge import mailed_to
from tests.support.small_set import STUDENTS, small_set, write_answers

UNGUESSABLE = re.compile(r"feedback/[a-z2-7]{24}\.html")


@pytest.fixture
def built(tmp_path: Path) -> Path:
    folder = tmp_path / "built"
    folder.mkdir()
    first = replace(STUDENTS[0], name="=Ada;+1", more=(("E-Mail address", "ada@example.org"),))
    write_answers(folder, small_set(tmp_path), (first, STUDENTS[1]), roster_columns=("E-Mail address",))
    (tmp_path / "r.csv").write_text("id,1a\ns1,2.500 mmol\n", encoding="utf-8")
    return folder


def marked(built: Path, *, unguessable: bool = True, pdf: bool = False, anonymous: bool = False) -> MarkingReport:
    return mark(built, built.parent / "r.csv", unguessable=unguessable, pdf=pdf, anonymous=anonymous, replace=True)


def rows(built: Path) -> list[dict[str, str]]:
    with (built / "grades" / "mail-merge.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def pages(built: Path) -> set[str]:
    return {f"feedback/{path.name}" for path in (built / "grades" / "feedback").iterdir()}


def test_whose_each_file_is_can_be_read_again(built: Path) -> None:
    assert mailed_to(built / "grades") == {}
    marked(built)
    one, two = rows(built)
    assert mailed_to(built / "grades") == {one["page"]: ("s1", 1), two["page"]: ("s2", 1)}


def test_each_row_names_a_student_an_address_and_a_file(built: Path) -> None:
    report = marked(built)
    one, two = rows(built)
    assert (one["id"], one["e-mail"], one["pdf"]) == ("s1", "ada@example.org", "")
    assert (two["id"], two["name"], two["e-mail"]) == ("s2", "Bea", "")
    assert {one["page"], two["page"]} == pages(built)
    assert all(UNGUESSABLE.fullmatch(row["page"]) for row in (one, two))
    assert "Bea" in (built / "grades" / two["page"]).read_text(encoding="utf-8")
    assert report.cautions["mail-merge.csv"] == "tells whose each file is, do not share it"
    assert (built / "grades" / "mail-merge.csv").stat().st_mode & 0o077 == 0


def test_a_second_marking_has_the_same_names_and_a_plain_one_leaves_none_behind(built: Path) -> None:
    marked(built, pdf=True)
    before = pages(built)
    assert len(before) == 4
    marked(built, pdf=True)
    assert pages(built) == before
    marked(built, unguessable=False)
    assert pages(built) == {"feedback/s1.html", "feedback/s2.html"}
    assert not (built / "grades" / "mail-merge.csv").exists()
    marked(built)
    assert pages(built) == {name for name in before if name.endswith(".html")}


def test_without_the_secret_there_are_none(built: Path) -> None:
    (built / SECRET_FILE).unlink()
    with pytest.raises(FaultsError) as error:
        marked(built)
    assert str(error.value) == (
        f"{built / SECRET_FILE}: found no secret of this set; expected the one of the build, and nobody else's. Put "
        "the set's secret beside answers.json: the names follow from it, so that they stay the same."
    )


def test_those_of_an_earlier_secret_go(built: Path) -> None:
    marked(built)
    old = "feedback/" + "a2" * 12 + ".html"
    (built / "grades" / old).write_text("of the secret before", encoding="utf-8")
    table = built / "grades" / "mail-merge.csv"
    table.write_text(table.read_text(encoding="utf-8-sig") + f"s9,Old,,,1,{old},\r\n", encoding="utf-8")
    marked(built)
    assert old not in pages(built)
    assert len(pages(built)) == 2


def test_a_marking_without_names_has_none(built: Path) -> None:
    with pytest.raises(FaultsError, match="expected one of them: a marking without names tells nobody"):
        marked(built, anonymous=True)


def test_a_roster_without_addresses_is_told(built: Path, tmp_path: Path) -> None:
    write_answers(built, small_set(tmp_path))
    report = marked(built)
    told = "mail-merge.csv has no e-mail: the roster needs a column e-mail, and the set is built with it."
    assert told in report.notes
    assert [row["e-mail"] for row in rows(built)] == ["", ""]
