"""A class as it would be marked now, looked over: nothing is written, and what is written is compared with it."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from problemgen.grade.classes.doubtful import DoubtfulCells
from problemgen.grade.classes.strips import Strip, strips
from problemgen.language.messages import speaking
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.mark import ClassResults, MarkingRequest, class_results
from problemgen.pipeline.outlets.marking.gradebook import Gradebook
from problemgen.pipeline.outlets.marking.tables import GRADEBOOK_FILE, GRADES_FILE, GradebookTable, GradesTable
from problemgen.render.classes.grades import gradebook_columns
from problemgen.scratch import scratch
from problemgen.write.files import Staging

__all__ = ["Overview", "overview"]


@dataclass(frozen=True)
class Overview:
    """A class as it is marked. `tables` are those that a marking would write of it, by their names."""

    marked: ClassResults
    strips: tuple[Strip, ...]
    cells: DoubtfulCells
    tables: Mapping[str, bytes]

    @cached_property
    def by_entry(self) -> Mapping[tuple[str, int], StudentResult]:
        """The result of each attempt, by the student's id and its number."""
        return {(result.student, result.attempt): result for _, result in self.marked.results}

    @property
    def came(self) -> int:
        """How many students have handed in."""
        return len({result.student for _, result in self.marked.results if result.handed_in})

    @property
    def students(self) -> int:
        """How many there are."""
        return len({result.student for _, result in self.marked.results})

    def is_written(self, folder: Path) -> bool:
        """Whether the tables in a folder say the same; False too where there are none.

        Raises OSError for one that cannot be read.
        """
        return all(_content(folder / name) == content for name, content in self.tables.items())


def overview(request: MarkingRequest) -> Overview:
    """Mark a class as `mark_set` does, and look it over. Raises what that does, of faults in what is read."""
    marked = class_results(request)
    cells = DoubtfulCells()
    for key, result in marked.results:
        cells.take(key, result)
    return Overview(marked, strips(marked.head, marked.results), cells, _tables(marked))


def _tables(marked: ClassResults) -> Mapping[str, bytes]:
    """The tables of a marking, written where nobody looks."""
    head = marked.head
    columns = gradebook_columns(head.columns, head.roster_columns, head.gradebook)
    with scratch() as place:
        folder = place / "grades"
        with Staging(folder) as staging, ExitStack() as stack, speaking(head.language):
            books = (GradebookTable(stack, staging, columns),)
            outlets = (GradesTable(stack, staging), Gradebook(head.attempts, head.gradebook.drop_lowest, books))
            for key, result in marked.results:
                for outlet in outlets:
                    outlet.take(key, result)
            for outlet in outlets:
                outlet.close()
        return {name: (folder / name).read_bytes() for name in (GRADES_FILE, GRADEBOOK_FILE)}


def _content(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None
