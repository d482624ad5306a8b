"""What a student's own data cannot tell, for the instructor alone: mistakes that come to the same, and wide windows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from problemgen.grade.judging.bench import Bench
from problemgen.language.messages import _
from problemgen.model.answers import PartKey
from problemgen.model.plan import Mistake
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window
from problemgen.plan.forms import form_of

__all__ = ["with_notes"]


def with_notes(bench: Bench, results: tuple[PartResult, ...]) -> tuple[PartResult, ...]:
    """The results of a problem with remarks for the instructor: `notes` of a part, which no student is shown."""
    if not bench.problem.own:
        return results
    parts = {part.id: part for part in bench.template.parts}
    silent = _silent(bench, results)
    return tuple(replace(one, notes=tuple(_notes(bench, parts[one.part], silent.get(one.part, ())))) for one in results)


def _notes(bench: Bench, part: PartKey, silent: Iterable[Mistake]) -> Iterator[str]:
    truth = bench.problem.truths.get(part.id)
    if truth is None:
        return
    yield from form_of(part.asked).notes(bench.template.scene, truth)
    titles = "; ".join(dict.fromkeys(_(mistake.title) for mistake in silent))
    if titles:
        told = _("With these data a usual mistake leads to the same answers, and would not show: {titles}.")
        yield told.format(titles=titles)


def _silent(bench: Bench, results: Iterable[PartResult]) -> Mapping[str, list[Mistake]]:
    """The mistakes that no part would show, each at the first part that it touches and that came out right."""
    asked = {part.id: part.asked.quantity.id for part in bench.template.parts}
    right = [result.part for result in results if result.verdict == "right"]
    found: dict[str, list[Mistake]] = {}
    for mistake in bench.template.plan.mistakes if right else ():
        touched = {
            step.quantity.id for step in bench.template.plan.stale(name for name, _expression in mistake.rewrites)
        }
        first = next((part for part in right if asked[part] in touched), None)
        if first is not None and _is_owed(bench, mistake) and not _is_shown(bench, mistake):
            found.setdefault(first, []).append(mistake)
    return found


def _is_owed(bench: Bench, mistake: Mistake) -> bool:
    """Whether drawn numbers would have to show a mistake: none about who limits where the comparison is on paper."""
    on_paper = bench.template.plan.compares and mistake.is_about_the_reagent
    return not on_paper and mistake.id not in bench.template.may_hide


def _is_shown(bench: Bench, mistake: Mistake) -> bool:
    """Whether a part would show a mistake; who divides by zero has no answer."""
    wrong = bench.mistaken([mistake], bench.right)
    return wrong is None or any(_shows(bench, part, wrong) for part in bench.template.parts)


def _shows(bench: Bench, part: PartKey, wrong: Mapping[str, Window]) -> bool:
    """Whether a mistake would lead to another answer to a part than those that are accepted."""
    truth = bench.problem.truths.get(part.id)
    form = form_of(part.asked)
    return truth is not None and form.shows(bench.template.plan, part.asked, truth, bench.right, wrong)
