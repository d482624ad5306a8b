"""The students' workbooks, to be filled in with a spreadsheet program."""

from __future__ import annotations

from collections.abc import Sequence

from problemgen.language.languages import direction
from problemgen.language.messages import _, speaking
from problemgen.load.returns.workbooks import contents_of
from problemgen.load.tables.record import Record
from problemgen.load.tables.shown_number import shown_number
from problemgen.model.handed_out import BookRow
from problemgen.pipeline.earlier import Entry, file_stem
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.choice import Choice
from problemgen.pipeline.outlets.building.fill_in import stamp_of
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.sheet.workbook import workbook_rows
from problemgen.write.answer_workbook import answer_workbook, number_format

__all__ = ["Workbooks"]


class Workbooks(BuildingOutlet):
    """workbooks/ID.xlsx, and workbooks/ID-2.xlsx for a second attempt; of one session alone workbooks-session-2/."""

    def __init__(self, run: BuildingRun) -> None:
        """The folder is that of the session that is wanted."""
        self._run = run
        self._folder = Choice(run.wanted.session).file_name("workbooks")
        self.files = (f"{self._folder}/",)

    def names(self, entries: Sequence[Entry]) -> list[str]:
        """One for each attempt of a student whose sheets are wanted."""
        return [self._file(*entry) for entry in entries if self._run.prints(entry[0])]

    def take(self, made: Made) -> tuple[()]:
        """Write the workbook of one attempt; nothing of it is printed."""
        run = self._run
        if run.wanted.holds(made.student):
            problem_set, variants = run.spoken(made)
            sessions = [one.session for one in problem_set.sheets if one.session == (run.wanted.session or one.session)]
            told = problem_set.attempts.told(made.attempt)
            by_code = problem_set.printing.head == "code"
            with speaking(problem_set.language):
                title = ", ".join(filter(None, (problem_set.title, told)))
                who = made.code if by_code else ", ".join(filter(None, (made.student.id, made.name)))
                head = BookRow(f"{title}: {who}", about=f"{_('Sheet')} {made.code}", is_heading=True)
                rows = (head, *workbook_rows(variants, sessions))
            stamp = stamp_of(run, "workbook", made.code, contents_of(list(map(_record, rows))))
            rtl = direction(problem_set.language) == "rtl"
            book = answer_workbook(title, made.code, rows, stamp, right_to_left=rtl)
            run.staging.write(self._file(made.student.id, made.attempt), book)
        return ()

    def _file(self, student: str, attempt: int) -> str:
        return f"{self._folder}/{file_stem(student, attempt)}.xlsx"


def _record(row: BookRow) -> Record:
    """A row as it is read when the workbook comes back."""
    name = row.field.name if row.field is not None else ""
    shown = number_format(row.number)
    number = shown_number(float(row.number), shown) if shown else row.number
    return Record(0, (name, row.words, number, row.unit, row.about))
