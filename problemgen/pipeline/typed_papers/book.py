"""A built set, opened for judging papers one at a time: answers.json is read once for as long as it stays the same."""

from __future__ import annotations

import os
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from problemgen.grade.judging.meant import explain_meant
from problemgen.grade.judging.own_data import with_own_data
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.people.means import MEANS_FILE
from problemgen.load.people.whose_rows import Entry, WhoseRows
from problemgen.load.resources import COURSE_FILE, SET_FILE
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.explanation import Explanation
from problemgen.model.page_code import build_mark
from problemgen.pipeline.built import SECRET_FILE, open_built
from problemgen.pipeline.decisions import means_for
from problemgen.pipeline.set_rules import mark_by_set

__all__ = ["JudgedPaper", "PaperBook", "PaperBooks"]

_KEPT_KEYS = 64
"""Students' keys that are kept: a pile is gone through from top to bottom, and looked back into."""

_KEPT_BOOKS = 4
"""Sets that are kept open: a course has a set a week, and seldom two at once."""


@dataclass(frozen=True)
class JudgedPaper:
    """A paper as it is marked: the head in the language of its sheets, its keys with the student's own data, each part.

    The instructor's decisions of overrides.csv are left out: they are about points, and not about what was written.
    """

    head: KeyHead
    key: StudentKey
    parts: tuple[Explanation, ...]


class PaperBook:
    """A built set: whose sheets there are, and what any answers on them are marked as. What it tells is the key."""

    def __init__(self, folder: Path) -> None:
        """Open the set that was built into a folder.

        Raises:
            FaultsError: for an answers.json that is missing, is not of this format, or was changed since it was built;
                for faults of set.toml, or of means.csv.
            OutputError: for what a killed run has begun to write there, and cannot be finished.
        """
        self.folder = folder
        files = tuple(folder / name for name in (ANSWERS_FILE, SECRET_FILE, MEANS_FILE))
        states = _states(files)
        self._answers = open_built(folder).answers
        self._answers.hold()
        rules = _rule_files(folder, self._answers.head.made_from)
        self._sources, self._states = (*files, *rules), (*states, *_states(rules))
        mark_by_set(self._answers, folder, None)
        self._means = means_for(folder, None, self._answers)
        self._guard = threading.Lock()
        self._kept = lru_cache(_KEPT_KEYS)(self._read)
        head = self.head
        self.rows = WhoseRows(self.sheets)
        self.mark = build_mark(head.issued.secret, head.issued.term, head.set_id)

    @property
    def is_current(self) -> bool:
        """Whether nothing that it was read from has changed since."""
        return _states(self._sources) == self._states

    @property
    def head(self) -> KeyHead:
        """What is common to all students."""
        return self._answers.head

    @property
    def sheets(self) -> Mapping[Entry, str]:
        """The code on each sheet, by the student's id and the number of the attempt, in the order of the class."""
        return self._answers.sheets

    @property
    def people(self) -> Mapping[str, tuple[str, str]]:
        """The name and the section of each student, by the id."""
        return self._answers.people

    @property
    def not_asked(self) -> Mapping[Entry, frozenset[str]]:
        """Of attempts that have not all problems the columns of the others."""
        return self._answers.not_asked

    def key(self, entry: Entry) -> StudentKey:
        """A student's keys for an attempt. Raises KeyError for one that the set does not have."""
        with self._guard:  # one place in the file, whichever thread reads
            return self._kept(entry)

    def _read(self, entry: Entry) -> StudentKey:
        return self._answers.student(*entry)

    def judged(self, entry: Entry, cells: Mapping[str, str]) -> JudgedPaper:
        """A paper as `problemgen grade` judges it, by the cells of its row. Raises KeyError as `key` does."""
        key = self.key(entry)
        head = self.head.in_language(key.language)
        worked = with_own_data(self.head, key, self._means.in_parts(cells))
        return JudgedPaper(head, worked, explain_meant(self.head, worked, cells, self._means))


class PaperBooks:
    """The sets that are open, each opened again once something of it has changed."""

    def __init__(self) -> None:
        """Begin with none."""
        self._books: dict[Path, PaperBook] = {}
        self._guard = threading.Lock()

    def of(self, folder: Path) -> PaperBook:
        """The set that was built into a folder. Raises what opening it does."""
        with self._guard:
            book = self._books.pop(folder, None)
            if book is None or not book.is_current:
                book = PaperBook(folder)
            self._books[folder] = book
            while len(self._books) > _KEPT_BOOKS:
                del self._books[next(iter(self._books))]
            return book


def _rule_files(folder: Path, made_from: str) -> tuple[Path, ...]:
    """The files that say how the set is marked: its own, and those of a course that it may lie in."""
    if not made_from:
        return ()
    place = Path(os.path.normpath(folder / made_from))
    return (place / SET_FILE, *(above / COURSE_FILE for above in place.parents))


def _states(files: Iterable[Path]) -> tuple[tuple[int, int], ...]:
    """When each file was written, and how long it is; zeros for none."""
    return tuple(map(_state, files))


def _state(file: Path) -> tuple[int, int]:
    try:
        found = file.stat()
    except OSError:
        return 0, 0
    return found.st_mtime_ns, found.st_size
