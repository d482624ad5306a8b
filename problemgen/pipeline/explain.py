"""Telling why a student's parts were given their points, as text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from problemgen.grade.classes.overriding import overrule
from problemgen.grade.judging.meant import explain_meant
from problemgen.grade.judging.own_data import with_own_data
from problemgen.language.messages import speaking
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.people.responses import Responses
from problemgen.model.answers import KeyHead, StudentKey, TemplateKey
from problemgen.model.explanation import Explanation
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.answer_book import unknown
from problemgen.pipeline.built import open_built
from problemgen.pipeline.came_back import responses_to
from problemgen.pipeline.decisions import decisions_for, means_for
from problemgen.pipeline.set_rules import mark_by_set
from problemgen.render.feedback.explanation import explanation_blocks
from problemgen.render.feedback.points import told_more
from problemgen.render.printers.terminal import text_lines

__all__ = ["Explained", "ExplanationRequest", "explain", "explained"]


@dataclass(frozen=True)
class ExplanationRequest:
    """What to explain: a student's marking, of one part ("1a") or of all (""), with the instructor's decisions."""

    folder: Path
    responses: tuple[Path, ...]
    student: str
    part: str = ""
    overrides: Path | None = None
    attempt: int = 1
    means: Path | None = None  # what cells mean; means.csv of the folder where it is None
    set_folder: Path | None = None  # with the set.toml to mark by; where the set was built from where it is None


@dataclass(frozen=True)
class Explained:
    """A student's marking explained, part by part, with the instructor's decisions in it.

    `head` is in the language of the student's sheets. `notes` are what is to be known of the set and its rules.
    """

    head: KeyHead
    key: StudentKey
    result: StudentResult
    parts: tuple[Explanation, ...]
    notes: tuple[str, ...]

    def template_of(self, one: Explanation) -> TemplateKey:
        """The template of the problem that a part belongs to."""
        name = next(problem.template for problem in self.key.problems if problem.problem == one.result.problem)
        return self.head.templates[name]


def explained(request: ExplanationRequest) -> Explained:
    """A student's marking, explained; of one part, the others are left out.

    Raises:
        FaultsError: for answers.json, responses, decisions or meanings that cannot be read, or a student or part that
            is not in the set.
    """
    folder, student, part = request.folder, request.student, request.part
    built = open_built(folder)
    with built as answers:
        rules = mark_by_set(answers, folder, request.set_folder)
        known = {one.casefold(): one for one in answers.students}
        if student.casefold() not in known:
            raise unknown(folder / ANSWERS_FILE, "student", student, answers.students)
        attempts = answers.head.attempts.number
        if not 0 < request.attempt <= attempts:
            raise unknown(
                folder / ANSWERS_FILE, "attempt", str(request.attempt), [str(number + 1) for number in range(attempts)]
            )
        key = answers.student(known[student.casefold()], request.attempt)
        cells = _cells(responses_to(answers, folder, request.responses), key)
        means = means_for(folder, request.means, answers)
        parts = explain_meant(answers.head, key, cells, means)
        results = tuple(one.result for one in parts)
        marked = StudentResult(key.student, key.name, key.section, key.code, results, attempt=key.attempt)
        decided = overrule(marked, decisions_for(folder, request.overrides, answers))
        labels = [one.result.label for one in parts]
        if part and part.lower() not in labels:
            raise unknown(folder / ANSWERS_FILE, "part", part, labels)
        told = zip(parts, decided.parts, strict=True)
        return Explained(
            head=answers.head.in_language(key.language),
            key=with_own_data(answers.head, key, means.in_parts(cells)),
            result=decided,
            parts=tuple(replace(one, result=by) for one, by in told if part.lower() in ("", by.label)),
            notes=tuple(filter(None, (*rules.to_look_at, *rules.notes, built.doubt))),
        )


def explain(request: ExplanationRequest) -> Iterator[str]:
    """The lines that explain a student's marking. Raises what `explained` does."""
    found = explained(request)
    key = found.key
    title = ", ".join(filter(None, (found.head.title, found.head.attempts.told(key.attempt))))
    yield f"{key.name} ({key.student}), {title}; {', '.join(map(str, request.responses))}"
    yield from found.notes
    for one in found.parts:
        with speaking(found.head.language):
            lines = list(text_lines(explanation_blocks(found.template_of(one), one)))
        yield from lines
    for more in found.result.adjustments:
        about = f"problem {more.problem.removeprefix('p')}" if more.problem else "the whole sheet"
        yield f"Your decision about {about}: {told_more(more.points)}. {more.reason}"


def _cells(responses: Responses, key: StudentKey) -> Mapping[str, str]:
    mine = (cells for student, attempt, cells in responses if (student, attempt) == (key.student, key.attempt))
    return next(mine, {})
