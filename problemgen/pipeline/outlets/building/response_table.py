"""The table of responses, ready to be filled in; one that is filled in already keeps what was typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.load.people.responses import RESPONSES_FILE
from problemgen.load.people.typed_responses import typed_responses
from problemgen.load.people.whose_rows import about_columns
from problemgen.model.cells import guarded
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.classes.grades import blank_responses
from problemgen.render.key.answers import response_columns
from problemgen.write.spreadsheet import CsvLines, plain_lines

__all__ = ["ResponseTable"]

_BESIDE = "responses-blank.csv"
"""Where a blank table is written when the one that is there cannot be read."""


class ResponseTable(BuildingOutlet):
    """responses.csv: a row for each attempt of a student, a column for each part."""

    files = (RESPONSES_FILE,)

    def __init__(self, run: BuildingRun) -> None:
        """The set tells its columns, the roster its rows."""
        self._run = run
        self._notes: list[str] = []
        self._codes: dict[tuple[str, int], str] = {}

    def take(self, made: Made) -> tuple[()]:
        """Keep the code on one attempt's sheet; nothing of it is printed."""
        self._codes[made.student.id, made.attempt] = made.code
        return ()

    def close(self) -> None:
        """Write the file: what was typed into it stays, and what it lacks is added."""
        run, columns = self._run, response_columns(self._run.problem_set)
        blank = list(blank_responses(run.students, self._codes, columns, len(run.attempts)))
        path = run.staging.folder / RESPONSES_FILE
        if not path.is_file():
            run.staging.write(RESPONSES_FILE, _text(blank))
            return
        before = path.read_bytes()
        try:
            typed = typed_responses(path, about_columns(len(run.attempts)))
        except ValueError as error:
            run.staging.write(RESPONSES_FILE, before)
            run.staging.write(_BESIDE, _text(blank))
            self._notes.append(f"{RESPONSES_FILE} is {error}; it was left as it is, and {_BESIDE} written beside it.")
            return
        if typed is None:
            run.staging.write(RESPONSES_FILE, _text(blank))
            return
        typed.complete([[guarded(cell) for cell in row] for row in blank])
        run.staging.write(RESPONSES_FILE, plain_lines(typed.rows) if typed.is_changed else before)
        added = ", and what it lacked was added" if typed.is_changed else ""
        self._notes.append(f"{RESPONSES_FILE} holds answers: they were kept{added}.")

    def notes(self) -> Iterator[str]:
        """What became of a table that was there."""
        yield from self._notes


def _text(rows: Sequence[Sequence[str]]) -> bytes:
    csv = CsvLines()
    return b"".join(csv.line(row) for row in rows)
