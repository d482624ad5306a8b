"""Of several files of one student, which counts, and for what."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime

from problemgen.pipeline.which_returns import Taken, counting

EARLY, LATE = datetime(2026, 10, 11, tzinfo=UTC), datetime(2026, 10, 12, tzinfo=UTC)


def taken(file: str, cells: Mapping[str, str], when: datetime | None = EARLY, *, is_doubtful: bool = False) -> Taken:
    return Taken(file, ("s1", 1), cells, when, is_doubtful=is_doubtful)


def told(*files: Taken) -> tuple[dict[str, str], str, dict[str, bool]]:
    cells, file, listed = counting(files)
    return cells, file, {one.file: one.counts for one in listed}


def test_one_alone_counts_and_nothing_is_said_of_it() -> None:
    assert told(taken("a", {"1a": "x"})) == ({"1a": "x"}, "a", {})


def test_the_later_one_counts_for_all_that_it_asks_a_blank_among_it() -> None:
    first, second = taken("z", {"1a": "x", "1b": "y"}), taken("a", {"1a": "new", "1b": ""}, LATE)
    assert told(first, second) == ({"1a": "new", "1b": ""}, "a", {"z": False, "a": True})


def test_sheets_of_two_sessions_both_count() -> None:
    before, after = taken("1", {"1a": "x"}), taken("2", {"1b": "y"}, LATE)
    assert told(before, after)[0] == {"1a": "x", "1b": "y"}
    assert told(before, after)[2] == {"1": True, "2": True}


def test_an_empty_one_takes_nothing_away() -> None:
    assert told(taken("a", {"1a": "x"}), taken("b", {"1a": ""}, LATE)) == ({"1a": "x"}, "a", {"b": False})


def test_what_is_in_doubt_never_takes_the_place_of_what_is_not() -> None:
    sure, doubtful = taken("a", {"1a": "mine"}), taken("b", {"1a": "theirs"}, LATE, is_doubtful=True)
    assert told(sure, doubtful)[0] == {"1a": "mine"}
    assert told(doubtful)[0] == {"1a": "theirs"}


def test_where_no_time_tells_which_is_later_it_is_said() -> None:
    _, _, listed = counting([taken("a", {"1a": "x"}), taken("b", {"1a": "y"})])
    assert "no time tells which is the later one" in listed[0].reasons[0]
