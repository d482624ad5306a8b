"""A student's feedback as a neutral document: numbers, answers, verdicts, the way, and nothing about anyone else."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace

from problemgen.language.messages import N_, _
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import (
    Block,
    Bullets,
    Document,
    Flagged,
    Heading,
    Judged,
    Line,
    Note,
    Paragraph,
    Prose,
    Strong,
)
from problemgen.model.lines import filled
from problemgen.model.verdict import OWN_DATA_REASONS, VERDICTS, PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.render.feedback.head import first_words, shared_remarks
from problemgen.render.feedback.points import earned_of, told_more
from problemgen.render.feedback.solution import SolvedProblem, solved_problem
from problemgen.render.feedback.sum import LATER, sum_words
from problemgen.render.sheet.own_data import read_blocks
from problemgen.render.words.given_words import notes_blocks, numbers_blocks
from problemgen.render.words.prompts import problem_heading

__all__ = ["feedback_document", "short_feedback"]

_COUNTS = {
    "last": N_("The last attempt that you hand in counts."),
    "best": N_("The attempt with the most points counts."),
    "mean": N_("The mean of the attempts that you hand in counts."),
}
_LONGEST = 200
"""Letters of what was written that are shown: an answer is shorter."""
_WITHOUT_MARK = {True: N_("None of it counts."), False: N_("Nothing was handed in.")}
_CUT_SHORT = N_("More could not be told here: ask your instructor.")
_NOT_A_PROCEDURE = N_(
    "These exercises are calculations, not procedures: in the laboratory your instructor, the local rules and the "
    "safety data sheets decide."
)


def feedback_document(
    head: KeyHead, key: StudentKey, result: StudentResult, *, solutions: bool = True, left_out: Sequence[str] = ()
) -> Document:
    """The feedback of one student; with the worked solution where `solutions` is true.

    `left_out` are the numbers of the problems that do not count, being the lowest.
    """
    blocks: list[Block] = []
    shared = shared_remarks(result)
    for problem in key.problems:
        template = head.templates[problem.template]
        mine = [part for part in result.parts if part.problem == problem.problem]
        solved = solved_problem(template, problem, head.method)
        earned = earned_of(result.points_of(problem.problem), result.of_problem(problem.problem))
        blocks.extend(_numbers_blocks(template, problem))
        blocks.append(Heading(3, _("Your answers: {earned}").format(earned=earned)))
        judged = _judged_parts(template, [_without(one, shared) for one in mine], solved, solutions=solutions)
        if solutions and solved is not None and not all(one.brief for one in judged):
            blocks.extend(solved.opening)
        blocks.extend(judged)
        blocks.extend(_adjusted(result, problem.problem))
    return _document(head, key, result, blocks, left_out)


def short_feedback(head: KeyHead, key: StudentKey, result: StudentResult, *, left_out: Sequence[str] = ()) -> Document:
    """What a student is told where the whole feedback cannot be worked out: the points of each part."""
    points = ((Prose(f"{part.label}: {earned_of(part.points, part.of)}"),) for part in result.parts)
    return _document(head, key, result, [Bullets(tuple(points)), Note((Prose(_(_CUT_SHORT)),))], left_out)


def _document(
    head: KeyHead, key: StudentKey, result: StudentResult, about: Iterable[Block], left_out: Sequence[str]
) -> Document:
    earned = filled(_("You earned {points}."), points=(Strong(earned_of(result.points, result.of)),))
    blocks: list[Block] = [Paragraph(earned if result.has_mark else (Strong(_(_WITHOUT_MARK[result.handed_in])),))]
    blocks += sum_words(result, left_out)
    if head.attempts.several and head.gradebook.drop_lowest:
        blocks.append(Paragraph((Prose(_(LATER)),)))
    blocks += first_words(result, {one.problem: head.templates[one.template] for one in key.problems})
    shared = shared_remarks(result)
    if shared:
        blocks.append(Bullets(tuple((Prose(f"{', '.join(parts)}: {said}"),) for said, parts in shared.items())))
    told = head.attempts.told(key.attempt)
    if told:
        blocks.append(
            Paragraph((Prose(f"{_('This is {attempt}.').format(attempt=told)} {_(_COUNTS[head.attempts.counts])}"),))
        )
    blocks += [*about, Note((Prose(_(_NOT_A_PROCEDURE)),))]
    return Document(
        title=", ".join(filter(None, (_("{title}: feedback").format(title=head.title), told))),
        course=head.course,
        student=key.name,
        code=key.code,
        paper=head.paper,
        language=head.language,
        blocks=tuple(blocks),
    )


def _adjusted(result: StudentResult, problem: str) -> list[Block]:
    """What the instructor gave or took beside the parts of a problem."""
    decision = _("Your instructor's decision: {points}.")
    told = (
        f"{decision.format(points=told_more(one.points))} {one.reason}"
        for one in result.adjustments
        if one.problem == problem
    )
    return [Paragraph((Prose(text),)) for text in told]


def _numbers_blocks(template: TemplateKey, problem: ProblemKey) -> Iterable[Block]:
    """A problem's title and its numbers."""
    yield Heading(2, problem_heading(problem.problem, template.title))
    mine = {one.key.value.quantity.id for one in problem.own}
    printed = {name: datum for name, datum in problem.given.items() if name not in mine}
    yield from numbers_blocks(template.scene.species, template.told, printed)
    yield from read_blocks(problem.own)
    yield from notes_blocks(template.scene, template.plan)


def _without(result: PartResult, shared: Collection[str]) -> PartResult:
    """A part without the remarks that were made once for several parts."""
    return replace(result, remarks=tuple(remark for remark in result.remarks if remark not in shared))


def _judged_parts(
    template: TemplateKey, results: Sequence[PartResult], solved: SolvedProblem | None, *, solutions: bool
) -> list[Judged]:
    """The parts of a problem as they were marked, each with its working where there is one to be shown."""
    parts = {part.id: part for part in template.parts}
    working = solved.working(results) if solutions and solved is not None else {}
    return [
        _judged(parts[one.part], one, solved.looked_at(one) if solved else (), working.get(one.part, ()))
        for one in results
    ]


def _judged(part: PartKey, result: PartResult, looked_at: Line, working: tuple[Block, ...]) -> Judged:
    sign, words = VERDICTS[result.verdict].sign, _(VERDICTS[result.verdict].words)
    if result.reason in OWN_DATA_REASONS:
        sign, words = "?", _("Not marked")
    said = [text for text in (_sentence(result, words), *result.remarks) if text]
    lines: list[Line] = [(Prose(text),) for text in dict.fromkeys(said)]
    if looked_at:
        lines.insert(1, looked_at)
    return Judged(
        label=result.label,
        prompt=part.prompt,
        points=_("not counted") if result.dropped else earned_of(result.points, result.of),
        sign=sign,
        verdict=words,
        wrote=_wrote(part, result),
        sentences=tuple(lines),
        working=working,
        brief=_needs_no_look(result) and not any(isinstance(block, Flagged) for block in working),
    )


def _needs_no_look(result: PartResult) -> bool:
    """Whether a part is right, with all its points."""
    return result.verdict == "right" and result.points >= result.of and not result.dropped


def _sentence(result: PartResult, words: str) -> str:
    """The verdict's sentence, without what its words say already."""
    if result.verdict == "right":
        return ""
    rest = result.sentence.removeprefix(f"{words}.").strip()
    return rest[:1].upper() + rest[1:]


def _wrote(part: PartKey, result: PartResult) -> Line:
    """What was written; and what was read, where that is not the same text."""
    wrote = result.wrote.strip()
    if not wrote:
        return ()
    shown: Line = (Strong(wrote if len(wrote) <= _LONGEST else f"{wrote[:_LONGEST]}…"),)
    if not result.read or result.read.split() == wrote.split():
        return filled(_("You wrote {wrote}."), wrote=shown)
    return filled(_("You wrote {wrote}, read as {read}."), wrote=shown, read=form_of(part.asked).read_as(result.read))
