"""A template tried out: what would go wrong in a class, and where it is weaker than what comes with the program."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from pathlib import Path

import numpy as np

from problemgen.errors import Fault
from problemgen.load.documents import read_document
from problemgen.load.templates.document import TemplateDocument
from problemgen.make.admissible import Judge, Judgement
from problemgen.make.candidates import Candidates, Stream, draw_candidates, window_rows
from problemgen.make.room import has_room, room_faults, room_remarks
from problemgen.make.variants import variant_from
from problemgen.model.blocks import Paragraph
from problemgen.model.template import Part, Template, label_of
from problemgen.model.truths import NumberTruth
from problemgen.model.variant import Variant
from problemgen.pipeline.told_late import told_late, untold
from problemgen.plan.arithmetic import Window
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words.prompts import prompt_of, quantity_text

__all__ = ["TemplateTrial", "tried"]

_STUDENTS = 4
"""Students of the trial draw; fixed names, so that a check says the same each time."""

_SIZE = 500
"""Candidates of each: with 2000 in all, a share of one percent is told from none."""

_FEW = 250
"""Candidates that are judged before all others: with a quarter of them admissible, the others cannot make room scarce.

Of the templates that come with the program, all but two admit as many.
"""

_VARIANTS = 40
"""Admissible candidates whose windows are looked at: in a class of that size, what is often wrong is wrong for some."""

_PRINTED = 2
"""Those whose sheets are laid out: which values stand on them does not hang on the numbers."""

_NARROW = 0.02
"""What the half-width of a window should stay below, relative to the answer: most usual mistakes are farther off."""

_STORY_LINES, _LINE = 3, 120
"""How long a story and its lines should be at most: it stands above the data, and is read in passing."""

_MARKUP = "{}<>_"
"""Characters of markup and of fields: a prompt is printed as it is."""


@dataclass(frozen=True)
class TemplateTrial:
    """What is wrong with a template, and where it is only weaker than those that come with the program.

    `kept` is the share of candidates that may be handed out, None where nothing is drawn.
    """

    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...]
    kept: float | None = None


def tried(template: Template, path: Path, judge: Judge | None = None) -> TemplateTrial:
    """Draw a template's candidates, work and print some of them, and tell what there is to say.

    `judge` is one of the template that has judged before, where there is one.

    Raises:
        FaultsError: where the file, read before, cannot be read any more.
    """
    file, document = str(path), read_document(path, TemplateDocument)
    stream = Stream(b"trial", "check", template.id, "trial")
    candidates = draw_candidates(template, stream, [f"trial {n}" for n in range(_STUDENTS)], 0, _SIZE)
    faults: list[Fault] = []
    remarks = [*_on_words(document, file), *_on_prompts(template, file), *_on_order(template, file)]
    rows, widest = [0], dict[str, float]()
    kept = None
    if template.is_drawn:
        judge = judge or Judge(template)
        judgement = _judged(judge, candidates)
        faults.extend(room_faults(template, file, judge, judgement))
        remarks.extend(room_remarks(template, file, candidates, judge, judgement))
        kept = float(np.mean(judgement.admitted))
        rows = np.flatnonzero(judgement.admitted)[:_VARIANTS].tolist()
        widest = {name: _widest(window, rows) for name, window in judgement.answers.items()} if rows else {}
    variants = [variant_from(template, candidates, row, "trial", "p1") for row in rows[:_PRINTED]]
    faults.extend(dict.fromkeys(fault for variant in variants for fault in _untold(variant, file)))
    remarks.extend(_on_windows(template, widest or _halves(variants), file))
    return TemplateTrial(tuple(faults), tuple(remarks), kept)


def _judged(judge: Judge, candidates: Candidates) -> Judgement:
    """The first candidates, judged, where they leave no doubt about the room and suffice to be looked at; else all."""
    few = judge.judge(candidates.taken(np.arange(_FEW)))
    enough = has_room(few, candidates.rows) and np.count_nonzero(few.admitted) >= _VARIANTS
    return few if enough else judge.judge(candidates)


def _untold(variant: Variant, file: str) -> Iterator[Fault]:
    """Faults for given values that a part needs and that stand on no sheet up to its session's."""
    template, shown = variant.template, ""
    yield from told_late(template, file)
    for session in range(1, template.sessions + 1):
        shown += "\n".join(text_lines(problem_blocks(variant, session)))
        for part in template.parts_of(session):
            asked = part.asked.quantity.id
            needed = {asked, *(name for step in template.plan.steps_to(asked) for name in step.needs)}
            for name in sorted(needed & variant.given.keys()):
                if quantity_text(variant.given[name]) not in shown:
                    yield untold(file, name, label_of(template.parts.index(part)))


def _label(template: Template, part: Part) -> str:
    return f"({label_of(template.parts.index(part))})"


def _on_words(document: TemplateDocument, file: str) -> Iterator[Fault]:
    """What a template says about itself and to the students."""
    if not document.trains.strip():
        yield Fault(file, "trains", "nothing", "what the template trains: `problemgen list` finds it by that")
    lines = document.story.strip().splitlines()
    if len(lines) > _STORY_LINES:
        yield Fault(file, "story", f"{len(lines)} lines", f"{_STORY_LINES} at most")
    longest = max(map(len, lines), default=0)
    if longest > _LINE:
        yield Fault(file, "story", f"a line of {longest} characters", f"{_LINE} at most")


def _on_prompts(template: Template, file: str) -> Iterator[Fault]:
    """Prompts that ask the same, or do not read as sentences."""
    seen: dict[str, str] = {}
    for part in template.parts:
        prompt = "".join(text_lines([Paragraph(prompt_of(template, part))]))
        label = _label(template, part)
        if prompt in seen:
            found = f"{prompt!r} in {label} as in {seen[prompt]}"
            yield Fault(file, "part", found, "a prompt that asks something of its own")
        seen.setdefault(prompt, label)
        if not prompt[0].isupper():
            yield Fault(file, "part", f"{prompt!r} in {label}", "a prompt that begins with a capital letter")
        if set(_MARKUP) & set(prompt):
            yield Fault(file, "part", f"{prompt!r} in {label}", f"a prompt without any of {' '.join(_MARKUP)}")


def _on_order(template: Template, file: str) -> Iterator[Fault]:
    """Parts behind those of a later session: letters run through a problem, and would leave one out on a sheet."""
    latest = accumulate((part.session for part in template.parts), max)
    behind = [part for part, session in zip(template.parts, latest, strict=True) if part.session < session]
    if behind:
        found = f"{', '.join(_label(template, part) for part in behind)} behind a part of a later session"
        hint = "Put each at the end of its own session."
        yield Fault(file, "part", found, "parts in the order of their sessions, for their letters run on", hint)


def _widest(window: Window, rows: Sequence[int]) -> float:
    """The greatest half-width of a window among some candidates, relative to the answer; 0 is no answer to compare."""
    at = window_rows(window, np.array(rows))
    value = np.abs(np.broadcast_to(at.value, len(rows)))
    half = (at.high - at.low) / 2 / np.where(value > 0, value, np.inf)
    return float(np.max(half))


def _halves(variants: Sequence[Variant]) -> dict[str, float]:
    """The half-widths of the windows of the one variant that there is, relative to its answers."""
    truths = {
        part.id: answer for one in variants[:1] for part, answer in zip(one.template.parts, one.answers, strict=True)
    }
    numbers = {name: truth for name, truth in truths.items() if isinstance(truth, NumberTruth) and truth.value}
    return {name: float((truth.high - truth.low) / 2 / abs(truth.value)) for name, truth in numbers.items()}


def _on_windows(template: Template, widest: Mapping[str, float], file: str) -> Iterator[Fault]:
    """Windows that are wide in some variant: one remark a part, with the widest (relative, by part)."""
    for part in template.parts:
        half = widest.get(part.id, 0.0)
        if half >= _NARROW:
            found = f"a window of ± {100 * half:.1f} % in {_label(template, part)}"
            hint = "Give more figures, or ask for something other than a small difference."
            yield Fault(file, "part", found, f"less than ± {100 * _NARROW:g} %", hint)
