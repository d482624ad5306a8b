"""The feedback: a page for the browser and a PDF for each student."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from problemgen.grade.classes.lowest import lowest_of
from problemgen.grade.judging.apart import apart
from problemgen.language.messages import speaking
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.blocks import Document
from problemgen.model.from_secret import unguessable
from problemgen.model.total import total_of
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices, MarkingOutlet
from problemgen.pipeline.outlets.marking.unjudged import who
from problemgen.render.feedback.feedback import feedback_document, short_feedback
from problemgen.render.printers.html import page
from problemgen.render.printers.typst import document_data, sheet_data
from problemgen.render.words.text import clean_text
from problemgen.write.files import Staging
from problemgen.write.fonts import missing_glyphs, printable
from problemgen.write.pdf import Job, compile_all

__all__ = ["FeedbackPages"]

_CHUNK = 240
"""Students printed at a time: starting the processes costs little then, and memory stays flat."""


_ALL = FeedbackChoices()


class FeedbackPages(MarkingOutlet):
    """feedback/ID.html, and feedback/ID.pdf unless it is not wanted. Both are for their owner's eyes only.

    Those of a later attempt have its number behind the id: ID-2.html. With unguessable names, a word that follows from
    the set's secret stands in the place of the id: the same one when the set is marked again.
    """

    files = ("feedback/",)

    def __init__(
        self,
        staging: Staging,
        head: KeyHead,
        layouts: Mapping[str, str],
        choices: FeedbackChoices = _ALL,
        secret: bytes | None = None,
        workers: int = 2,
    ) -> None:
        """`layouts` are the texts of the sheet and page layouts; `secret` is the set's, where it is at hand.

        `workers` processes print.
        """
        self._secret, self._workers = secret, workers
        self._staging, self._head, self._layouts, self._choices = staging, head, layouts, choices
        self._waiting: list[tuple[StudentKey, StudentResult]] = []
        self._cut_short: list[str] = []

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """Page and PDF of each attempt, whether PDF is wanted or not, under either kind of name."""
        stems = [file_stem(*entry) for entry in entries]
        if self._secret is not None:
            stems += [unguessable(self._secret, self._head.set_id, *map(str, entry)) for entry in entries]
        return [name for stem in stems for name in _page_files(stem)]

    def written_for(self, student: str, attempt: int) -> tuple[str, ...]:
        """The files of one attempt: the page, and the PDF where it is wanted."""
        stem = file_stem(student, attempt)
        if self._choices.unguessable and self._secret is not None:
            stem = unguessable(self._secret, self._head.set_id, student, str(attempt))
        return _page_files(stem) if self._choices.pdf else _page_files(stem)[:1]

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Take one student's result; a chunk of them is written together."""
        self._waiting.append((key, result))
        if len(self._waiting) >= _CHUNK:
            self._write()

    def close(self) -> None:
        """Write what is left."""
        self._write()

    def remarks(self) -> Iterator[str]:
        """Whose feedback tells the points alone, since the page could not be worked out."""
        yield from (f"{student}: the feedback tells the points alone: look at it" for student in self._cut_short)

    def _write(self) -> None:
        if self._choices.pdf:
            expected = len(self._waiting)
            for name, pdf in compile_all(self._jobs(), self._layouts, self._workers, expected=expected):
                self._staging.write(name, pdf, private=True)
        else:
            for key, document in self._documents():
                self._write_page(key, document, document_data(document))
        self._waiting.clear()

    def _documents(self) -> Iterator[tuple[StudentKey, Document]]:
        solutions = self._choices.solutions and self._head.worked_solution
        for key, result in self._waiting:
            head, gone = self._head.in_language(key.language), self._left_out(result)
            whole = partial(feedback_document, head, key, result, solutions=solutions, left_out=gone)
            with speaking(head.language):
                document = apart(whole, partial(self._short, head, key, result, gone))
            yield key, document

    def _short(self, head: KeyHead, key: StudentKey, result: StudentResult, gone: tuple[str, ...]) -> Document:
        self._cut_short.append(who(key, head.attempts))
        return short_feedback(head, key, result, left_out=gone)

    def _left_out(self, result: StudentResult) -> tuple[str, ...]:
        """The problems that the gradebook leaves out; of several attempts it is not known before the last."""
        if self._head.attempts.several:
            return ()
        return lowest_of(total_of(result, {}), self._head.gradebook.drop_lowest)

    def _write_page(self, key: StudentKey, document: Document, shaped: Mapping[str, Any]) -> None:
        name = self.written_for(key.student, key.attempt)[0]
        self._staging.write(name, page(document, self._layouts, shaped).encode(), private=True)

    def _jobs(self) -> Iterator[Job]:
        """What there is to print; the page of each student is written as the job is asked for."""
        for key, document in self._documents():
            shaped = document_data(document)
            self._write_page(key, document, shaped)
            name, named = self.written_for(key.student, key.attempt)[1], _named(document, key)
            yield Job(name, printable(sheet_data(named, shaped if named is document else None)))


def _page_files(stem: str) -> tuple[str, str]:
    return f"feedback/{stem}.html", f"feedback/{stem}.pdf"


def _named(document: Document, key: StudentKey) -> Document:
    """The document under a name that can be printed: as on the sheets, the id where no font shows the name."""
    return replace(document, student=key.student) if missing_glyphs(clean_text(key.name)) else document
