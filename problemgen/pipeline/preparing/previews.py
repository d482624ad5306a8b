"""A template seen before it is used: a student's sheet in pictures, the key, and what its numbers can show."""

from __future__ import annotations

import re
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeAlias

from problemgen.errors import Fault, NoRoomError, OutputError
from problemgen.language.messages import _, speaking, spoken
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import layouts
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.load.templates.translated import translated
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.banks import Banks
from problemgen.model.blocks import Table
from problemgen.model.policy import Policy
from problemgen.model.preview import AmountRange, LimitsShown, MistakeShown, Preview, Question
from problemgen.model.problem_set import Method, Paper, ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Template, label_of
from problemgen.model.variant import Variant
from problemgen.pipeline.preparing.amounts import amounts_of
from problemgen.pipeline.preparing.questions import questions
from problemgen.pipeline.template_trial import TemplateTrial, tried
from problemgen.render.key.variant_key import answer_row, answers_table, variant_solution
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import problem_blocks, sheet_document
from problemgen.render.words.prompts import short_prompt_of
from problemgen.write.pdf import Job, Press

__all__ = ["Look", "Previewer"]

_WORKERS = 2
"""Sheets that are laid out at once: most templates have one session or two."""

_KEPT = 4
"""Templates of which is kept what was found out: another student's numbers need it again, in each open tab."""

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


_Key: TypeAlias = tuple[str, str, int, str]
"""By what a template that was tried is known again: its text, its id, the banks', the language spoken."""


class Previewer:
    """Makes previews. The compilers of pages, one a session, are kept warm, and work while the template is tried."""

    def __init__(self) -> None:
        """Start cold."""
        self._presses: dict[int, tuple[Press, threading.Lock]] = {}
        self._pool = ThreadPoolExecutor(_WORKERS, "pages")
        self._guard = threading.Lock()
        self._known: dict[_Key, _Tried] = {}

    def preview(self, path: Path, template_id: str, banks: Banks, look: Look) -> Preview:
        """The template at `path` as it would be handed out.

        Raises:
            FaultsError: for a file that is no template; what a check would find beyond that is in the preview.
        """
        language = spoken()
        key = path.read_text(encoding="utf-8"), template_id, id(banks), language
        known = self._known.get(key)
        template = known.template if known is not None else load_template(path, template_id, banks)
        faults = FaultLog(str(path))
        check_drawn(faults, template)
        if faults.faults:
            told = translated(template, language, banks)
            return Preview(told, faults.faults, (), questions=questions(told))
        judge = known.judge if known is not None else Judge(template)
        variant, refused = _variant(template, judge, look)
        pages = self._pages(_in_language(variant, look.language, banks), look) if variant is not None else ()
        if known is None:
            trial = tried(template, path, judge)
            told = translated(template, language, banks)
            known = _Tried(banks, template, told, judge, trial, questions(told), amounts_of(told))
            self._keep(key, known)
        return _preview(known, variant, look, pages, refused if not known.trial.faults else ())

    def _keep(self, key: _Key, known: _Tried) -> None:
        with self._guard:
            self._known[key] = known
            while len(self._known) > _KEPT:
                del self._known[next(iter(self._known))]

    def _pages(self, variant: Variant, look: Look) -> tuple[Future[tuple[bytes, ...]], ...]:
        """The sheets of each session, while they are laid out."""
        template = variant.template
        whole = ProblemSet(
            id="preview",
            title=template.title,
            course=look.course,
            term="",
            language=look.language,
            paper=look.paper,
            decimal_mark=".",
            sheets=look.sheets,
            problems=(SetProblem("p1", template.id, (template,)),),
            policy=Policy(),
            demonstration_secret=None,
        )
        nobody = Student("", "", "", anonymous=True)
        with speaking(look.language):
            return tuple(
                self._pool.submit(self._laid_out, session, Job(template.id, sheet_data(document)))
                for session in _sessions(template)
                for document in [sheet_document(whole, nobody, "", "", [variant], session=session)]
            )

    def _laid_out(self, session: int, job: Job) -> tuple[bytes, ...]:
        with self._guard:
            if session not in self._presses:
                self._presses[session] = Press(layouts()), threading.Lock()
            press, turn = self._presses[session]
        with turn:
            return tuple(press.pictures(job))


@dataclass(frozen=True)
class _Tried:
    """What is found out about a template once, whoever it is shown for. It holds the banks, so that no others come to
    have their id. `told` is the template in the language in which all of this is said.
    """

    banks: Banks
    template: Template
    told: Template
    judge: Judge
    trial: TemplateTrial
    questions: tuple[Question, ...]
    amounts: tuple[AmountRange, ...]


def _preview(
    known: _Tried,
    variant: Variant | None,
    look: Look,
    pages: Sequence[Future[tuple[bytes, ...]]],
    refused: tuple[Fault, ...],
) -> Preview:
    template, trial = known.told, known.trial
    found = Preview(
        template=template,
        faults=(*trial.faults, *refused),
        remarks=trial.remarks,
        kept=trial.kept,
        mistakes=tuple(_mistakes(template, known.judge)),
        limits=tuple(_limits(template, known.judge)),
        amounts=known.amounts,
        questions=known.questions,
    )
    if variant is None:
        return found
    variant = replace(variant, template=template)
    told = (block for session in _sessions(template) for block in problem_blocks(variant, session))
    found = replace(
        found, told=tuple(told), answers=(_answers(variant),), working=tuple(variant_solution(variant, look.method))
    )
    try:
        return replace(found, pages=tuple(page for sheet in pages for page in sheet.result()))
    except OutputError as error:
        fault = Fault(template.id, "", str(error), "a sheet that can be laid out")
        return replace(found, faults=(*found.faults, fault))


def _in_language(variant: Variant, language: str, banks: Banks) -> Variant:
    """A variant with its texts in a language: the numbers are the same."""
    return replace(variant, template=translated(variant.template, language, banks))


def _sessions(template: Template) -> list[int]:
    return sorted({part.session for part in template.parts})


def _answers(variant: Variant) -> Table:
    template = variant.template
    return answers_table(
        answer_row(
            label_of(place), short_prompt_of(template, part), template.scene, part.asked, truth, part.points.text
        )
        for place, (part, truth) in enumerate(zip(template.parts, variant.answers, strict=True))
    )


def _variant(template: Template, judge: Judge, look: Look) -> tuple[Variant | None, tuple[Fault, ...]]:
    """The numbers of one student; None, and why, where there are none that may be handed out."""
    stream = Stream(_PURPOSE.encode(), template.id, "p1", _PURPOSE)
    try:
        (variant,) = Maker(template, stream, judged_by=judge).variants([look.draw])
    except NoRoomError as error:
        return None, (Fault(template.id, "given", str(error), "room for a class"),)
    return variant, ()


def _mistakes(template: Template, judge: Judge) -> Iterator[MistakeShown]:
    """The mistakes that the laws list, those that most draws show first."""
    if not template.is_drawn:
        return
    shares = judge.duties.shares
    for one in sorted(template.plan.mistakes, key=lambda mistake: -shares.get(mistake.id, 0.0)):
        yield MistakeShown(
            one.id,
            _(one.title),
            _substance_in(template, one.id),
            _(one.hint),
            shares.get(one.id, 0.0),
            owed=judge.duties.owes(one),
            waived=one.id in template.may_hide,
        )


def _substance_in(template: Template, mistake: str) -> str:
    """The name of the substance that a mistake's id ends in: "density-divided:ethanol", "left:amount(ethanol,left)"."""
    words = re.split(r"[(),]", mistake.partition(":")[2])
    return next((template.scene.species[word].name for word in words if word in template.scene.species), "")


def _limits(template: Template, judge: Judge) -> Iterator[LimitsShown]:
    if not template.is_drawn:
        return
    turns = judge.turns or (None,) * len(judge.limiting)
    for (name, share), turn in zip(judge.limiting.items(), turns, strict=True):
        yield LimitsShown(template.scene.species[name].name, share, turn)
