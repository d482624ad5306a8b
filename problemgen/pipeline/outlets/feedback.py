"""The feedback: a page for the browser and a PDF for each student."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.blocks import Document
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.earlier import page_files
from problemgen.render.feedback import feedback_document
from problemgen.render.html import page
from problemgen.render.text import clean_text
from problemgen.render.typst import sheet_data
from problemgen.write.files import Staging
from problemgen.write.fonts import missing_glyphs, printable
from problemgen.write.pdf import Job, compile_all

__all__ = ["FeedbackChoices", "FeedbackPages"]

_CHUNK = 240
"""Students printed at a time: starting the processes costs little then, and memory stays flat."""


@dataclass(frozen=True)
class FeedbackChoices:
    """What feedback to write: PDF beside the pages or not; worked solutions or none, whatever the set says."""

    pdf: bool = True
    solutions: bool = True


_ALL = FeedbackChoices()


class FeedbackPages:
    """feedback/ID.html, and feedback/ID.pdf unless it is not wanted. Both are for their owner's eyes only.

    Those of a later attempt have its number behind the id: ID-2.html.
    """

    def __init__(
        self,
        staging: Staging,
        head: KeyHead,
        layouts: Mapping[str, str],
        choices: FeedbackChoices = _ALL,
    ) -> None:
        """`layouts` are the texts of the sheet and page layouts."""
        self._staging, self._head, self._layouts, self._choices = staging, head, layouts, choices
        self._waiting: list[tuple[StudentKey, StudentResult]] = []

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Take one student's result; a chunk of them is written together."""
        self._waiting.append((key, result))
        if len(self._waiting) >= _CHUNK:
            self._write()

    def close(self) -> None:
        """Write what is left."""
        self._write()

    def _write(self) -> None:
        if self._choices.pdf:
            for name, pdf in compile_all(self._jobs(), self._layouts):
                self._staging.write(name, pdf, private=True)
        else:
            for key, document in self._documents():
                self._write_page(key, document)
        self._waiting.clear()

    def _documents(self) -> Iterator[tuple[StudentKey, Document]]:
        solutions = self._choices.solutions and self._head.worked_solution
        for key, result in self._waiting:
            yield key, feedback_document(self._head, key, result, solutions=solutions)

    def _write_page(self, key: StudentKey, document: Document) -> None:
        name, _ = page_files(key.student, key.attempt)
        self._staging.write(name, page(document, self._layouts).encode(), private=True)

    def _jobs(self) -> Iterator[Job]:
        """What there is to print; the page of each student is written as the job is asked for."""
        for key, document in self._documents():
            self._write_page(key, document)
            _, name = page_files(key.student, key.attempt)
            yield Job(name, printable(sheet_data(_named(document, key))))


def _named(document: Document, key: StudentKey) -> Document:
    """The document under a name that can be printed: as on the sheets, the id where no font shows the name."""
    return replace(document, student=key.student) if missing_glyphs(clean_text(key.name)) else document
