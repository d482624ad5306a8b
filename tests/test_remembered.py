"""Tables of results: what is remembered, forgotten, and made anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from problemgen import remembered
from problemgen.remembered import Table, begin, end, learn, news


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """What a table was asked to make; it is the only table."""
    monkeypatch.setattr(remembered, "_TABLES", {})
    yield []
    end()


def doubling(asked: list[int], most: int = 9) -> Callable[[int], int]:
    table: Table[int] = Table("doubles", plain=lambda found: [found], read=lambda data: int(data[0]), most=most)

    def twice(number: int) -> int:
        asked.append(number)
        return 2 * number

    return table.remembering(twice)


def test_without_a_source_nothing_is_remembered(asked: list[int]) -> None:
    twice = doubling(asked)
    assert [twice(2), twice(2)] == [4, 4]
    assert asked == [2, 2]
    assert news() == {}


def test_what_the_source_has_is_not_made_and_what_is_new_is_told_once(asked: list[int]) -> None:
    twice = doubling(asked)
    begin(lambda name: {"[2]": "[4]"} if name == "doubles" else {})
    assert [twice(2), twice(3), twice(3)] == [4, 6, 6]
    assert asked == [3]
    assert news() == {"doubles": {"[2]": "[4]", "[3]": "[6]"}}
    assert news() == {}


@pytest.mark.parametrize("line", ["", "{", "[]", "4", "null", '["x"]', '{"a": 1}'])
def test_a_line_of_another_shape_is_made_anew(asked: list[int], line: str) -> None:
    twice = doubling(asked)
    begin(lambda _: {"[2]": line})
    assert twice(2) == 4
    assert asked == [2]
    assert news() == {"doubles": {"[2]": "[4]"}}


def test_what_is_raised_is_not_remembered(asked: list[int]) -> None:
    table: Table[float] = Table("inverses", plain=float, read=float, most=9)
    begin(lambda _: {})

    def inverse() -> float:
        asked.append(0)
        return 1 / 0

    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            table.found("0", inverse)
    assert asked == [0, 0]
    assert news() == {}


@pytest.mark.usefixtures("asked")
def test_what_changed_while_it_was_made_is_not_remembered_nor_is_what_has_no_key() -> None:
    table: Table[int] = Table("doubles", plain=int, read=int, most=9)
    begin(lambda _: {})
    assert table.found("before", lambda: 4, lambda: "after") == 4
    assert table.found("", lambda: 4) == 4
    assert news() == {}
    assert table.found("same", lambda: 4, lambda: "same") == 4
    assert news() == {"doubles": {"same": "4"}}


def test_beyond_the_bound_the_oldest_go(asked: list[int]) -> None:
    twice = doubling(asked, most=2)
    begin(lambda _: {"[1]": "[2]", "[2]": "[4]"})
    assert twice(3) == 6
    assert news() == {"doubles": {"[2]": "[4]", "[3]": "[6]"}}


def test_another_process_teaches_what_is_not_known(asked: list[int]) -> None:
    twice = doubling(asked)
    begin(lambda _: {})
    learn({"doubles": {"[2]": "[4]"}})
    assert twice(2) == 4
    assert asked == []
    assert news() == {"doubles": {"[2]": "[4]"}}
