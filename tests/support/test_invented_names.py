"""The shipped rosters hold invented people alone, as the script that names them writes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.invented_names import AWKWARD, FAMILY, GIVEN, names_of, plain_name, roster_files, roster_text


@pytest.mark.parametrize("roster", roster_files(), ids=lambda path: path.parent.name)
def test_a_shipped_roster_is_as_the_script_writes_it(roster: Path) -> None:
    assert roster.read_text(encoding="utf-8") == roster_text(roster)


def test_no_two_places_have_one_name() -> None:
    count = len(GIVEN) * len(FAMILY)
    assert len({plain_name(place) for place in range(count)}) == count


def test_names_that_are_awkward_stand_at_their_ids() -> None:
    ids = [f"s{number:03d}" for number in range(1, 121)]
    assert AWKWARD["first-week"].items() <= names_of("first-week", ids).items()


def test_awkward_names_cover_what_a_table_or_a_page_could_get_wrong() -> None:
    """Each script by one of its letters' blocks, each mark by itself."""
    letters = "".join(AWKWARD["first-week"].values())
    blocks = [(0x370, 0x3FF), (0x400, 0x4FF), (0x530, 0x58F), (0x590, 0x5FF), (0x600, 0x6FF), (0x900, 0x97F)]
    blocks += [(0xE00, 0xE7F), (0x10A0, 0x10FF), (0x3040, 0x30FF), (0x4E00, 0x9FFF), (0xAC00, 0xD7AF)]
    assert [block for block in blocks if not any(block[0] <= ord(letter) <= block[1] for letter in letters)] == []
    assert set("#@=+-,’ʻ") <= set(letters)
