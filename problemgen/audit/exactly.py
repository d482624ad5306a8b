"""One simulated student in decimal digits, against the exact windows: for answers at a window's very edge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import InvalidOperation
from fractions import Fraction

from problemgen.audit.calculators import Digits
from problemgen.audit.columns import measured_digits
from problemgen.audit.habits import Habits
from problemgen.audit.worker import Worker, Workings
from problemgen.make.candidates import Candidates
from problemgen.make.variants import variant_from
from problemgen.model.expression import Expression
from problemgen.model.plan import Step
from problemgen.model.template import Part, Template
from problemgen.model.truths import Truth, number_in
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of

__all__ = ["decimal_worker", "exactly_accepted", "mistaken_workings"]


def decimal_worker(variant: Variant, habits: Habits) -> Worker:
    """One student at work in decimal digits; `habits` are theirs alone."""
    return Worker(variant.template.plan, measured_digits(variant.given), habits, Digits())


def mistaken_workings(worker: Worker, rewrites: Mapping[str, Expression], steps: Sequence[Step]) -> Workings | None:
    """The workings of one student after mistakes; None where the calculator shows an error."""
    try:
        papers = [workings for _, workings in worker.mistaken(rewrites, steps)]
    except (ZeroDivisionError, InvalidOperation):
        return None
    return papers[-1] if papers else worker.workings


def exactly_accepted(
    template: Template,
    candidates: Candidates,
    habits: Habits,
    row: int,
    rewrites: Mapping[str, Expression],
    steps: Sequence[Step],
) -> bool:
    """Whether all answers of one student are inside the exact windows."""
    variant = variant_from(template, candidates, row, "", "")
    worker = decimal_worker(variant, habits.picked(row))
    workings = mistaken_workings(worker, rewrites, steps)
    if workings is None:
        return False
    pairs = zip(template.parts, variant.answers, strict=True)
    return all(_accepts(part, truth, worker, workings, variant) for part, truth in pairs)


def _accepts(part: Part, truth: Truth, worker: Worker, workings: Workings, variant: Variant) -> bool:
    def inside() -> bool:
        number = number_in(truth)
        return number.low <= Fraction(worker.answer(part.asked, workings)) <= number.high

    written = {name: Fraction(value) for name, value in workings.written.items()}
    plan = variant.template.plan
    return bool(form_of(part.asked).accepts(plan, part.asked, written, variant.values, inside))
