"""What of a class is printed together: everything, one session's sheets, one section's students, or both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from problemgen.model.problem_set import Student

__all__ = ["Choice", "choices_of", "file_word"]

_KEPT = "_."
"""Characters of a section that stay in a file's name beside letters and digits."""


@dataclass(frozen=True)
class Choice:
    """A session's sheets, by its number, and a section's students; all where None stands."""

    session: int | None = None
    section: str | None = None

    def holds(self, student: Student) -> bool:
        """Whether a student's sheets are among what is printed."""
        return self.section is None or student.section == self.section

    def file_name(self, stem: str) -> str:
        """What a file is called: "class-section-B-session-2"."""
        section = "" if self.section is None else f"section-{file_word(self.section)}"
        session = "" if self.session is None else f"session-{self.session}"
        return "-".join(filter(None, (stem, section, session)))


def file_word(section: str) -> str:
    """A section as it stands in a file's name: what is no letter and no digit becomes a hyphen."""
    return "".join(one if one.isalnum() or one in _KEPT else "-" for one in section)


def choices_of(wanted: Choice, sessions: Sequence[int], students: Iterable[Student]) -> tuple[Choice, ...]:
    """What is bound into a file of its own: what is wanted, and of that each session and each section, where several.

    Of a set with two sessions class-session-1.pdf and class-session-2.pdf beside class.pdf; with two sections as well
    class-section-A.pdf, class-section-A-session-1.pdf and so on.
    """
    sections = sorted({student.section for student in students if student.section and wanted.holds(student)})
    by_session = (None, *sessions) if wanted.session is None and len(sessions) > 1 else (wanted.session,)
    by_section = (None, *sections) if wanted.section is None and len(sections) > 1 else (wanted.section,)
    return tuple(Choice(session, section) for section in by_section for session in by_session)
