"""The report on the class, for the instructor."""

from __future__ import annotations

from collections.abc import Mapping

from problemgen.grade.classes.record import ClassRecord
from problemgen.grade.classes.report import class_statistics
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet
from problemgen.render.classes.report import class_report
from problemgen.write.files import Staging

__all__ = ["REPORT_FILE", "ClassReport"]

REPORT_FILE = "class-report.html"


class ClassReport(MarkingOutlet):
    """class-report.html: for the instructor alone."""

    files = (REPORT_FILE,)

    def __init__(self, staging: Staging, head: KeyHead, layouts: Mapping[str, str]) -> None:
        """`layouts` are the texts of the layout folder, by file name."""
        self._staging, self._head, self._layouts = staging, head, layouts
        self._record = ClassRecord(head)

    def take(self, key: StudentKey, result: StudentResult) -> None:
        """Keep one student's result: of several attempts the first, so that all are compared before they practised."""
        if result.first:
            self._record.take(key, result)

    def close(self) -> None:
        """Work the statistics, draw the charts, and write the page."""
        page = class_report(self._head, class_statistics(self._record), self._layouts)
        self._staging.write(REPORT_FILE, page.encode(), private=True)
