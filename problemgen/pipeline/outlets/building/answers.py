"""answers.json: all that marking needs."""

from __future__ import annotations

from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.pipeline.making import Made
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.render.key.answers import AnswerLines

__all__ = ["AnswersFile"]


class AnswersFile(BuildingOutlet):
    """answers.json, written line by line."""

    files = (ANSWERS_FILE,)
    private = True

    def __init__(self, run: BuildingRun) -> None:
        """Open the file, and write what is common to all students."""
        self._lines = AnswerLines(run.making.secret)
        self._file = run.stack.enter_context(run.staging.stream(ANSWERS_FILE, private=True))
        columns = tuple(dict.fromkeys(name for student in run.students for name, _ in student.more))
        others = [one for language, one in run.sets.items() if language != run.problem_set.language]
        opening = self._lines.opening(run.problem_set, run.inputs, run.made_from, columns, run.making.issued, others)
        self._file.write(opening)

    def take(self, made: Made) -> tuple[()]:
        """Write one attempt's line; nothing of it is printed."""
        self._file.write(self._lines.student(made.student, made.code, made.variants, made.attempt))
        return ()

    def close(self) -> None:
        """Write the digest."""
        self._file.write(self._lines.closing())
