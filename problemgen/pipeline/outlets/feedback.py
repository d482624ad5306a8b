"""The feedback pages, one a student."""

from __future__ import annotations

from collections.abc import Mapping

from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.render.feedback import feedback_document
from problemgen.render.html import page
from problemgen.write.files import Staging

__all__ = ["FeedbackPages"]


class FeedbackPages:
    """feedback/ID.html."""

    def __init__(self, staging: Staging, head: KeyHead, layouts: Mapping[str, str]) -> None:
        """`layouts` are the texts of the page layouts."""
        self._staging, self._head, self._layouts = staging, head, layouts

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Write one student's page."""
        document = feedback_document(self._head, key, result)
        self._staging.write(f"feedback/{key.student}.html", page(document, self._layouts).encode(), private=True)

    def close(self) -> None:
        """Nothing is left to write."""
