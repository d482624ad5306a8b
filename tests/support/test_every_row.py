from __future__ import annotations

import pytest

from tests.support.every_row import for_every


def is_even(number: int) -> None:
    if number == 0:
        raise KeyError(number)
    if number == 6:
        pytest.fail("six is unlucky")
    assert number % 2 == 0, "odd"


def test_every_row_that_breaks_a_rule_is_told() -> None:
    with pytest.raises(AssertionError) as caught:
        for_every([1, 2, 0, 6, 7])(is_even)()
    first, *rest = str(caught.value).splitlines()
    assert first == "4 of 5 rows:"
    assert [line for line in rest if line[0].isdigit()] == ["1: odd", "0: KeyError: 0", "6: six is unlucky", "7: odd"]


def test_a_rule_that_holds_tells_nothing_and_keeps_its_name() -> None:
    for_every([2, 4])(is_even)()
    assert for_every([2])(is_even).__name__ == "is_even"


def test_a_rule_without_rows_is_refused() -> None:
    with pytest.raises(ValueError, match="a rule needs rows"):
        for_every([])
