"""`problemgen explain`: why a student's parts were given their points, on the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.cli import main
from tests.support.small_set import small_set, write_answers

RESPONSES = """id,1a,1b,1c,1d,1e,1f,1g,2a,2b,2c,2d
s1,2.500 mmol,2500,2.500,,K2CrO4,663.5 mg,,6.17 g,0.0700 mol,9.12 g,46.1 %
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the answers and responses of the small set."""
    folder = tmp_path_factory.mktemp("built")
    write_answers(folder, small_set(folder))
    (folder / "responses.csv").write_text(RESPONSES, encoding="utf-8")
    return folder


def told(capsys: pytest.CaptureFixture[str], *arguments: str) -> list[str]:
    assert main(["explain", *arguments]) == 0
    return capsys.readouterr().out.splitlines()


def test_one_part_is_explained(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, str(built), "S1", "2A")
    assert lines[0] == f"Ada (s1), Small; {built / 'responses.csv'}"
    assert [line for line in lines if line.startswith("2")] == ["2a  The mass of 3-methylbutan-1-ol (C5H12O)"]
    for line in (
        "- Wrote: 6.17 g",
        "- Read: 6.17 g, that is 6.17 g with 3 significant figures",
        "- Right answer: 4.05, accepted from 4.04450 to 4.05550 g",
        "- Verdict: mistake (what a usual mistake leads to), density-divided:mass(isopentyl-alcohol)",
        "- Points: 0 of 1; the policy's share for this is 0",
        "- ✗ the acceptance window, 4.04450 to 4.05550 g: outside",
    ):
        assert line in lines
    assert any(line.startswith("- ✓ density used upside down [density-divided") for line in lines)


def test_all_parts_are_explained(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, str(built), "s1")
    labels = [line.split("  ")[0] for line in lines if line[:1] in "12" and "  " in line]
    assert labels == ["1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d"]
    assert "By the student's own earlier answers" in lines
    assert "- Verdict: follows (consistent with an earlier answer that was wrong), follow-through" in lines
    assert "- Right answer: silver nitrate" in lines
    assert "- Wrote: nothing" in lines


def test_who_has_no_row_wrote_nothing(built: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, str(built), "s2", "1a")
    assert "- Verdict: blank (no answer), blank" in lines


def test_other_responses_and_decisions(built: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other, decisions = tmp_path / "other.csv", tmp_path / "mine.csv"
    other.write_text("id,2a\ns1,4.05 g\n", encoding="utf-8")
    decisions.write_text("student,part,points,reason\ns1,2a,0.5,no unit on the sheet\n", encoding="utf-8")
    assert "- Points: 1 of 1; the policy gives all, less what it deducts" in told(
        capsys, str(built), "s1", "2a", "--responses", str(other)
    )
    lines = told(capsys, str(built), "s1", "2a", "--responses", str(other), "--overrides", str(decisions))
    assert any(line.startswith("- Points: 0.5 of 1") for line in lines)
    assert "- Told the student: Right. Your instructor's decision: no unit on the sheet" in lines


@pytest.mark.parametrize(
    ("arguments", "fault"),
    [
        (("s3",), "student: found 's3'; expected one of the set's students"),
        (("s1", "9z"), "part: found '9z'; expected one of the set's parts"),
        (("s1", "--attempt", "2"), "attempt: found '2'; expected one of the set's attempts"),
        (("s1", "--responses", "nowhere.csv"), "nowhere.csv"),
        (("s1", "--overrides", "nowhere.csv"), "nowhere.csv"),
    ],
)
def test_what_is_not_there_is_said(
    built: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], fault: str
) -> None:
    assert main(["explain", str(built), *arguments]) == 1
    captured = capsys.readouterr()
    assert fault in captured.err
    assert captured.out == ""


def test_nothing_in_a_cell_is_markup(built: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = tmp_path / "other.csv"
    other.write_text('id,2a\ns1,"[red]4.05[/red] \x1b[31m g"\n', encoding="utf-8")
    lines = told(capsys, str(built), "s1", "2a", "--responses", str(other))
    assert any("[red]4.05[/red]" in line for line in lines)
    assert not any("\x1b" in line for line in lines)
