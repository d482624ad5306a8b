"""What a marking writes, in the order in which it is listed."""

from __future__ import annotations

from problemgen.pipeline.outlets.marking.class_report import ClassReport
from problemgen.pipeline.outlets.marking.feedback import FeedbackPages
from problemgen.pipeline.outlets.marking.gradebook import Gradebook
from problemgen.pipeline.outlets.marking.look_into import LookInto
from problemgen.pipeline.outlets.marking.mail_merge import MailMerge
from problemgen.pipeline.outlets.marking.outlet import MarkingOutlet, MarkingRun
from problemgen.pipeline.outlets.marking.own_data import OwnDataTable
from problemgen.pipeline.outlets.marking.sections import SectionsTable
from problemgen.pipeline.outlets.marking.tables import GradebookTable, GradesTable
from problemgen.pipeline.outlets.marking.unjudged import OpenParts
from problemgen.pipeline.outlets.marking.unread import UnreadCells
from problemgen.pipeline.outlets.marking.workbook import GradebookWorkbook
from problemgen.render.classes.grades import gradebook_columns, problem_numbers

__all__ = ["marking_outlets"]


def marking_outlets(run: MarkingRun) -> tuple[MarkingOutlet, ...]:
    """All that a marking writes; a new thing is one more class in this list."""
    staging, stack, head = run.staging, run.stack, run.head
    columns = gradebook_columns(head.columns, head.roster_columns, head.gradebook)
    problems = problem_numbers(head.columns)
    books = (
        GradebookTable(stack, staging, columns),
        GradebookWorkbook(staging, columns),
        SectionsTable(staging, problems),
    )
    pages = FeedbackPages(staging, head, run.layouts, run.feedback, run.secret, run.workers)
    return (
        GradesTable(stack, staging),
        Gradebook(head.attempts, head.gradebook.drop_lowest, books),
        *([OwnDataTable(staging)] if head.own else []),
        UnreadCells(staging),
        LookInto(staging, head.templates),
        ClassReport(staging, head, run.layouts),
        pages,
        *([MailMerge(run, pages)] if run.feedback.unguessable or run.came_as else []),
        OpenParts(head.attempts),
    )
