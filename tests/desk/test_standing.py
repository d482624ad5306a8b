"""What is sensible next, and which answers came back after the last marking."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from problemgen.desk.standing import Built, Standing, next_step

NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
EARLIER, LATER = NOON - timedelta(hours=1), NOON + timedelta(hours=1)
ROOMS = {"sets": "/sets", "print": "/print", "mark": "/mark"}


def standing(marked: datetime | None, returned: datetime | None) -> Standing:
    built = Built("output/week-1", 3, EARLIER, marked, returned, is_older=False)
    return Standing("week-1", Path("sets/week-1"), "Week 1", 2, (Path("rosters/A.csv"),), built)


@pytest.mark.parametrize(
    ("marked", "returned", "why"),
    [
        (None, None, "“Week 1” is built. When answers come back, mark them."),
        (None, NOON, "Answers to “Week 1” came back, and are not marked yet."),
        (NOON, LATER, "Answers to “Week 1” came back after the last marking."),
        (NOON, EARLIER, None),
        (NOON, None, None),
    ],
)
def test_answers_that_are_not_marked_are_what_comes_next(
    marked: datetime | None, returned: datetime | None, why: str | None
) -> None:
    following = next_step([standing(marked, returned)], ROOMS)
    assert (following.why if following else None) == why
    assert following is None or following.place == "/mark/week-1"


def test_a_desk_without_a_room_to_mark_in_sends_nobody_there() -> None:
    rooms = {name: place for name, place in ROOMS.items() if name != "mark"}
    for marked, returned in ((None, None), (None, NOON), (NOON, LATER)):
        assert next_step([standing(marked, returned)], rooms) is None


def test_of_two_sets_the_one_that_is_behind_its_marking_comes_first() -> None:
    found = [standing(None, None), standing(NOON, LATER)]
    following = next_step(found, ROOMS)
    assert following is not None
    assert following.link == "Mark again"


def test_the_example_comes_behind_an_own_set() -> None:
    example = replace(standing(None, None), name="example", built=None, is_example=True)
    own = standing(None, None)
    assert own.built is not None
    changed = replace(own, built=replace(own.built, is_older=True))
    for found in ([example, changed], [changed, example]):
        following = next_step(found, ROOMS)
        assert following is not None
        assert following.why == "“Week 1” has changed since it was built."
    following = next_step([example], ROOMS)
    assert following is not None
    assert following.place == "/print/example"
