from __future__ import annotations

import hashlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.make.draws import class_numbers, draw_numbers, indices, kept_for_practice, shares, sheet_code

SECRET = b"a published secret"


def digest(secret: bytes, names: list[str], length: int) -> bytes:
    """The construction as documented: SHAKE-256 over the fields, each behind its length in eight bytes."""
    message = b""
    for field in [secret, *(name.encode("utf-8") for name in names)]:
        message += len(field).to_bytes(8, "big") + field
    return hashlib.shake_256(message).digest(length)


def numbers(secret: bytes, names: list[str], size: int) -> list[int]:
    told = digest(secret, names, 8 * size)
    return [int.from_bytes(told[8 * n : 8 * n + 8], "little") for n in range(size)]


@pytest.mark.parametrize(
    "names", [[], ["a"], ["graded", "first-week", "1", "s1", "mass(zinc)", "0"], ["Zoë", "质量", "𝜋"], ["", "x", ""]]
)
def test_draws_are_made_as_documented(names: list[str]) -> None:
    assert draw_numbers(SECRET, names, 5).tolist() == numbers(SECRET, names, 5)


def test_some_draws_are_pinned() -> None:
    """Whoever changes these numbers changes every sheet that was ever built."""
    drawn = draw_numbers(SECRET, ["graded", "first-week", "1", "s1", "mass(zinc)", "0"], 3)
    assert drawn.tolist() == [9888639937385951204, 3204068157880967557, 3624912730969534400]


names = st.lists(st.text(max_size=4), max_size=4)


@given(names, names)
def test_no_two_lists_of_names_share_their_draws(one: list[str], two: list[str]) -> None:
    same = draw_numbers(SECRET, one, 2).tolist() == draw_numbers(SECRET, two, 2).tolist()
    assert same is (one == two)


@given(names, st.integers(0, 20), st.integers(0, 20))
def test_a_longer_draw_begins_with_the_shorter(one: list[str], short: int, more: int) -> None:
    longer = draw_numbers(SECRET, one, short + more).tolist()
    assert longer[:short] == draw_numbers(SECRET, one, short).tolist()


def test_another_secret_gives_other_draws() -> None:
    assert draw_numbers(b"one", ["a"], 4).tolist() != draw_numbers(b"two", ["a"], 4).tolist()


@pytest.mark.parametrize(
    ("number", "count", "index"),
    [(0, 7, 0), (2**64 - 1, 7, 6), (2**63, 10, 5), (2**63 - 1, 10, 4), (2**62, 1_000_000, 250_000), (2**64 - 1, 1, 0)],
)
def test_an_index_is_the_number_s_share_of_the_count(number: int, count: int, index: int) -> None:
    assert indices(np.array([number], dtype=np.uint64), count).tolist() == [index]


@given(st.integers(0, 2**64 - 1), st.integers(1, 1_000_000))
def test_an_index_is_below_the_count(number: int, count: int) -> None:
    (index,) = indices(np.array([number], dtype=np.uint64), count).tolist()
    assert index == (number >> 32) * count >> 32
    assert 0 <= index < count


@pytest.mark.parametrize(
    ("count", "most"),
    [(2, 10.83), (7, 22.46), (31, 59.70), (181, 244.4), (1000, 1143.9)],
)
def test_indices_are_spread_evenly(count: int, most: float) -> None:
    """Chi-square over 200,000 draws, below the value that chance exceeds once in a thousand times."""
    drawn = indices(draw_numbers(SECRET, ["spread", str(count)], 200_000), count)
    observed = np.bincount(drawn, minlength=count)
    expected = 200_000 / count
    assert observed.size == count
    assert float(((observed - expected) ** 2 / expected).sum()) < most


def test_shares_are_spread_evenly_from_0_to_below_1() -> None:
    drawn = shares(draw_numbers(SECRET, ["shares"], 100_000))
    assert 0.0 <= drawn.min() < 1e-3
    assert 1.0 - 1e-3 < drawn.max() < 1.0
    assert float(drawn.mean()) == pytest.approx(0.5, abs=0.003)
    assert float(drawn.var()) == pytest.approx(1 / 12, abs=0.001)


@pytest.mark.parametrize(("number", "share"), [(0, 0.0), (2**63, 0.5), (2**64 - 1, 1.0 - 2.0**-53)])
def test_a_share_is_an_exact_multiple(number: int, share: float) -> None:
    assert shares(np.array([number], dtype=np.uint64)).tolist() == [share]


def test_a_sheet_code_is_pinned() -> None:
    assert sheet_code(SECRET, "", "first-week", "s1") == "CFT8-ZY9C"


@given(st.text(max_size=20))
def test_a_sheet_code_has_no_letter_that_is_misread(student: str) -> None:
    code = sheet_code(SECRET, "", "first-week", student)
    assert len(code) == 9
    assert code[4] == "-"
    assert set(code[:4] + code[5:]) <= set("23456789ABCDEFGHJKMNPQRSTUVWXYZ")


def test_sheet_codes_tell_a_class_apart() -> None:
    codes = {sheet_code(SECRET, "", "first-week", f"s{number}") for number in range(3000)}
    assert len(codes) == 3000


def test_a_quarter_of_all_combinations_is_kept_for_practice() -> None:
    kept = sum(kept_for_practice(number.to_bytes(8, "little")) for number in range(20_000))
    assert 4_750 < kept < 5_250


def test_a_class_is_drawn_the_numbers_of_each_student() -> None:
    students = ["s1", "s2", "s10", "s1 attempt 2", "Zoë"]
    drawn = class_numbers(SECRET, ("term", "set"), students, ("mass(zinc)", "0"), 3)
    assert drawn.tolist() == [
        draw_numbers(SECRET, ("term", "set", student, "mass(zinc)", "0"), 3).tolist() for student in students
    ]
