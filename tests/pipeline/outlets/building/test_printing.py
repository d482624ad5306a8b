"""Sheets for two sessions and two sections: what is printed together, where a session starts, who is named."""

from __future__ import annotations

import re
from pathlib import Path

import pypdf
import pytest

from problemgen.errors import FaultsError, OutputError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.build import BuildReport, build_set
from problemgen.pipeline.build_inputs import BuildRequest
from tests.support.small_class import DRAWN, SET, files_of, write_class

ROOT = Path(__file__).resolve().parents[4]
TWO = SET.replace("[[problem]]", '[[sheet]]\nsession = 2\ntitle = "After the session"\n[[problem]]', 1)
ROSTER = "id,name,section\ns1,Ada,A\ns2,Bea,B\ns3,Cay,A\ns4,Dov,\n"
PARTS = {
    *("class-session-1", "class-session-2", "class-section-A", "class-section-B"),
    *("class-section-A-session-1", "class-section-A-session-2"),
    *("class-section-B-session-1", "class-section-B-session-2"),
}


def written(folder: Path, text: str = TWO, roster: str = ROSTER) -> Path:
    week = write_class(folder, text)
    later = DRAWN["ester"].replace('quantity = "percent_yield"', 'quantity = "percent_yield"\nsession = 2')
    (folder / "templates" / "ester.toml").write_text(later, encoding="utf-8")
    (week / "roster.csv").write_text(roster, encoding="utf-8")
    return week


def build(_folder: Path, request: BuildRequest) -> BuildReport:
    return build_set(request, lambda *_: None)


def pages(path: Path) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(path).pages]


def printed(path: Path) -> list[str]:
    """The pages that are not blank."""
    return [page for page in pages(path) if page]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the whole build in `out`."""
    folder = tmp_path_factory.mktemp("two")
    build(folder, BuildRequest(written(folder), folder / "out"))
    return folder


def test_there_is_a_file_for_each_session_and_section(place: Path) -> None:
    assert {path.stem for path in (place / "out" / "class").iterdir()} == PARTS
    assert (place / "out" / "class.pdf").is_file()


@pytest.mark.parametrize(
    ("name", "students", "titles"),
    [
        ("class.pdf", "1234", ["Before", "After"]),
        ("class/class-session-1.pdf", "1234", ["Before"]),
        ("class/class-session-2.pdf", "1234", ["After"]),
        ("class/class-section-A.pdf", "13", ["Before", "After"]),
        ("class/class-section-B-session-2.pdf", "2", ["After"]),
    ],
)
def test_each_student_and_each_session_starts_on_a_right_hand_page(
    place: Path, name: str, students: str, titles: list[str]
) -> None:
    text = pages(place / "out" / name)
    starts = [(number, page) for number, page in enumerate(text) if "the session\n" in page and "Page 1 of" in page]
    assert all(number % 2 == 0 for number, _ in starts)
    told = [(re.findall(r"^s(\d)", page, re.MULTILINE)[0], page) for _, page in starts]
    assert [student for student, _ in told] == [student for student in students for _ in titles]
    assert all(f"{title} the session" in page for (_, page), title in zip(told, titles * len(students), strict=True))


def test_the_pages_of_a_session_are_counted_by_themselves(place: Path) -> None:
    both = pages(place / "out" / "sheets" / "s1.pdf")
    counted = [re.findall(r"Page \d of \d", page) for page in both]
    assert counted == [["Page 1 of 3"], ["Page 2 of 3"], ["Page 3 of 3"], [], ["Page 1 of 1"]]
    assert both[3] == ""


def test_every_page_tells_whose_it_is(place: Path) -> None:
    with Answers(place / "out" / ANSWERS_FILE) as answers:
        code = answers.student("s1").code
    for page in printed(place / "out" / "sheets" / "s1.pdf"):
        assert "Name: Ada" in page
        assert "s1, section A" in page
        assert f"Sheet {code}" in page
    assert "s4" in pages(place / "out" / "sheets" / "s4.pdf")[0]


def test_sheets_by_code_have_no_name_and_no_id(tmp_path: Path) -> None:
    week = written(tmp_path, 'head = "code"\n' + TWO)
    build(tmp_path, BuildRequest(week, tmp_path / "out"))
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        code = answers.student("s1").code
    reader = pypdf.PdfReader(tmp_path / "out" / "sheets" / "s1.pdf")
    for page in printed(tmp_path / "out" / "sheets" / "s1.pdf"):
        assert f"Sheet: {code}" in page
        assert "section A" in page
        assert "Ada" not in page
        assert not re.search(r"\bs1\b", page)
    assert reader.metadata is not None
    assert reader.metadata.title == f"Small week: {code}"
    assert "s1, Ada" in "".join(pages(tmp_path / "out" / "key.pdf"))


def test_one_session_of_one_section_is_printed_alone(tmp_path: Path) -> None:
    request = BuildRequest(written(tmp_path), tmp_path / "out", session=2, section="A")
    report = build(tmp_path, request)
    assert {name for name in files_of(tmp_path / "out") if name.endswith(".pdf")} == {
        *("sheets-session-2/s1.pdf", "sheets-session-2/s3.pdf", "class/class-section-A-session-2.pdf"),
        *("key-section-A-session-2.pdf", "summary.pdf"),
    }
    assert report.files[:3] == ("sheets-session-2/", "class/", "key-section-A-session-2.pdf")
    with Answers(tmp_path / "out" / ANSWERS_FILE) as answers:
        assert answers.students == ("s1", "s2", "s3", "s4")
    text = pages(tmp_path / "out" / "class" / "class-section-A-session-2.pdf")
    assert [number for number, page in enumerate(text) if page] == [0, 2]
    key = "".join(pages(tmp_path / "out" / "key-section-A-session-2.pdf"))
    assert re.findall(r"^(s\d), ", key, re.MULTILINE) == ["s1", "s3"]
    assert re.findall(r"^(\d[a-z])\s", key, re.MULTILINE) == ["2d", "2d"]


def test_what_is_printed_again_has_the_same_numbers_and_leaves_the_rest(place: Path) -> None:
    before = files_of(place / "out")
    bound = {path.name: pages(path) for path in (place / "out" / "class").glob("class-section-A*")}
    build(place, BuildRequest(place / "week", place / "out", replace=True, section="A"))
    after = files_of(place / "out")
    assert after.keys() == before.keys() | {"key-section-A.pdf"}
    # The summary tells what was turned away: nothing is drawn any more.
    changed = {name for name in before if after[name] != before[name]}
    # The section's files have the same pages: which numbers their objects have hangs on what else was bound.
    assert changed <= {"summary.pdf", *(f"class/{name}" for name in bound)}
    assert {path.name: pages(path) for path in (place / "out" / "class").glob("class-section-A*")} == bound
    build(place, BuildRequest(place / "week", place / "out", replace=True))
    again = files_of(place / "out")
    assert again.keys() == before.keys()
    assert [name for name in before if again[name] != before[name]] == ["summary.pdf"]


def test_a_part_is_not_printed_beside_a_build_from_before_a_change(tmp_path: Path) -> None:
    week = written(tmp_path)
    build(tmp_path, BuildRequest(week, tmp_path / "out"))
    (week / "set.toml").write_text(TWO.replace("Small week", "Another week"), encoding="utf-8")
    with pytest.raises(FaultsError) as error:
        build(tmp_path, BuildRequest(week, tmp_path / "out", replace=True, session=2))
    (fault,) = error.value.faults
    assert str(fault).removeprefix(f"{tmp_path}/") == (
        "out/answers.json: found a build from before set.toml changed; expected the build that the other sheets are "
        "from. Leave --session and --section out: sheets printed now would not agree with the others."
    )
    build(tmp_path, BuildRequest(week, tmp_path / "out", replace=True))


def test_sections_that_are_no_more_leave_no_file_behind(tmp_path: Path) -> None:
    week = written(tmp_path)
    build(tmp_path, BuildRequest(week, tmp_path / "out", section="B"))
    with pytest.raises(OutputError, match="nothing was written"):
        build(tmp_path, BuildRequest(week, tmp_path / "out"))
    (tmp_path / "out" / "class" / "class-photo.pdf").write_bytes(b"mine")
    (week / "roster.csv").write_text(ROSTER.replace(",B", ",A"), encoding="utf-8")
    build(tmp_path, BuildRequest(week, tmp_path / "out", replace=True))
    left = {name for name in files_of(tmp_path / "out") if name.startswith(("class", "key"))}
    sessions = {f"class/class-session-{number}.pdf" for number in (1, 2)}
    assert left == {"class.pdf", "key.pdf", "class/class-photo.pdf", *sessions}


def test_who_has_no_section_is_told(tmp_path: Path) -> None:
    report = build(tmp_path, BuildRequest(written(tmp_path), tmp_path / "out"))
    told = "No section: s4. Their sheets are in the files of the whole class, and in no section's."
    assert report.notes == (told,)


@pytest.mark.parametrize(
    ("roster", "request_for", "told"),
    [
        (ROSTER, {"session": 3}, ["build: session: found 3; expected a session of the set: 1, 2"]),
        (ROSTER, {"section": "C"}, ["build: section: found 'C'; expected a section of the roster: A, B"]),
        ("id\ns1\n", {"section": "C"}, ["build: section: found 'C'; expected a roster that has sections"]),
        (
            "id,section\ns1,A/1\ns2,a 1\n",
            {},
            [
                (
                    "roster.csv: section: found the sections 'A/1' and 'a 1', whose files would both be called "
                    "section-a-1; expected sections that differ in letters or digits"
                )
            ],
        ),
    ],
)
def test_what_cannot_be_printed_is_refused(
    tmp_path: Path, roster: str, request_for: dict[str, int], told: list[str]
) -> None:
    week = written(tmp_path, roster=roster)
    with pytest.raises(FaultsError) as error:
        build(tmp_path, BuildRequest(week, tmp_path / "out", **request_for))  # type: ignore[arg-type]  # by name
    assert [str(fault).removeprefix(f"{week}/") for fault in error.value.faults] == told
    assert not (tmp_path / "out").exists()


def test_a_build_refuses_a_part_that_needs_what_a_later_sheet_tells(tmp_path: Path) -> None:
    week = written(tmp_path)
    shipped = ROOT / "templates" / "preparations" / "triphenylmethanol.toml"
    early = shipped.read_text(encoding="utf-8").replace('is needed"\nsession = 2', 'is needed"\nsession = 1')
    (tmp_path / "templates" / "ester.toml").write_text(early, encoding="utf-8")
    with pytest.raises(FaultsError) as error:
        build(tmp_path, BuildRequest(week, tmp_path / "out"))
    assert [str(fault).removeprefix(f"{tmp_path}/") for fault in error.value.faults] == [
        f"templates/ester.toml: given: found {name}, which part (k) needs and no sheet tells up to its session; "
        "expected a value that is told before it is needed"
        for name in ("density(hydrogen-chloride,solution)", "mass_fraction(hydrogen-chloride)")
    ]


def test_the_worked_key_is_written_when_it_is_asked_for(tmp_path: Path) -> None:
    week = written(tmp_path)
    build(tmp_path, BuildRequest(week, tmp_path / "plain"))
    assert not (tmp_path / "plain" / "worked-key.pdf").exists()
    asked = build(tmp_path, BuildRequest(week, tmp_path / "asked", worked_key=True))
    assert "worked-key.pdf" in asked.private
    (week / "set.toml").write_text("worked_key = true\n" + TWO, encoding="utf-8")
    build(tmp_path, BuildRequest(week, tmp_path / "set"))
    text = "".join(pages(tmp_path / "set" / "worked-key.pdf"))
    assert [f"Key: s{number}" in text for number in (1, 2, 3, 4)] == [True] * 4


def test_a_layout_asked_for_goes_before_the_sets(tmp_path: Path) -> None:
    week = written(tmp_path, 'layout = "compact"\n' + TWO)
    build(tmp_path, BuildRequest(week, tmp_path / "compact"))
    build(tmp_path, BuildRequest(week, tmp_path / "roomy", layout="roomy"))
    told = "Do the working on paper of your own."
    compact, roomy = (" ".join(pages(tmp_path / one / "sheets" / "s1.pdf")).split() for one in ("compact", "roomy"))
    assert told in " ".join(compact)
    assert told not in " ".join(roomy)
