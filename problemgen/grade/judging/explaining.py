"""The way to a part's answer as an explanation shows it: each value with what may stand in its place, and why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from problemgen.chemistry.units import read_unit
from problemgen.grade.judging.paper import EXACT, Paper, bounds_of
from problemgen.language.messages import _, ngettext
from problemgen.model.answers import PartKey
from problemgen.model.explanation import Bounds, Explanation, OnTheWay
from problemgen.model.plan import Step
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import LEAST_FIGURES, kept_figures
from problemgen.plan.forms import form_of
from problemgen.plan.windows import answer_window

__all__ = ["explained"]


def explained(
    paper: Paper, part: PartKey, carried: Mapping[str, Window] | None, answered: int, result: PartResult
) -> Explanation:
    """One part explained that was just judged.

    `carried` are the student's own values on the way to it as they stood before, `answered` is how many numbers they
    had answered by then.
    """
    answer = paper.numbers[-1] if len(paper.numbers) > answered else None
    return Explanation(
        part=part,
        truth=paper.problem.truths.get(part.id),
        result=result,
        value=None if answer is None else answer.value,
        figures=0 if answer is None else answer.written,
        way=tuple(_way(paper, part, paper.right)),
        carried=() if carried is None else tuple(_way(paper, part, carried)),
        trials=tuple(paper.trials or ()),
        follows=_follows(paper, part, carried),
    )


def _follows(paper: Paper, part: PartKey, carried: Mapping[str, Window] | None) -> Bounds | None:
    """The number that the student's own earlier answers lead to; None where none was wrong, or no number is asked."""
    if carried is None or not form_of(part.asked).has_window:
        return None
    return bounds_of(answer_window(paper.template.plan, part.asked, carried, EXACT))


def _way(paper: Paper, part: PartKey, windows: Mapping[str, Window]) -> Iterator[OnTheWay]:
    """What a part needs: given values and constants first, then its steps in order."""
    plan = paper.template.plan
    steps = plan.steps_to(part.asked.quantity.id)
    needed = frozenset[str]().union(*(step.needs for step in steps))
    for quantity in plan.given:
        if quantity.id in needed:
            yield OnTheWay(quantity, "given", bounds_of(windows[quantity.id]), _given(paper, quantity))
    for constant in plan.constants:
        if constant.quantity.id in needed:
            bounds = Bounds(constant.value, constant.low, constant.high, 0)
            yield OnTheWay(constant.quantity, "constant", bounds, _(KINDS[constant.quantity.kind].in_use))
    for step in steps:
        yield _worked(paper, step, windows[step.quantity.id], carried=windows is not paper.right)


def _given(paper: Paper, quantity: Quantity) -> str:
    window = paper.given[quantity.id]
    if window.is_point:
        return ngettext("as given, {n} significant figure", "as given, {n} significant figures", window.figures).format(
            n=window.figures
        )
    unit = read_unit(paper.problem.given[quantity.id].unit).text
    told = _("given in {unit}; the converted value may be rounded to {n} figures")
    return told.format(unit=unit, n=max(window.figures, LEAST_FIGURES))


def _worked(paper: Paper, step: Step, window: Window, *, carried: bool) -> OnTheWay:
    if carried and paper.carried.get(step.quantity.id) == window:
        return OnTheWay(step.quantity, "answered", bounds_of(window), _("the student's own answer, or what it says"))
    return OnTheWay(step.quantity, "worked", bounds_of(window), _rounding(paper, step, window))


def _rounding(paper: Paper, step: Step, window: Window) -> str:
    """How a worker may round a step's result."""
    if step.rounding == "none":
        return _("nothing to round")
    if step.rounding == "whole":
        return _("a whole number")
    if step.rounding == "molar mass":
        return _("two decimals, or {n} figures, or more").format(n=max(paper.least_figures, LEAST_FIGURES))
    return _("{n} figures or more").format(n=kept_figures(window, paper.least_figures, EXACT))
