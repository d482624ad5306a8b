"""The stamp of what is handed out: one word, sealed, found in any text."""

from __future__ import annotations

from dataclasses import replace

import pytest

from problemgen.model.handed_out import Stamp, digest_of, read_stamp, stamps_in

SECRET = b"three glass beads"
STAMP = Stamp("sheet", "week 1: Übung", "0123456789abcdef", "ABCD-2345", "0" * 32).sealed(SECRET)


def test_a_stamp_is_one_word_that_is_read_back() -> None:
    assert read_stamp(str(STAMP)) == STAMP
    assert " " not in str(STAMP)
    assert str(STAMP).isascii()
    assert stamps_in(f"<a>{STAMP}</a>, {STAMP};") == (str(STAMP), str(STAMP))


@pytest.mark.parametrize(
    "other",
    [
        replace(STAMP, code="ABCD-2346"),
        replace(STAMP, kind="workbook"),
        replace(STAMP, contents="1" * 32),
        replace(STAMP, set_id="week 2"),
        replace(STAMP, build="f" * 16),
        replace(STAMP, seal="a" * 24),
    ],
)
def test_the_seal_holds_all_of_it(other: Stamp) -> None:
    assert STAMP.is_sealed_with(SECRET)
    assert not STAMP.is_sealed_with(b"another secret")
    assert not other.is_sealed_with(SECRET)


@pytest.mark.parametrize(
    "text", ["", "problemgen:1:sheet", f"x{STAMP}", f"{STAMP}x", str(STAMP).replace("sheet", "key")]
)
def test_another_form_is_no_stamp(text: str) -> None:
    assert read_stamp(text) is None


def test_a_digest_tells_where_one_piece_ends_and_is_blind_to_blanks_at_its_ends() -> None:
    assert digest_of([b"ab", b"c"]) != digest_of([b"a", b"bc"])
    assert digest_of([b" ab\n"]) == digest_of([b"ab"])
