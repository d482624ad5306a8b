"""What lies in a built folder, as it is looked for: for the printer, for each student, for the instructor alone."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.language.messages import N_, _
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.earlier import file_stem
from problemgen.pipeline.outlets.marking.mail_merge import mailed_to

__all__ = ["FileShown", "Graded", "Written", "graded_in", "written_in"]

_BOUND = re.compile(r"(class|slips|key|worked-key)(-[2-9])?(?:-section-(.+?))?(?:-session-([1-9]))?\.pdf")

_KINDS = {
    "class": N_("All sheets"),
    "slips": N_("Pages with all blanks"),
    "key": N_("Key, a line a part"),
    "worked-key": N_("Worked solutions of everybody"),
}
_PRIVATE = {
    "summary.pdf": N_("How the variants came about"),
    "responses.csv": N_("Table to type answers into"),
}
_EACH = {
    "sheets": N_("Sheets"),
    "fill-in": N_("Sheets to fill in on the screen"),
    "workbooks": N_("Workbooks"),
    "slips": N_("Pages with all blanks"),
}
"""The folders with a file a student."""

_GRADES = {
    "gradebook.xlsx": N_("Gradebook, as a workbook"),
    "gradebook.csv": N_("Gradebook"),
    "sections.csv": N_("Sections beside each other"),
    "grades.csv": N_("All parts of everybody, with the reasons"),
    "mail-merge.csv": N_("Whose feedback is whose, for sending it"),
}
_TO_LOOK_AT = {
    "class-report.html": N_("Class report"),
    "look-into.csv": N_("Answers that are right for another student's numbers"),
    "unread.csv": N_("Answers that could not be read"),
    "own-data.csv": N_("What students measured, as it was read"),
}
"""What a marking writes, but for the feedback of each."""


@dataclass(frozen=True)
class FileShown:
    """A file: what it is, its name in the course, its size in bytes."""

    label: str
    name: str
    size: int

    @property
    def short(self) -> str:
        """The last part of its name."""
        return self.name.rpartition("/")[2]

    @property
    def opens(self) -> bool:
        """Whether a browser shows it by itself."""
        return self.name.endswith(".pdf")

    @property
    def is_page(self) -> bool:
        """Whether it is a page of ours, which the desk shows shut in, so that nothing in it can do anything."""
        return self.name.endswith(".html")


@dataclass(frozen=True)
class Written:
    """What a build has written: bound files, the folders with a file a student, and what no student may see."""

    printer: Sequence[FileShown]
    each: Sequence[tuple[str, Sequence[FileShown]]]
    private: Sequence[FileShown]


def written_in(course: Path, folder: Path) -> Written | None:
    """What lies in a built folder of a course; None where nothing was built."""
    if not (folder / ANSWERS_FILE).is_file():
        return None
    whose = _whose(folder)
    bound = [path for place in (folder, folder / "class", folder / "slips") for path in sorted(place.glob("*.pdf"))]
    files = [(path, found) for path in bound if (found := _BOUND.fullmatch(path.name))]
    keys = [_shown(course, path, _label(found)) for path, found in files if found[1].endswith("key")]
    return Written(
        printer=[_shown(course, path, _label(found)) for path, found in files if not found[1].endswith("key")],
        each=[(_(label), each) for name, label in _EACH.items() if (each := [*_each(course, folder / name, whose)])],
        private=[*keys, *_named(course, folder, _PRIVATE)],
    )


@dataclass(frozen=True)
class Graded:
    """What a marking has written: the grades, what to look at, and the feedback of each student."""

    grades: Sequence[FileShown]
    to_look_at: Sequence[FileShown]
    feedback: Sequence[FileShown]


def graded_in(course: Path, folder: Path) -> Graded | None:
    """What lies in the folder of a marking; None where nothing was marked."""
    if not (folder / "grades.csv").is_file():
        return None
    return Graded(
        grades=[*_named(course, folder, _GRADES)],
        to_look_at=[*_named(course, folder, _TO_LOOK_AT)],
        feedback=[*_each(course, folder / "feedback", {**_whose(folder.parent), **_mailed(folder)})],
    )


def _named(course: Path, folder: Path, labels: Mapping[str, str]) -> Iterator[FileShown]:
    for name, label in labels.items():
        if (folder / name).is_file():
            yield _shown(course, folder / name, _(label))


def _whose(folder: Path) -> Mapping[str, str]:
    """Whose each file of a build is, by its name without the ending; nothing where its answers cannot be read."""
    try:
        state = (folder / ANSWERS_FILE).stat()
        return _people(folder / ANSWERS_FILE, state.st_mtime_ns, state.st_size)
    except (OSError, FaultsError):
        return {}


@lru_cache(maxsize=16)
def _people(path: Path, _time: int, _size: int) -> Mapping[str, str]:
    with Answers(path) as answers:
        named = {student: name or student for student, (name, _section) in answers.people.items()}
        return {file_stem(*entry): _attempted(named[entry[0]], entry[1]) for entry in answers.entries}


def _attempted(name: str, attempt: int) -> str:
    return name if attempt == 1 else f"{name}, {_('attempt {attempt}').format(attempt=attempt)}"


def _mailed(grades: Path) -> Mapping[str, str]:
    """Whose each file of feedback is where its name does not tell it."""
    whose = _whose(grades.parent)
    stems = ((Path(name).stem, file_stem(*entry)) for name, entry in mailed_to(grades).items())
    return {stem: whose[mine] for stem, mine in stems if mine in whose}


def _each(course: Path, folder: Path, whose: Mapping[str, str]) -> Iterator[FileShown]:
    """The files of a folder, called by whose they are, in the order of their names."""
    for path in sorted(folder.glob("*")):
        if path.is_file() and not _BOUND.fullmatch(path.name):
            yield _shown(course, path, whose.get(path.stem, path.stem))


def _shown(course: Path, path: Path, label: str) -> FileShown:
    return FileShown(label, path.relative_to(course).as_posix(), path.stat().st_size)


def _label(found: re.Match[str]) -> str:
    """What a bound file is: "All sheets, section A, session 2"."""
    kind, attempt, section, session = found.groups()
    said = [_(_KINDS[kind])]
    if section:
        said.append(_("section {section}").format(section=section))
    if session:
        said.append(_("session {session}").format(session=session))
    if attempt:
        said.append(_("attempt {attempt}").format(attempt=attempt[1:]))
    return ", ".join(said)
