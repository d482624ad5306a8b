"""The instructor's one-page summary of a build: what each rule turned away, spread of answers, widths of windows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.exact.rounding import plain_text
from problemgen.language.messages import N_, _, ngettext
from problemgen.model.blocks import Block, Document, Line, Note, Paragraph, Prose, Table
from problemgen.model.problem_set import ProblemSet
from problemgen.model.template import label_of
from problemgen.model.variant import Rejections, Variant
from problemgen.plan.forms import form_of
from problemgen.plan.forms.form import Spread as SpreadOfPart
from problemgen.render.key.answers import known
from problemgen.render.words.symbols import symbol

__all__ = ["Spread", "summary_document"]


@dataclass
class Spread:
    """Answers and windows of all variants so far, by problem, template and part.

    Answers that rest on the students' own data are not known yet, and left out.
    """

    by_part: dict[tuple[str, str, str], SpreadOfPart] = field(default_factory=dict)

    def add(self, variant: Variant) -> None:
        """Take one variant in."""
        template = variant.template
        for part, truth in zip(template.parts, variant.answers, strict=True):
            if known(variant, part.id):
                key = (variant.problem, template.id, part.id)
                if key not in self.by_part:
                    self.by_part[key] = form_of(part.asked).spread(template.scene, part.asked)
                self.by_part[key].add(truth)


def summary_document(
    problem_set: ProblemSet,
    students: int,
    rejections: Mapping[tuple[str, str], Rejections],
    spread: Spread,
    notes: Sequence[str],
) -> Document:
    """The summary; `rejections` by problem and template id, `notes` are what the instructor should know."""
    names = _names(problem_set)
    blocks: list[Block] = [
        Paragraph((Prose(_counted(students)),)),
        _rules(names, rejections),
        _parts(problem_set, names, spread),
        *(Note((Prose(note),)) for note in (*_own_notes(problem_set), *notes)),
    ]
    return Document(
        title=_("{title}: summary of the build").format(title=problem_set.title),
        course=problem_set.course,
        student="",
        code="summary",
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
        confidential=True,
    )


def _counted(students: int) -> str:
    return ngettext(
        "{n} student. A candidate is counted under the first rule that turns it away.",
        "{n} students. A candidate is counted under the first rule that turns it away.",
        students,
    ).format(n=students)


def _own_notes(problem_set: ProblemSet) -> Iterable[str]:
    for problem in problem_set.problems:
        if problem.own:
            number = problem.id.removeprefix("p")
            told = _("Problem {number}: what rests on the students' own data is worked out when the set is marked.")
            yield told.format(number=number)


def _cells(texts: Iterable[str]) -> tuple[Line, ...]:
    return tuple((Prose(text),) for text in texts)


def _rules(names: Mapping[tuple[str, str], str], rejections: Mapping[tuple[str, str], Rejections]) -> Table:
    header = _cells((_("Problem"), _("Template"), _("Candidates"), *map(_, RULE_WORDS.values()), _("Kept")))
    rows = []
    for key, counts in rejections.items():
        shares = [_percent(counts.by_rule[rule], counts.candidates) for rule in RULE_WORDS]
        kept = _percent(counts.admitted, counts.candidates)
        rows.append(_cells((names[key], key[1], str(counts.candidates), *shares, kept)))
    numeric = (False, False, *([True] * (len(RULE_WORDS) + 2)))
    return Table(
        _("What the rules turned away, in percent of the candidates"),
        header,
        tuple(rows),
        numeric,
        wide=1,
        compact=True,
    )


RULE_WORDS = {
    "flask": N_("Flask"),
    "excess": N_("Excess"),
    "limiting": N_("Limiting"),
    "conditioning": N_("Ill-cond."),
    "coincidence": N_("Coinciding"),
    "mistake": N_("Mistake"),
}


def _percent(part: int, whole: int) -> str:
    return plain_text(Fraction(100 * part, whole), 0) if whole else "–"


def _names(problem_set: ProblemSet) -> dict[tuple[str, str], str]:
    """How a problem's template is called in the tables: its number, with a second where there is a choice."""
    names = {}
    for problem in problem_set.problems:
        number = problem.id.removeprefix("p")
        for index, template in enumerate(problem.templates, start=1):
            names[problem.id, template.id] = f"{number}.{index}" if len(problem.templates) > 1 else number
    return names


def _parts(problem_set: ProblemSet, names: Mapping[tuple[str, str], str], spread: Spread) -> Table:
    rows: list[tuple[Line, ...]] = []
    for problem in problem_set.problems:
        for template in problem.templates:
            for index, part in enumerate(template.parts):
                label: Line = (Prose(f"{names[problem.id, template.id]}{label_of(index)}"),)
                key = (problem.id, template.id, part.id)
                if key in spread.by_part:
                    row = spread.by_part[key].row()
                    asked: Line = (Prose(row.words) if row.words else symbol(template.scene, part.asked.quantity),)
                    rows.append((label, asked, *_cells(row.cells)))
    titles = (
        _("Part"),
        _("Answer"),
        _("Least"),
        _("Median"),
        _("Greatest"),
        _("Unit"),
        _("Half-width %"),
        _("Widest %"),
    )
    header = _cells(titles)
    caption = _("Spread of the answers, and half-widths of their windows in percent of the value")
    return Table(caption, header, tuple(rows), _NUMERIC, wide=1, compact=True)


_NUMERIC = (False, False, True, True, True, False, True, True)
