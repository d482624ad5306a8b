"""Ratios of two products as students write them and spreadsheets show them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.exact.digits import read_written
from problemgen.grade.reading.ratios import Ratio, read_ratio


@pytest.mark.parametrize(
    ("text", "first", "second"),
    [
        ("94:6", "94", "6"),
        ("94 : 6", "94", "6"),
        ("94 to 6", "94", "6"),
        ("94/6", "94", "6"),
        ("94∶6", "94", "6"),
        ("９４：６", "94", "6"),
        ("94.0:6.0", "94.0", "6.0"),
        ("94,2:5,8", "94.2", "5.8"),
        ("94 % : 6 %", "94", "6"),
        ("0.94:0.06", "0.94", "0.06"),
        ("15.7 : 1", "15.7", "1"),
        ("A:B = 94:6", "94", "6"),
        ("ratio: 94:6 (GC)", "94", "6"),
        ("ca. 94 : 6.", "94", "6"),
        ("~94:6", "94", "6"),
        ("4.0 × 10^2 : 25", "4.0e2", "25"),
    ],
)
def test_two_numbers_are_a_ratio(text: str, first: str, second: str) -> None:
    assert read_ratio(text) == Ratio(read_written(first), read_written(second))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("94:6:1", 'Three numbers stand in "94:6:1", and the ratio is of two products; write two, such as 94 : 6.'),
        ("1:2:3:4", 'Four numbers stand in "1:2:3:4", and the ratio is of two products; write two, such as 94 : 6.'),
        ("94", "One number alone is no ratio; write both, such as 94 : 6."),
        ("94 %", "One number alone is no ratio; write both, such as 94 : 6."),
        ("94-6", "One number alone is no ratio; write both, such as 94 : 6."),
        ("94:", 'A number is missing in "94:"; write two, such as 94 : 6.'),
        (":6", 'A number is missing in ":6"; write two, such as 94 : 6.'),
        ("much more", 'No number is found in "much more"; write two, such as 94 : 6.'),
        ("94:0", '"94:0" is no ratio to work with: both numbers have to be above 0.'),
        ("-94:6", '"-94:6" is no ratio to work with: both numbers have to be above 0.'),
        ("94:6 g", '"94:6 g" is not read as a ratio; write two numbers, such as 94 : 6.'),
        ("1e60:2", "No instrument shows a number of this size."),
        ("9" * 201, "201 characters are not read; write two numbers, such as 94 : 6."),
    ],
)
def test_what_is_no_ratio_of_two_products_is_refused_with_a_reason(text: str, reason: str) -> None:
    assert read_ratio(text) == Ratio(reason=reason)


@pytest.mark.parametrize("text", ["", "  ", "-", "?", "n/a"])
def test_a_blank_is_no_ratio_and_no_fault(text: str) -> None:
    assert read_ratio(text) == Ratio()


@pytest.mark.parametrize("text", ["94:06:00", "94:06"])
def test_percentages_survive_as_a_time_of_day(text: str) -> None:
    read = Ratio(read_written("94"), read_written("6"), remark=f'"{text}" is read as the ratio 94 : 6.')
    assert read_ratio(text) == read


@pytest.mark.parametrize("text", ["31:10:00", "01:06", "1:06 AM", "12:05", "94:00:00", "05:02"])
def test_any_other_time_of_day_is_refused(text: str) -> None:
    """A spreadsheet makes 31:10:00 of "30:70": its minutes ran over, and the two numbers cannot be told any more."""
    told = "is a time of day, which a spreadsheet makes of a ratio; write it as 94 to 6, or format the cell as text."
    assert read_ratio(text) == Ratio(reason=f'"{text}" {told}')


def test_a_doubtful_mark_is_remarked_on() -> None:
    ratio = read_ratio("1,234:1", ".")
    assert (ratio.first, ratio.remark) == (
        read_written("1234"),
        '"1,234" can mean 1234 or 1.234; it is read as 1234.',
    )


@given(st.text(max_size=30) | st.text(st.sampled_from("0123456789:./, toAM%-="), max_size=12), st.sampled_from(".,"))
def test_any_text_is_read_or_refused(text: str, mark: str) -> None:
    ratio = read_ratio(text, mark)
    assert (ratio.first is None) == (ratio.second is None)
    assert not (ratio.first and ratio.reason)
    if ratio.first and ratio.second:
        assert ratio.first.value > 0 < ratio.second.value


@given(st.integers(1, 9999), st.integers(1, 9999), st.sampled_from([":", " : ", " to ", "/"]))
def test_what_is_written_is_read(one: int, other: int, sign: str) -> None:
    ratio = read_ratio(f"{one / 10}{sign}{other / 10}")
    assert (ratio.first and ratio.first.text, ratio.second and ratio.second.text) == (f"{one / 10}", f"{other / 10}")
