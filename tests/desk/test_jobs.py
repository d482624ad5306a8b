"""What long work is called."""

from __future__ import annotations

from problemgen.desk.jobs import JobTitle
from problemgen.language.messages import speaking


def test_a_title_is_said_in_the_language_of_who_looks() -> None:
    title = JobTitle("Sheets of {title}", "Week {1}")
    assert str(title) == "Sheets of Week {1}"
    with speaking("de"):
        assert str(title) != "Sheets of Week {1}"
        assert str(title).endswith("Week {1}")
