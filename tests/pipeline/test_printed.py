"""The second build of a folder: what is printed stays, whatever else is changed."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import StudentKey
from problemgen.pipeline.build import BuildReport, build_set
from problemgen.pipeline.build_inputs import BuildRequest
from tests.support.small_class import DRAWN, SET, write_class

FEW = {"s1": "Ada", "s2": "Bea"}
MORE = {"s1": "Ada", "s3": "Cay", "s2": "Bea"}


def built(folder: Path, text: str = SET, names: dict[str, str] | None = None, **options: object) -> BuildReport:
    week = write_class(folder, text, names or FEW)
    request = BuildRequest(week, folder / "out", replace=(folder / "out").exists(), **options)  # type: ignore[arg-type]
    return build_set(request, lambda *_: None)


def keys(folder: Path) -> dict[str, StudentKey]:
    with Answers(folder / "out" / ANSWERS_FILE) as answers:
        return {key.student: key for key in answers}


def given(folder: Path) -> dict[str, dict[str, dict[str, str]]]:
    """The printed numbers by student and problem."""
    return {
        student: {one.problem: {name: datum.written.text for name, datum in one.given.items()} for one in key.problems}
        for student, key in keys(folder).items()
    }


def change(monkeypatch: pytest.MonkeyPatch, name: str, old: str, new: str) -> None:
    assert old in DRAWN[name]
    monkeypatch.setitem(DRAWN, name, DRAWN[name].replace(old, new))


def test_a_student_more_leaves_the_others(tmp_path: Path) -> None:
    built(tmp_path)
    before, codes = given(tmp_path), {student: key.code for student, key in keys(tmp_path).items()}
    built(tmp_path, names=MORE)
    after = given(tmp_path)
    assert {student: after[student] for student in FEW} == before
    assert list(after) == ["s1", "s3", "s2"]
    assert {student: keys(tmp_path)[student].code for student in FEW} == codes


def test_a_wider_range_is_for_those_who_come_later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    built(tmp_path)
    before = given(tmp_path)
    change(monkeypatch, "chromate", "to = 30.00", "to = 45.00")
    built(tmp_path, names=MORE)
    assert {student: given(tmp_path)[student] for student in FEW} == before


def test_a_problem_that_is_dropped_leaves_the_numbers_of_the_others(tmp_path: Path) -> None:
    third = SET + '[[problem]]\nid = "again"\ntemplate = "chromate"\n'
    built(tmp_path, third)
    before = given(tmp_path)
    without = third.replace('[[problem]]\ntemplate = "ester"\n', "")
    report = built(tmp_path, without)
    assert given(tmp_path) == {s: {p: one[p] for p in ("p1", "p3")} for s, one in before.items()}
    assert "Problem 2 (ester) is no longer in the set; no other problem gets its number." in report.notes
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        assert {column[0] for column in answers.head.columns} == {"1", "3"}
    built(tmp_path, without + '[[problem]]\nid = "new"\ntemplate = "ester"\n')
    assert {s: {p: one[p] for p in ("p1", "p3")} for s, one in before.items()} == {
        s: {p: one[p] for p in ("p1", "p3")} for s, one in given(tmp_path).items()
    }
    assert "p4" in given(tmp_path)["s1"]


def test_problems_in_another_order_keep_their_numbers(tmp_path: Path) -> None:
    built(tmp_path)
    before = given(tmp_path)
    head, one, two = SET.split("[[problem]]\n")
    built(tmp_path, f"{head}[[problem]]\n{two}[[problem]]\n{one}")
    assert given(tmp_path) == before


@pytest.mark.parametrize(
    ("name", "old", "new", "fault"),
    [
        (
            "chromate",
            "from = 24.00, to = 30.00",
            "from = 15.00, to = 22.00",
            (
                "problem.chromate: found volume(silver-nitrate,solution) from 15 to 22 mL in steps of 0.05, which is "
                "another on the sheets (problem 1; s1, s2); expected what stands on sheets that are handed out. Put it "
                "back, or draw the problem anew on purpose: --redraw chromate."
            ),
        ),
        (
            "chromate",
            "concentration = { choose = [0.1000]",
            "concentration = { choose = [0.1005]",
            "of 0.1005 mol/L, which is another on the sheets (problem 1; s1, s2)",
        ),
        (
            "ester",
            "[given.isopentyl-alcohol]\n",
            '[given.isopentyl-alcohol]\ndensity = { value = 0.815, unit = "g/mL" }\n',
            "found density(isopentyl-alcohol) = 0.815 g/mL, which is 0.81",
        ),
        (
            "ester",
            '[[part]]\nquantity = "mass"\nof = "isopentyl-alcohol"\n',
            '[[part]]\nquantity = "mass"\nof = "isopentyl-alcohol"\nunit = "mg"\n',
            "problem.ester: found another question as part a (problem 2; s1, s2)",
        ),
    ],
)
def test_what_would_belie_a_sheet_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, old: str, new: str, fault: str
) -> None:
    built(tmp_path)
    before = (tmp_path / "out" / ANSWERS_FILE).read_bytes()
    change(monkeypatch, name, old, new)
    with pytest.raises(FaultsError) as caught:
        built(tmp_path)
    assert fault in str(caught.value), str(caught.value)
    assert (tmp_path / "out" / ANSWERS_FILE).read_bytes() == before
    unchanged = given(tmp_path)
    report = built(tmp_path, redraw=(name,))
    assert report.students == 2
    other = "p2" if name == "chromate" else "p1"
    assert {s: one[other] for s, one in given(tmp_path).items()} == {s: one[other] for s, one in unchanged.items()}


def test_a_problem_is_drawn_anew_by_its_number_and_stays_then(tmp_path: Path) -> None:
    built(tmp_path)
    before = given(tmp_path)
    built(tmp_path, redraw=("1",))
    once = given(tmp_path)
    assert all(once[student]["p1"] != before[student]["p1"] for student in FEW)
    assert all(once[student]["p2"] == before[student]["p2"] for student in FEW)
    built(tmp_path)
    assert given(tmp_path) == once
    built(tmp_path, redraw=("chromate",))
    assert given(tmp_path)["s1"]["p1"] not in (before["s1"]["p1"], once["s1"]["p1"])


def test_a_problem_that_there_is_not_is_not_drawn_anew(tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="found nothing printed that could be drawn anew; expected an earlier build"):
        built(tmp_path, redraw=("chromate",))
    built(tmp_path)
    with pytest.raises(FaultsError, match=r"build: --redraw: found 'ecter'; expected one of .* Did you mean 'ester'"):
        built(tmp_path, redraw=("ecter",))


def test_a_correction_works_the_answers_out_again(tmp_path: Path) -> None:
    built(tmp_path)
    before = given(tmp_path)
    banks = tmp_path / "banks"
    banks.mkdir()
    (banks / "substances.toml").write_text(
        '[[substance]]\nid = "silver-chromate"\nname = "silver chromate"\nformula = "Ag2CrO4"\nstate = "solid"\n'
        '[[substance]]\nid = "isopentyl-alcohol"\nname = "isopentyl alcohol"\nformula = "C5H12O"\nstate = "liquid"\n'
        'density = { value = 0.809, unit = "g/mL", at = "20 °C" }\n',
        encoding="utf-8",
    )
    with pytest.raises(FaultsError, match=r"density\(isopentyl-alcohol\) = 0.809 g/mL, which is"):
        built(tmp_path)
    (banks / "substances.toml").unlink()
    # A coefficient that was wrong: the same numbers, other answers.
    (banks / "reactions.toml").write_text(
        '[[reaction]]\nid = "silver-chromate"\nname = "silver chromate"\n'
        'equation = "4 silver-nitrate + 2 potassium-chromate -> 2 silver-chromate + 4 potassium-nitrate"\n'
        'product = "silver-chromate"\nkind = "inorganic preparation"\npurpose = "paper"\nyield_percent = [80, 99]\n',
        encoding="utf-8",
    )
    built(tmp_path)
    assert given(tmp_path) == before


def test_typed_answers_are_never_lost(tmp_path: Path) -> None:
    built(tmp_path)
    path = tmp_path / "out" / "responses.csv"
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    rows[1][3], rows[2][4] = "39.5 mmol", "=1/2"
    text = io.StringIO()
    csv.writer(text).writerows(rows)
    path.write_text(text.getvalue(), encoding="utf-8")
    typed = path.read_bytes()
    report = built(tmp_path)
    assert path.read_bytes() == typed
    assert "responses.csv holds answers: they were kept." in report.notes
    report = built(tmp_path, SET + '[[problem]]\nid = "more"\ntemplate = "ester"\n', MORE)
    after = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"))))
    width = len(rows[0])
    assert [row[:width] for row in after[:3]] == rows
    assert after[0][width:] == ["3a", "3b", "3c", "3d"]
    assert after[3][:2] == ["s3", "Cay"]
    assert "responses.csv holds answers: they were kept, and what it lacked was added." in report.notes


def test_a_table_that_cannot_be_read_stays(tmp_path: Path) -> None:
    built(tmp_path)
    path = tmp_path / "out" / "responses.csv"
    path.write_text("something else\nentirely\n", encoding="utf-8")
    report = built(tmp_path)
    assert path.read_text(encoding="utf-8") == "something else\nentirely\n"
    assert (tmp_path / "out" / "responses-blank.csv").is_file()
    assert any(note.startswith("responses.csv is no table with a column 'id'") for note in report.notes)


@pytest.mark.parametrize(
    ("secret", "found"),
    [
        (None, "no secret"),
        (b"", "a secret of 0 bytes"),
        (b"short", "a secret of 5 bytes"),
        (b"x" * 64, "another secret"),
    ],
)
def test_a_secret_that_is_lost_or_altered_is_told_with_the_way_out(
    tmp_path: Path, secret: bytes | None, found: str
) -> None:
    built(tmp_path)
    before = given(tmp_path)
    path = tmp_path / "out" / "secret"
    if secret is None:
        path.unlink()
    else:
        path.write_bytes(secret)
    with pytest.raises(FaultsError, match=f"secret: found {found}; expected .* build with --new-secret: all numbers"):
        built(tmp_path, names=MORE)
    built(tmp_path, names=MORE, new_secret=True)
    assert {student: given(tmp_path)[student] for student in FEW} == before
    built(tmp_path, names=MORE)


def test_another_set_or_term_needs_a_folder_of_its_own(tmp_path: Path) -> None:
    built(tmp_path)
    week = write_class(tmp_path, SET, FEW)
    week.rename(tmp_path / "other")
    with pytest.raises(FaultsError, match="found the set 'week'; expected an earlier build of 'other'"):
        build_set(BuildRequest(tmp_path / "other", tmp_path / "out", replace=True), lambda *_: None)
    (tmp_path / "other").rename(week)
    (tmp_path / "course.toml").write_text('title = "C"\nterm = "spring"\n', encoding="utf-8")
    with pytest.raises(FaultsError, match="found a build of no term; expected one of the term 'spring'"):
        build_set(BuildRequest(week, tmp_path / "out", replace=True), lambda *_: None)


def test_a_term_has_other_numbers_from_the_same_secret(tmp_path: Path) -> None:
    found = []
    for term in ("autumn", "spring"):
        folder = tmp_path / term
        week = write_class(folder, SET, FEW)
        (folder / "course.toml").write_text(f'title = "C"\nterm = "{term}"\n', encoding="utf-8")
        (folder / "out").mkdir()
        (folder / "out" / "secret").write_bytes(b"y" * 64)
        build_set(BuildRequest(week, folder / "out"), lambda *_: None)
        found.append(given(folder))
    assert all(found[0][student]["p1"] != found[1][student]["p1"] for student in FEW)


def test_who_has_left_is_named(tmp_path: Path) -> None:
    built(tmp_path)
    report = built(tmp_path, names={"s1": "Ada"})
    assert "No longer in the roster, and without a sheet now: s2." in report.notes


def test_numbers_of_an_earlier_term_do_not_come_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # Eleven volumes of one solution, and one of the other: a class of four would meet some of them again.
    change(monkeypatch, "chromate", "from = 24.00, to = 30.00", "from = 24.00, to = 24.50")
    change(monkeypatch, "chromate", "from = 18.00, to = 21.50", "from = 21.00, to = 21.10")
    few = {f"s{number}": "N" for number in range(4)}
    one = SET.replace('[[problem]]\ntemplate = "ester"\n', "")
    built(tmp_path / "old", one, few)
    week = write_class(tmp_path / "new", one, few)
    course = 'title = "C"\nterm = "spring"\nearlier = ["../old/out"]\n'
    (tmp_path / "new" / "course.toml").write_text(course, encoding="utf-8")
    build_set(BuildRequest(week, tmp_path / "new" / "out"), lambda *_: None)
    old, new = ({tuple(key["p1"].items()) for key in given(tmp_path / term).values()} for term in ("old", "new"))
    assert len(old | new) == 8
    (tmp_path / "new" / "course.toml").write_text(course.replace("old/out", "older"), encoding="utf-8")
    with pytest.raises(FaultsError, match=r"answers\.json: found no such file or directory"):
        build_set(BuildRequest(week, tmp_path / "new" / "again"), lambda *_: None)


def test_redrawn_sheets_have_codes_of_their_own(tmp_path: Path) -> None:
    built(tmp_path)
    before = {student: key.code for student, key in keys(tmp_path).items()}
    report = built(tmp_path, redraw=("ester",))
    after = {student: key.code for student, key in keys(tmp_path).items()}
    assert all(after[student] != before[student] for student in FEW)
    assert report.notes[0] == (
        "Problem 2 (ester) was drawn anew for s1, s2: their sheets have new codes, and answers that were typed to it "
        "belong to the old numbers."
    )
    built(tmp_path)
    assert {student: key.code for student, key in keys(tmp_path).items()} == after


def test_a_part_of_a_class_in_another_folder_has_numbers_of_its_own_and_says_so(tmp_path: Path) -> None:
    report = built(tmp_path, section="A")
    assert report.notes[0].startswith(
        "Nothing was built in this folder before: these sheets have numbers of their own."
    )
    assert not any(note.startswith("Nothing was built") for note in built(tmp_path, section="A").notes)


def test_who_has_none_of_a_redrawn_problem_keeps_the_code(tmp_path: Path) -> None:
    some_only = SET + 'for = ["s1"]\n'  # the last problem, of the template "ester"
    built(tmp_path, some_only)
    before = {student: key.code for student, key in keys(tmp_path).items()}
    built(tmp_path, some_only, redraw=("ester",))
    after = {student: key.code for student, key in keys(tmp_path).items()}
    assert (after["s1"] != before["s1"], after["s2"] == before["s2"]) == (True, True)


def test_a_part_of_the_class_as_roster_loses_nobody(tmp_path: Path) -> None:
    built(tmp_path)
    before = given(tmp_path)
    (tmp_path / "half.csv").write_text("id,name\ns2,Bea\n", encoding="utf-8")
    for options in ({"roster": tmp_path / "half.csv"}, {"count": 3}):
        with pytest.raises(FaultsError, match=r"found a list without s1.*, whose numbers are printed in this folder"):
            built(tmp_path, **options)
    assert given(tmp_path) == before


def test_another_published_secret_is_told_where_it_stands(tmp_path: Path) -> None:
    built(tmp_path, 'demonstration_secret = "x"\n' + SET)
    with pytest.raises(FaultsError) as caught:
        built(tmp_path, 'demonstration_secret = "y"\n' + SET)
    assert str(caught.value).removeprefix(f"{tmp_path}/") == (
        "week/set.toml: demonstration_secret: found another secret; expected the one that the printed numbers were "
        "drawn from. Put the old one back, or build into another folder."
    )


def test_a_row_that_is_added_to_typed_answers_runs_no_formula(tmp_path: Path) -> None:
    built(tmp_path)
    path = tmp_path / "out" / "responses.csv"
    path.write_text(
        path.read_text(encoding="utf-8-sig").replace("s1,Ada", "s1,=Ada", 1) + "s2,,,,1\n", encoding="utf-8"
    )
    built(tmp_path, names={**FEW, "s3": "=HYPERLINK(1)"})
    rows = {row[0]: row[1] for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig")))}
    assert rows["s3"] == "'=HYPERLINK(1)"
    assert rows["s1"] == "=Ada"  # what somebody typed is theirs


def test_a_table_with_odd_bytes_is_not_written_again(tmp_path: Path) -> None:
    built(tmp_path)
    path = tmp_path / "out" / "responses.csv"
    typed = path.read_bytes().replace(b"s1,Ada", "s1,Zoë — Ada".encode() + b" \xff,A,,3.2\r\ns1,Ada", 1)
    path.write_bytes(typed)
    report = built(tmp_path, names=MORE)
    assert path.read_bytes() == typed
    assert any("not read without doubt (line 2: other bytes than UTF-8" in note for note in report.notes)
    assert (tmp_path / "out" / "responses-blank.csv").is_file()
