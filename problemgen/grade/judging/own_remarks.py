"""What a student's own data cannot tell, for the instructor alone: mistakes that come to the same, and wide windows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from problemgen.grade.judging.paper import Paper
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.model.plan import Mistake
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window
from problemgen.plan.forms import form_of

__all__ = ["with_notes"]


def with_notes(paper: Paper, results: tuple[PartResult, ...]) -> tuple[PartResult, ...]:
    """The results of a problem with remarks for the instructor: `notes` of a part, which no student is shown."""
    if not paper.problem.own:
        return results
    parts = {part.id: part for part in paper.template.parts}
    silent = _silent(paper, results)
    return tuple(replace(one, notes=tuple(_notes(paper, parts[one.part], silent.get(one.part, ())))) for one in results)


def _notes(paper: Paper, part: PartKey, silent: Iterable[Mistake]) -> Iterator[str]:
    truth = paper.problem.truths.get(part.id)
    if truth is None:
        return
    yield from form_of(part.asked).notes(paper.template.scene, truth)
    titles = "; ".join(dict.fromkeys(_(mistake.title) for mistake in silent))
    if titles:
        told = _("With these data a usual mistake leads to the same answers, and would not show: {titles}.")
        yield told.format(titles=titles)


def _silent(paper: Paper, results: Iterable[PartResult]) -> Mapping[str, list[Mistake]]:
    """The mistakes that no part would show, each at the first part that it touches and that came out right."""
    asked = {part.id: part.asked.quantity.id for part in paper.template.parts}
    right = [result.part for result in results if result.verdict == "right"]
    found: dict[str, list[Mistake]] = {}
    for mistake in paper.template.plan.mistakes if right else ():
        touched = {
            step.quantity.id for step in paper.template.plan.stale(name for name, _expression in mistake.rewrites)
        }
        first = next((part for part in right if asked[part] in touched), None)
        if first is not None and _is_owed(paper, mistake) and not _is_shown(paper, mistake):
            found.setdefault(first, []).append(mistake)
    return found


def _is_owed(paper: Paper, mistake: Mistake) -> bool:
    """Whether drawn numbers would have to show a mistake: none about who limits where the comparison is on paper."""
    on_paper = paper.template.plan.compares and mistake.is_about_the_reagent
    return not on_paper and mistake.id not in paper.template.may_hide


def _is_shown(paper: Paper, mistake: Mistake) -> bool:
    """Whether a part would show a mistake; who divides by zero has no answer."""
    wrong = paper.mistaken([mistake], paper.right)
    return wrong is None or any(_shows(paper, part, wrong) for part in paper.template.parts)


def _shows(paper: Paper, part: PartKey, wrong: Mapping[str, Window]) -> bool:
    """Whether a mistake would lead to another answer to a part than those that are accepted."""
    truth = paper.problem.truths.get(part.id)
    form = form_of(part.asked)
    return truth is not None and form.shows(paper.template.plan, part.asked, truth, paper.right, wrong)
