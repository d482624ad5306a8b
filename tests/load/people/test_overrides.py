"""An instructor's decisions: what is read, and every fault with its line."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.people.overrides import load_overrides
from problemgen.model.decision import Decision, Decisions

STUDENTS = ("s1", "S2")
POINTS: Mapping[str, Mapping[str, Fraction]] = {
    "s1": {"1a": Fraction(1), "1b": Fraction(5, 2)},
    "S2": {"1a": Fraction(1), "2a": Fraction(2)},
    "*": {"1a": Fraction(1), "1b": Fraction(5, 2), "2a": Fraction(2)},
}
EXPECTED = "a number of points such as 1.5, 1,5 or 3/2, with or without 'bonus' before it, or 'drop'"
HEADER = "student,part,points,reason\n"


def overrides(folder: Path, text: str) -> Decisions:
    path = folder / "o.csv"
    path.write_text(text, encoding="utf-8")
    return load_overrides(path, STUDENTS, POINTS.__getitem__)


def test_decisions_come_by_student(tmp_path: Path) -> None:
    text = "Student;Part;Points;Reason;note\nS1;1a;0,5;The  burette stuck;\ns1;1B;3/2;Shown on paper;x\n"
    text += "s2;2a;2;Right by the other table;\n"
    assert overrides(tmp_path, text).every == (
        Decision("s1", "1a", Fraction(1, 2), "The burette stuck"),
        Decision("s1", "1b", Fraction(3, 2), "Shown on paper"),
        Decision("S2", "2a", Fraction(2), "Right by the other table"),
    )


def test_decisions_are_about_all_about_problems_and_about_whole_sheets(tmp_path: Path) -> None:
    text = "*,2A,drop,a\ns1,1,3.5,b\ns2,,bonus 1,c\ns2,,DROP,d\n*,,Bonus -0.5,e\ns1,1a,bonus+1/2,f\n*,1b,2.5,g\n"
    assert [(one.student, one.part, one.points, one.kind) for one in overrides(tmp_path, HEADER + text).every] == [
        ("*", "2a", 0, "drop"),
        ("s1", "1", Fraction(7, 2), "points"),
        ("S2", "", 1, "bonus"),
        ("S2", "", 0, "drop"),
        ("*", "", Fraction(-1, 2), "bonus"),
        ("s1", "1a", Fraction(1, 2), "bonus"),
        ("*", "1b", Fraction(5, 2), "points"),
    ]


@pytest.mark.parametrize(
    ("points", "value"),
    [("0", 0), ("1", 1), ("0.5", Fraction(1, 2)), ("0,25", Fraction(1, 4)), ("2/3", Fraction(2, 3))],
)
def test_points_are_read_in_several_spellings(tmp_path: Path, points: str, value: Fraction) -> None:
    (decision,) = overrides(tmp_path, f'{HEADER}s1,1a,"{points}",r\n').every
    assert decision.points == value


def test_a_decision_can_be_about_one_attempt(tmp_path: Path) -> None:
    text = "student,part,points,reason,attempt\ns1,1a,1,r,2\ns1,1a,0,q,\ns1,1a,0,q,1\n"
    assert [one.attempt for one in overrides(tmp_path, text).every] == [2, None, 1]


def test_no_rows_are_no_decisions(tmp_path: Path) -> None:
    assert overrides(tmp_path, HEADER) == Decisions()


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ("s11,1a,1,r", "found the student 's11'; expected an id of the set's roster, or * for all. Did you mean 's1'?"),
        (",1a,1,r", "found no student; expected an id of the set's roster, or * for all"),
        ("s1,1a.,1,r", ("found the part '1a.'; expected one of 1, 1a, 1b, or nothing for the whole sheet. "
         "Did you mean '1a'?")),
        ("*,,drop,r", "found the whole sheet dropped for all; expected a student, a problem or a part"),
        ("s1,1,4,r", "found 4 points; expected from 0 to 3.5, the problem's. More is a bonus: 'bonus 1'."),
        ("s1,,4,r", "found 4 points; expected from 0 to 3.5, the sheet's. More is a bonus: 'bonus 1'."),
        ("s1,1a,bonus,r", f"found points 'bonus'; expected {EXPECTED}"),
        ("s1,1a,+1,r", f"found points '+1'; expected {EXPECTED}"),
        ("s1,1a,1.5,r", "found 1.5 points; expected from 0 to 1, the part's. More is a bonus: 'bonus 1'."),
        ("s1,1b,13/5,r", "found 13/5 points; expected from 0 to 2.5, the part's. More is a bonus: 'bonus 1'."),
        ("s1,1a,-1,r", f"found points '-1'; expected {EXPECTED}"),
        ("s1,1a,full,r", f"found points 'full'; expected {EXPECTED}"),
        ("s1,1a,1e0,r", f"found points '1e0'; expected {EXPECTED}"),
        ("s1,1a,1/0,r", f"found points '1/0'; expected {EXPECTED}"),
        ("s1,1a,,r", f"found no points; expected {EXPECTED}"),
        ("s1,1a,1, ", "found no reason; expected a reason, which the student is told"),
        ("s1,1a,1,r,more", ("found cells beyond the last column; expected a cell for each column. Put quotation "
         "marks around a reason with separators.")),
        ('s1,1a,1,"r', ("found a quotation mark is not closed; look at this row; expected a cell for each column. "
         "Put quotation marks around a reason with separators.")),
    ],
)  # fmt: skip
def test_a_faulty_row_is_told_with_its_line(tmp_path: Path, row: str, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        overrides(tmp_path, f"{HEADER}s2,1a,1,fine\n{row}\n")
    assert str(caught.value) == f"{tmp_path / 'o.csv'}: line 3: {fault}"


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        overrides(tmp_path, f"{HEADER}s1,1a,1,r\nS1,1A,1,again\ns9,1a,x,\n")
    assert [fault.key for fault in caught.value.faults] == ["line 3", "line 4", "line 4", "line 4"]
    assert "found s1 1a again, first on line 2; expected one decision, and one bonus, for a place" in str(caught.value)


@pytest.mark.parametrize("attempt", ["0", "-1", "two", "1.5", "²", "1000"])
def test_attempts_are_counted_from_one(tmp_path: Path, attempt: str) -> None:
    with pytest.raises(FaultsError) as caught:
        overrides(tmp_path, f"student,part,points,reason,attempt\ns1,1a,1,r,{attempt}\n")
    expected = "expected the number of an attempt, or nothing for all"
    assert str(caught.value) == f"{tmp_path / 'o.csv'}: line 2: found the attempt {attempt!r}; {expected}"


def test_missing_columns_are_told(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        overrides(tmp_path, "student,part,mark\ns1,1a,1\n")
    assert str(caught.value) == (
        f"{tmp_path / 'o.csv'}: line 1: found the columns 'student', 'part', 'mark'; expected the columns student, "
        "part, points, reason, and perhaps attempt"
    )
