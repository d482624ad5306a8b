"""Marking a small class without printing."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices

__all__ = ["PAGES_ONLY", "mark_small", "write_cells"]

PAGES_ONLY = FeedbackChoices(pdf=False, solutions=False)


def write_cells(path: Path, cells: Mapping[str, Mapping[str, str]]) -> Path:
    """A table of responses: a row a student, a column for each part that anybody answered."""
    columns = sorted({column for row in cells.values() for column in row})
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(["id", *columns])
    writer.writerows([student, *(row.get(column, "") for column in columns)] for student, row in cells.items())
    path.write_text(text.getvalue(), encoding="utf-8")
    return path


def mark_small(built: Path, responses: Path, out: Path) -> Path:
    """The folder of a marking whose feedback is pages alone."""
    mark_set(MarkingRequest(built, (responses,), out, feedback=PAGES_ONLY), lambda *_: None)
    return out
