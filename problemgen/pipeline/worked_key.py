"""The worked key of one student of a built set, written when it is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from problemgen.grade.judging.own_data import with_own_data
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.resources import layouts
from problemgen.pipeline.answer_book import student_key
from problemgen.pipeline.built import open_built
from problemgen.pipeline.came_back import responses_to
from problemgen.pipeline.earlier import file_stem
from problemgen.pipeline.single_file import check_single_file
from problemgen.render.key.worked_key import worked_key_document
from problemgen.render.printers.typst import sheet_data
from problemgen.write.files import Staging
from problemgen.write.fonts import missing_glyphs
from problemgen.write.pdf import Job, compile_all

__all__ = ["WorkedKeyRequest", "write_worked_key"]


@dataclass(frozen=True)
class WorkedKeyRequest:
    """Whose key: the folder of the built set, the student's id, the attempt; where to write it (default: the folder).

    `responses` have the values that the student has measured, in a set that asks for such.
    """

    folder: Path
    student: str
    attempt: int = 1
    responses: Path | None = None
    out: Path | None = None
    replace: bool = False


def write_worked_key(request: WorkedKeyRequest) -> tuple[Path, str]:
    """Write worked-key-ID.pdf, for the owner alone; gives where it is, and why the answers may not be as built, or "".

    Raises:
        FaultsError: for answers.json or responses that cannot be read, or a student or attempt that is not in the set.
        OutputError: for a file that cannot be written, or is there already.
    """
    path = request.folder / ANSWERS_FILE
    built = open_built(request.folder)
    with built as answers:
        head, key = answers.head, student_key(answers, path, request.student, request.attempt)
        if request.responses is not None:
            rows = responses_to(answers, request.folder, [request.responses])
            mine = (cells for student, attempt, cells in rows if (student, attempt) == (key.student, key.attempt))
            key = with_own_data(head, key, next(mine, {}))
    name = key.student if missing_glyphs(key.name) else key.name
    with speaking(head.language):
        document = worked_key_document(head, key, name)
    file = request.out or request.folder / f"worked-key-{file_stem(key.student, key.attempt)}.pdf"
    check_single_file(file)
    with Staging(file.resolve().parent, only=file.name, replace=request.replace) as staging:
        staging.expect([file.name])
        for _, pdf in compile_all([Job(file.name, sheet_data(document))], layouts()):
            staging.write(file.name, pdf, private=True)
    return file, built.doubt
