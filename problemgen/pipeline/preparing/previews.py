"""A template seen before it is used: a student's sheet in pictures, the key, and what its numbers can show."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from problemgen.errors import Fault, NoRoomError, OutputError
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import layouts
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.banks import Banks
from problemgen.model.policy import Policy
from problemgen.model.preview import LimitsShown, MistakeShown, Preview
from problemgen.model.problem_set import Method, Paper, ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Template, label_of
from problemgen.model.variant import Variant
from problemgen.pipeline.preparing.amounts import amounts_of
from problemgen.pipeline.template_trial import TemplateTrial, tried
from problemgen.render.key.variant_key import answer_row, answers_table, variant_solution
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import problem_blocks, sheet_document
from problemgen.render.words.prompts import short_prompt_of
from problemgen.write.pdf import Job, Press

__all__ = ["Look", "Previewer"]

_DOTS = 132.0
"""Dots an inch of a page's picture: A4 is 1090 across, about two for each of the screen's where half of it is the page.

At twice as many a page takes three times as long to draw, and nobody sees a difference.
"""

_PURPOSE = "preview"
"""What the draws are for: a preview's numbers never coincide with a graded variant's by name."""


@dataclass(frozen=True)
class Look:
    """How a template is looked at: whose numbers, on which paper, in which language and way of teaching.

    `sheets` are the titles of the sheets by session; `draw` names the student: another one has other numbers.
    """

    sheets: tuple[Sheet, ...]
    draw: str = "1"
    course: str = ""
    paper: Paper = "a4"
    language: str = "en"
    method: Method = "product"


class Previewer:
    """Makes previews; the compiler of pages is kept warm between them, and makes one after the other."""

    def __init__(self) -> None:
        """Start cold."""
        self._guard = threading.Lock()
        self._press: Press | None = None

    def preview(self, path: Path, template_id: str, banks: Banks, look: Look) -> Preview:
        """The template at `path` as it would be handed out.

        Raises:
            FaultsError: for a file that is no template; what a check would find beyond that is in the preview.
        """
        template = load_template(path, template_id, banks)
        faults = FaultLog(str(path))
        check_drawn(faults, template)
        if faults.faults:
            return Preview(template, faults.faults, ())
        trial = tried(template, path)
        try:
            variant = _variant(template, trial, look)
        except NoRoomError as error:
            told = trial.faults or (Fault(str(path), "given", str(error), "room for a class"),)
            return _without_numbers(template, trial, told)
        return self._with_numbers(variant, trial, look)

    def _with_numbers(self, variant: Variant, trial: TemplateTrial, look: Look) -> Preview:
        template = variant.template
        sessions = sorted({part.session for part in template.parts})
        pages: tuple[bytes, ...] = ()
        broken: tuple[Fault, ...] = ()
        try:
            pages = self._pages(variant, look, sessions)
        except OutputError as error:
            broken = (Fault(template.id, "", str(error), "a sheet that can be laid out"),)
        rows = (
            answer_row(
                label_of(place), short_prompt_of(template, part), template.scene, part.asked, truth, part.points.text
            )
            for place, (part, truth) in enumerate(zip(template.parts, variant.answers, strict=True))
        )
        return Preview(
            template=template,
            faults=(*trial.faults, *broken),
            remarks=trial.remarks,
            kept=trial.kept,
            pages=pages,
            told=tuple(block for session in sessions for block in problem_blocks(variant, session)),
            answers=(answers_table(rows),),
            working=tuple(variant_solution(variant, look.method)),
            mistakes=tuple(_mistakes(template, trial.judge)),
            limits=tuple(_limits(template, trial.judge)),
            amounts=amounts_of(template),
        )

    def _pages(self, variant: Variant, look: Look, sessions: list[int]) -> tuple[bytes, ...]:
        sheets = tuple(one for one in look.sheets if one.session in sessions)
        whole = ProblemSet(
            id="preview",
            title=variant.template.title,
            course=look.course,
            term="",
            language=look.language,
            paper=look.paper,
            decimal_mark=".",
            sheets=sheets,
            problems=(SetProblem("p1", variant.template.id, (variant.template,)),),
            policy=Policy(),
            demonstration_secret=None,
        )
        document = sheet_document(whole, Student("", "", "", anonymous=True), "", "", [variant])
        job = Job(variant.template.id, sheet_data(document))
        with self._guard:
            if self._press is None:
                self._press = Press(layouts())
            return self._press.pictures(job, _DOTS)


def _variant(template: Template, trial: TemplateTrial, look: Look) -> Variant:
    stream = Stream(_PURPOSE.encode(), template.id, "p1", _PURPOSE)
    (variant,) = Maker(template, stream, judged_by=trial.judge).variants([look.draw])
    return variant


def _without_numbers(template: Template, trial: TemplateTrial, faults: tuple[Fault, ...]) -> Preview:
    return Preview(
        template=template,
        faults=faults,
        remarks=trial.remarks,
        kept=trial.kept,
        mistakes=tuple(_mistakes(template, trial.judge)),
        limits=tuple(_limits(template, trial.judge)),
        amounts=amounts_of(template),
    )


def _mistakes(template: Template, judge: Judge | None) -> Iterator[MistakeShown]:
    """The mistakes that the laws list, those that most draws show first."""
    if judge is None:
        return
    shares = judge.duties.shares
    for one in sorted(template.plan.mistakes, key=lambda mistake: -shares.get(mistake.id, 0.0)):
        yield MistakeShown(
            one.id,
            one.title,
            one.hint,
            shares.get(one.id, 0.0),
            owed=judge.duties.owes(one),
            waived=one.id in template.may_hide,
        )


def _limits(template: Template, judge: Judge | None) -> Iterator[LimitsShown]:
    if judge is None:
        return
    turns = judge.turns or (None,) * len(judge.limiting)
    for (name, share), turn in zip(judge.limiting.items(), turns, strict=True):
        yield LimitsShown(template.scene.species[name].name, share, turn)
