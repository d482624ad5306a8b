"""The slip that a student hands in alone: every blank of the sheets, with what is asked and its unit."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from problemgen.chemistry.units import unit_text
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Block, Document, Heading, Line, NewSheet, Paragraph, Part, Prose
from problemgen.model.page_code import SLIP
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.template import label_of
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of
from problemgen.render.sheet.own_data import own_words
from problemgen.render.sheet.sheet import sheet_document
from problemgen.render.words.given_words import told_values
from problemgen.render.words.prompts import problem_heading, short_prompt_of
from problemgen.render.words.symbols import capitalised

__all__ = ["slip_document"]

_HOW_TO = N_("Copy your answers from the sheets, in the units that stand here; of several options, the letter.")


def slip_document(
    problem_set: ProblemSet,
    student: Student,
    name: str,
    code: str,
    variants: Sequence[Variant],
    attempt: int = 1,
    session: int | None = None,
    build: str = "",
) -> Document:
    """The slip of one student's attempt, of all sessions or one; the arguments are those of `sheet_document`."""
    told = problem_set.attempts.told(attempt)
    title = _("Answers: {title}").format(title=problem_set.title)
    sessions = [sheet.session for sheet in problem_set.sheets if sheet.session == (session or sheet.session)]
    blocks = (
        NewSheet(f"{title} ({told})" if told else title, SLIP),
        Paragraph((Prose(_(_HOW_TO)),)),
        *_blanks(variants, sessions),
    )
    whole = sheet_document(problem_set, student, name, code, (), attempt, session, build)
    return replace(whole, title=f"{title}: {code}", blocks=blocks, compact=True)


def _blanks(variants: Sequence[Variant], sessions: Collection[int]) -> Iterator[Block]:
    """The blanks of these sessions, problem by problem."""
    for variant in variants:
        blanks = (*_own_blanks(variant, sessions), *_part_blanks(variant, sessions))
        if blanks:
            yield Heading(2, problem_heading(variant.problem, variant.template.title))
            yield from blanks


def _own_blanks(variant: Variant, sessions: Collection[int]) -> Iterator[Part]:
    """Those for the values that the student has measured."""
    template = variant.template
    told = {one.quantity: one.session for one in told_values(template)}
    for place, value in enumerate(variant.own):
        if told.get(value.quantity, min(sessions)) in sessions:
            words = (Prose(capitalised(own_words(template.scene, value))),)
            yield _blank(f"{variant.problem}-own-{place}", "", words, "" if value.second else unit_text(value.unit))


def _part_blanks(variant: Variant, sessions: Collection[int]) -> Iterator[Part]:
    template = variant.template
    for index, part in enumerate(template.parts):
        if part.session in sessions:
            place = form_of(part.asked).blank(template.scene, template.plan, part.asked, 0)
            one = _blank(f"{variant.problem}-{part.id}", label_of(index), short_prompt_of(template, part), place.unit)
            yield replace(one, wide=place.wide)


def _blank(name: str, label: str, prompt: Line, unit: str) -> Part:
    return Part(name, label, prompt, points="", unit=unit, work_lines=0)
