"""The table of responses, ready to be filled in."""

from __future__ import annotations

from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.answers import response_columns
from problemgen.render.grades import blank_responses
from problemgen.write.spreadsheet import CsvLines

__all__ = ["ResponseTable"]


class ResponseTable(BuildingOutlet):
    """responses.csv: a row for each attempt of a student, a column for each part."""

    files = ("responses.csv",)

    def __init__(self, run: BuildingRun) -> None:
        """The set tells its columns, the roster its rows."""
        self._run = run
        self._codes: dict[tuple[str, int], str] = {}

    def take(self, made: Made) -> tuple[()]:
        """Keep the code on one attempt's sheet; nothing of it is printed."""
        self._codes[made.student.id, made.attempt] = made.code
        return ()

    def close(self) -> None:
        """Write the file."""
        csv, run = CsvLines(), self._run
        rows = blank_responses(run.students, self._codes, response_columns(run.problem_set), len(run.attempts))
        run.staging.write("responses.csv", b"".join(csv.line(row) for row in rows))
