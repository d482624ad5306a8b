"""typed-papers.csv: half a pile is kept whole, nothing of others is lost, and nothing is overwritten unseen."""

from __future__ import annotations

import csv
import io
import threading
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from problemgen.errors import FaultsError, OutputError
from problemgen.load.people.responses import Responses
from problemgen.pipeline.typed_papers import ChangedMeanwhileError, PaperBook, Pile
from problemgen.write.files import Staging

HEADER = ["id", "name", "section", "code", "1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d", "typed"]
ONE, TWO = ("s1", 1), ("s2", 1)


def rows(file: Path) -> list[list[str]]:
    return list(csv.reader(io.StringIO(file.read_text(encoding="utf-8-sig"))))


def marked(file: Path, book: PaperBook) -> dict[str, str]:
    """The answers of the first student as a marking reads them."""
    found = Responses((file,), book.sheets, book.head.response_columns)
    assert found.remarks == []
    assert found.notes == []
    return {column: cell for _who, _attempt, cells in found for column, cell in cells.items() if cell}


def test_an_answer_is_kept_in_a_row_as_responses_have_it(pile: Pile, file: Path, book: PaperBook) -> None:
    assert pile.cells(ONE)["1a"] == ""
    pile.keep(ONE, "1a", " 2.50 mmol ", "")
    pile.keep(ONE, "2d", "=1+1", "")
    table = rows(file)
    assert table[0] == HEADER
    assert table[1][:4] == [
        "s1",
        "'#Rovik Tagmoor" if table[1][1].startswith("'") else "#Rovik Tagmoor",
        "A",
        book.sheets[ONE],
    ]
    assert marked(file, book) == {"1a": "2.50 mmol", "2d": "'=1+1"}
    assert len(table) == 2  # those alone that were typed


def test_columns_are_those_of_the_blank_table(pile: Pile, file: Path, built: Path) -> None:
    pile.keep(ONE, "1a", "1", "")
    assert rows(file)[0][:-1] == rows(built / "responses.csv")[0]


@pytest.mark.parametrize(("before", "found"), [("", "2.5"), ("2.4", "2.5")])
def test_a_cell_that_has_changed_is_not_overwritten(pile: Pile, before: str, found: str) -> None:
    pile.keep(ONE, "1a", found, "")
    with pytest.raises(ChangedMeanwhileError) as caught:
        pile.keep(ONE, "1a", "2.6", before)
    assert caught.value.found == found
    assert pile.cells(ONE)["1a"] == found
    pile.keep(ONE, "1a", "2.6", found)
    assert pile.cells(ONE)["1a"] == "2.6"


def test_the_same_typed_twice_is_no_conflict(pile: Pile, file: Path) -> None:
    pile.keep(ONE, "1a", "2.5", "")
    before = file.stat().st_mtime_ns
    pile.keep(ONE, "1a", "2.5", "")
    assert file.stat().st_mtime_ns == before


def test_what_a_spreadsheet_has_added_stays(pile: Pile, file: Path) -> None:
    pile.keep(ONE, "1a", "2.5", "")
    table = rows(file)
    table[0].append("seen by")
    table[1] += ["Rix; with a remark"]
    table.insert(1, ["s9", "Nobody", "", "", *[""] * 12, "Rix"])
    text = "\r\n".join(";".join(f'"{cell}"' for cell in row) for row in table)
    file.write_bytes(text.encode("cp1252"))  # as a spreadsheet with another list separator saves it
    pile.keep(TWO, "1b", "3.1", "")
    pile.keep(ONE, "1a", "2.6", "2.5")
    again = rows(file)
    assert [row[0] for row in again] == ["id", "s9", "s1", "s2"]
    assert again[2][HEADER.index("1a")] == "2.6"
    assert [row[len(HEADER)] for row in again[:3]] == ["seen by", "Rix", "Rix; with a remark"]
    assert pile.strangers() == ("the id 's9' is not in the set; the row is not marked",)


def test_a_column_that_the_table_lacks_is_added(pile: Pile, file: Path) -> None:
    file.parent.mkdir(parents=True)
    file.write_text("id,1a\ns1,2.5\n", encoding="utf-8")
    assert pile.cells(ONE)["1a"] == "2.5"
    pile.keep(ONE, "2a", "4.05", "")
    assert dict(zip(*rows(file), strict=True)) | {} == {
        **dict.fromkeys(HEADER, ""), "id": "s1", "1a": "2.5", "2a": "4.05",
    }  # fmt: skip


def test_of_two_rows_of_one_student_the_later_with_answers_counts(pile: Pile, file: Path) -> None:
    file.parent.mkdir(parents=True)
    file.write_text("id,1a\ns1,1\nS1,2\ns1,\n", encoding="utf-8")
    assert pile.cells(ONE)["1a"] == "2"
    pile.keep(ONE, "1a", "3", "2")
    assert [row[1] for row in rows(file)] == ["1a", "1", "3", ""]


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (b'id,1a\ns1,"2.5\n', "not read without doubt (line 2: a quotation mark is not closed; look at this row)"),
        (b"name,1a\nAda,2\n", "no table with a column 'id'"),
        (b"id,1a,1a\ns1,2,3\n", "a table with the column '1a' twice"),
    ],
)
def test_a_file_that_is_in_doubt_is_left_as_it_is(pile: Pile, file: Path, content: bytes, found: str) -> None:
    file.parent.mkdir(parents=True)
    file.write_bytes(content)
    with pytest.raises(FaultsError) as caught:
        pile.keep(TWO, "1a", "1", "")
    assert [one.found for one in caught.value.faults] == [found]
    assert file.read_bytes() == content


def test_an_answer_that_is_too_long_is_refused(pile: Pile, file: Path) -> None:
    with pytest.raises(FaultsError, match="an answer of 1001 characters; expected at most 1000"):
        pile.keep(ONE, "1a", "9" * 1001, "")
    assert not file.exists()


def test_a_run_that_writes_there_is_waited_for(pile: Pile, file: Path) -> None:
    pile.keep(ONE, "1a", "1", "")
    staging = Staging(file.parent, only=file.name, replace=True)
    with staging:
        thread = threading.Thread(target=pile.keep, args=(ONE, "1b", "2", ""))
        thread.start()
        thread.join(0.2)
        assert thread.is_alive()
    thread.join(10)
    assert (pile.cells(ONE)["1a"], pile.cells(ONE)["1b"]) == ("1", "2")


def test_many_at_once_lose_nothing(pile: Pile, book: PaperBook) -> None:
    columns = book.head.response_columns
    threads = [
        threading.Thread(target=pile.keep, args=(entry, column, f"{entry[0]} {column}", ""))
        for entry in book.sheets
        for column in columns
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join(60)
    assert all(pile.cells(entry)[column] == f"{entry[0]} {column}" for entry in book.sheets for column in columns)


def test_who_reads_while_others_write_sees_a_whole_table(pile: Pile, book: PaperBook) -> None:
    entry, seen, ended = ("s3", 1), [], threading.Event()

    def read() -> None:
        other = Pile(pile.folder, book)
        while not ended.is_set():
            seen.append(sum(one.filled for one in other.standings()))

    thread = threading.Thread(target=read)
    thread.start()
    for column in book.head.response_columns:
        pile.keep(entry, column, "1", "")
    ended.set()
    thread.join(20)
    assert seen == sorted(seen)
    assert set(seen) <= set(range(len(book.head.response_columns) + 1))


def test_a_folder_that_cannot_be_written_is_told(
    book: PaperBook, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("problemgen.pipeline.typed_papers.pile._PAUSE", 0)
    (tmp_path / "returned").write_text("a file\n", encoding="utf-8")
    with pytest.raises(OutputError):
        Pile(tmp_path / "returned", book).keep(ONE, "1a", "1", "")


def test_how_far_a_paper_is(pile: Pile, book: PaperBook) -> None:
    assert {one.state for one in pile.standings()} == {"missing"}
    pile.keep(ONE, "1a", "2.5", "")
    (mine, *others) = pile.standings()
    assert (mine.state, mine.filled, mine.blank[:2], len(mine.blank)) == ("begun", 1, ("1b", "1c"), 10)
    assert {one.state for one in others} == {"missing"}
    pile.end(ONE, [1])
    pile.end(ONE, [1])
    assert pile.standings()[0].state == "typed"  # what is blank was left blank
    for column in book.head.response_columns:
        pile.keep(TWO, column, "1", "")
    assert pile.standings()[1].state == "typed"


def test_a_paper_that_was_cleared_is_put_back(pile: Pile, file: Path) -> None:
    pile.keep(ONE, "1a", "2.5", "")
    pile.keep(ONE, "1b", "'=3", "")
    pile.end(ONE, [1])
    pile.keep(TWO, "1a", "9", "")
    before = rows(file)
    taken = pile.clear(ONE)
    assert [row[0] for row in rows(file)] == ["id", "s2"]
    assert pile.clear(ONE) == {}
    pile.restore(ONE, taken)
    assert sorted(rows(file)) == sorted(before)


def test_what_was_typed_since_is_not_overwritten_by_what_is_put_back(pile: Pile) -> None:
    pile.keep(ONE, "1a", "2.5", "")
    pile.keep(ONE, "1b", "3", "")
    taken = pile.clear(ONE)
    pile.keep(ONE, "1a", "2.6", "")
    pile.restore(ONE, taken)
    assert (pile.cells(ONE)["1a"], pile.cells(ONE)["1b"]) == ("2.6", "3")


def test_what_stands_beside_a_cleared_paper_stays(pile: Pile, file: Path) -> None:
    file.parent.mkdir(parents=True)
    file.write_text("id,1a,remark\ns1,2.5,late\n", encoding="utf-8")
    assert pile.clear(ONE) == {"1a": "2.5"}
    assert rows(file)[1][:3] == ["s1", "", "late"]
    assert pile.standings()[0].state == "missing"


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(st.text(max_size=60))
def test_any_text_comes_back_as_it_was_typed(pile: Pile, file: Path, text: str) -> None:
    file.unlink(missing_ok=True)
    pile.keep(ONE, "1a", text, "")
    pile.keep(ONE, "1b", "kept", "")
    assert pile.cells(ONE)["1b"] == "kept"
    seen = pile.cells(ONE)["1a"]
    pile.keep(ONE, "1a", "other", text)  # what the page has seen is what it has sent
    assert pile.cells(ONE)["1a"] == "other"
    assert "\n" not in seen
