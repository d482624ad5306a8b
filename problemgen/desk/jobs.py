"""Long work: one after the other, each in a process of its own; what became of it is kept until the desk stops."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any, Literal, TypeAlias

from problemgen.errors import OutputError, ProblemgenError
from problemgen.language.messages import N_, _
from problemgen.write.background import Background

__all__ = ["Job", "JobState", "JobTitle", "Jobs"]

JobState: TypeAlias = Literal["waiting", "working", "done", "refused", "cancelled"]

_DOING = {
    "": N_("Getting ready"),
    "making": N_("Making problems"),
    "printing": N_("Printing sheets"),
    "binding": N_("Binding the files"),
    "reading": N_("Reading answers"),
    "reading pages": N_("Reading pages"),
    "marking": N_("Marking"),
    "checking": N_("Checking"),
}
"""What a run tells that it does (`Progress`), in words."""

_BECAME = {
    "waiting": N_("waiting"),
    "done": N_("done"),
    "refused": N_("refused; nothing was written"),
    "cancelled": N_("cancelled; nothing was written"),
}


@dataclass(frozen=True)
class JobTitle:
    """What a piece of work is called, said in the language of who looks at it: a message that may name something."""

    message: str
    of: str = ""

    def __str__(self) -> str:
        """It in the language spoken."""
        return _(self.message).format(title=self.of)


@dataclass(frozen=True)
class Job:
    """One piece of work as it is now: its `title` says what, `about` by what it is found, `place` is the page of it.

    `doing`, `finished` and `total` are of its present stage. In the end it has a `result`, or an `error`.
    """

    id: str
    title: JobTitle
    about: str
    place: str
    folder: Path
    began: datetime
    state: JobState = "waiting"
    doing: str = ""
    finished: int = 0
    total: int = 0
    result: Any = None
    error: ProblemgenError | None = None

    @property
    def is_open(self) -> bool:
        """Whether it is waiting or at work."""
        return self.state in ("waiting", "working")

    @property
    def words(self) -> str:
        """What it does just now, or what became of it."""
        return _(_BECAME.get(self.state, "") or _DOING.get(self.doing, self.doing))


class Jobs:
    """All work of this desk. `version` grows with every change."""

    def __init__(self) -> None:
        """Begin with none."""
        self._jobs: dict[str, Job] = {}
        self._running: dict[str, Background] = {}
        self._threads: dict[str, threading.Thread] = {}
        self._guard = threading.RLock()
        self._turn = threading.Lock()
        self.version = 0

    def start(self, job: Job, work: Callable[..., Any], *given: Any) -> Job:
        """Begin a piece of work, or have it wait for its turn: `work` is called with what is given and `progress`.

        Where the same is at work already, as where a button was pressed twice, that is given back.
        """
        with self._guard:
            before = self.about(job.about)
            if before is not None and before.is_open:
                return before
            self._jobs[job.id] = job
            self.version += 1
            thread = threading.Thread(target=self._run, args=(job, work, given), daemon=True)
            self._threads[job.id] = thread
            thread.start()
        return job

    def get(self, job_id: str) -> Job | None:
        """A piece of work by its id."""
        return self._jobs.get(job_id)

    def about(self, about: str) -> Job | None:
        """The last piece of work about something."""
        with self._guard:
            return next((one for one in reversed(self._jobs.values()) if one.about == about), None)

    @property
    def open(self) -> tuple[Job, ...]:
        """What is waiting or at work."""
        with self._guard:
            return tuple(job for job in self._jobs.values() if job.is_open)

    def cancel(self, job_id: str) -> None:
        """Have a piece of work given up; what it would have written is not."""
        with self._guard:
            job, running = self._jobs.get(job_id), self._running.get(job_id)
            if job is not None and job.state == "waiting":
                self._change(job_id, state="cancelled")
            if running is not None:
                running.cancel()

    def forget(self, about: str) -> None:
        """Show no more what became of work that has ended."""
        with self._guard:
            ended = [one.id for one in self._jobs.values() if one.about == about and not one.is_open]
            for job_id in ended:
                del self._jobs[job_id]
            self.version += bool(ended)

    def stop(self) -> None:
        """Have all given up, and wait for it."""
        for job in self.open:
            self.cancel(job.id)
        for thread in tuple(self._threads.values()):
            thread.join(10)

    def _run(self, job: Job, work: Callable[..., Any], given: tuple[Any, ...]) -> None:
        with self._turn:
            try:
                with self._guard:
                    if self._jobs[job.id].state == "cancelled":
                        return
                    running = self._running[job.id] = Background(job.folder, work, *given)
                    self._change(job.id, state="working")
                for kind, what in running.messages():
                    self._hear(job.id, kind, what)
            finally:
                with self._guard:
                    self._running.pop(job.id, None)
                    if self._jobs[job.id].is_open:  # no process could be started
                        self._change(job.id, state="refused", error=OutputError(_("the work could not be started")))

    def _hear(self, job_id: str, kind: str, what: Any) -> None:
        if kind == "progress":
            doing, finished, total = what
            self._change(job_id, doing=doing, finished=finished, total=total)
        elif kind == "done":
            self._change(job_id, state="done", result=what)
        elif kind == "refused":
            self._change(job_id, state="refused", error=what)
        else:
            self._change(job_id, state="cancelled")

    def _change(self, job_id: str, **changes: Any) -> None:
        with self._guard:
            self._jobs[job_id] = replace(self._jobs[job_id], **changes)
            self.version += 1
