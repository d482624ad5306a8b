"""What the desk knows as long as it runs."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable
from contextlib import ExitStack
from datetime import datetime
from pathlib import Path
from typing import Any

from problemgen.desk.jobs import Job, Jobs, JobTitle
from problemgen.desk.watch import Watch
from problemgen.errors import Fault, FaultsError
from problemgen.load.resources import COURSE_FILE
from problemgen.load.sets.courses import Course, course_of
from problemgen.model.banks import Banks
from problemgen.pipeline.keeping import keeping
from problemgen.scratch import scratch

__all__ = ["Desk"]


class Desk:
    """The folder of the course (None: there is none yet), its jobs, and what was dropped and waits for a decision."""

    def __init__(self, folder: Path | None, proposed: Path, stop: Callable[[], None] = lambda: None) -> None:
        """Take the folder, or where a new course would be made; `stop` ends the server."""
        self.folder, self.proposed, self.stop = folder, proposed, stop
        self.jobs, self.watch = Jobs(), Watch()
        self._stack = ExitStack()
        self.aside = self._stack.enter_context(scratch())
        """A folder for files that were dropped; it goes with the desk."""
        self._guard = threading.Lock()
        self._banks: tuple[tuple[Any, ...], Banks] | None = None

    @property
    def number(self) -> int:
        """The state number."""
        return self.watch.number(self.folder, self.jobs.version)

    def course(self) -> Course:
        """The course, as course.toml says now. Raises FaultsError for its faults, and where there is no course."""
        if self.folder is None:
            raise FaultsError([Fault(str(self.proposed), "", "no course", "the folder of a course")])
        return course_of(self.folder)

    def place(self) -> Path:
        """The course's folder. Raises FaultsError where there is none."""
        folder = self.course().folder
        if folder is None:  # it was moved away meanwhile
            raise FaultsError([Fault(str(self.folder), "", f"no {COURSE_FILE}", "the folder of a course")])
        return folder

    def banks(self) -> Banks:
        """The banks, read again where one of their files has changed. Raises FaultsError."""
        course = self.course()
        state = tuple((path, path.stat().st_mtime_ns, path.stat().st_size) for path in course.bank_files)
        with self._guard:
            if self._banks is None or self._banks[0] != state:
                self._banks = (state, course.banks())
            return self._banks[1]

    def start(self, title: JobTitle, about: str, place: str, work: Callable[..., Any], *given: Any) -> Job:
        """Begin long work in the course's folder: `work(*given, progress)`, in a process of its own.

        `title` says what it is, `about` by what it is found again, `place` is the page that shows it.
        """
        job = Job(secrets.token_hex(8), title, about, place, self.place(), datetime.now().astimezone())
        return self.jobs.start(job, _remembering, work, *given)

    def close(self) -> None:
        """Have all work given up, and forget what was dropped."""
        self.jobs.stop()
        self._stack.close()


def _remembering(work: Callable[..., Any], *given: Any) -> Any:
    """In the process of its own: what a command would remember of earlier runs, long work does too."""
    with keeping():
        return work(*given)
