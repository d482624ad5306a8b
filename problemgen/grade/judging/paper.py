"""One problem of one student under judgement: what was given, what is right, what the student answered so far."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.rounding import half_unit
from problemgen.grade.judging.findings import AnsweredNumber, Finding
from problemgen.language.messages import _
from problemgen.model.answers import PartKey, ProblemKey, TemplateKey
from problemgen.model.explanation import Bounds, Trial
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Step
from problemgen.model.policy import Policy
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import PartResult
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import (
    LEAST_FIGURES,
    data_figures,
    evaluate,
    mistaken_windows,
    route_window,
    window_values,
)
from problemgen.plan.exactly import includes, value_as_float, windows_over
from problemgen.plan.partial import worked_windows
from problemgen.plan.paths import EXTENT, Path, Way, Ways, ways_along
from problemgen.plan.tries import Units, units_on_sheet
from problemgen.plan.windows import answer_window

__all__ = ["EXACT", "Paper", "bounds_of", "holds", "together_with"]

EXACT = Exact()


def bounds_of(window: Window) -> Bounds:
    """A window as an explanation holds it."""
    return Bounds(window.value, window.low, window.high, int(window.figures))


def holds(window: Window, answer: AnsweredNumber) -> bool:
    """Whether a number lies in a window, or is shorter than that and may have been rounded from it.

    By one figure, or by more where it shows as many as the right answer is due: a student's own values may support
    more figures than the right ones.
    """
    if answer.written < window.figures and (answer.shows_all or LEAST_FIGURES <= answer.written == window.figures - 1):
        half = half_unit(answer.value, answer.written)
        return bool(window.low - half <= answer.value <= window.high + half)
    return includes(window, answer.value)


@dataclass
class Paper:
    """One problem of one student: filled in as its parts are judged in turn."""

    template: TemplateKey
    problem: ProblemKey
    policy: Policy
    decimal_mark: str
    commas: bool = False  # whether the student plainly writes decimal commas: then "1,234" is in no doubt
    carried: dict[str, Window] = field(default_factory=dict)  # the student's own values of what was wrong
    numbers: list[AnsweredNumber] = field(default_factory=list)  # what was answered so far
    wrong_numbers: list[tuple[PartKey, AnsweredNumber]] = field(default_factory=list)  # the wrong ones among them
    chosen: str = ""  # the reagent that was answered
    trials: list[Trial] | None = None  # what was tried, for an explanation; None where nobody asks for one
    policies: Mapping[str, Policy] = field(default_factory=dict)  # of single parts, by the id of what is asked
    answered: set[str] = field(default_factory=set)  # what was answered so far, right or wrong, by quantity id
    right_parts: dict[str, str] = field(default_factory=dict)  # the columns of right answers, by quantity id
    accepted: set[str] = field(default_factory=set)  # what was accepted though an honest worker does not arrive there

    _carried_to: dict[tuple[str, int], dict[str, Window] | None] = field(
        default_factory=dict
    )  # kept while nothing is new

    @cached_property
    def given(self) -> dict[str, Window]:
        """The windows of what was given."""
        return datum_windows(self.problem.given)

    @cached_property
    def right(self) -> dict[str, Window]:
        """The problem worked with the right numbers: not before an answer lies outside its window."""
        return window_values(self.template.plan, self.given, EXACT)

    @cached_property
    def right_floats(self) -> dict[str, float]:
        """The values of the problem worked with the right numbers, as floats."""
        return self.floats(self.right)

    def floats(self, windows: Mapping[str, Window]) -> dict[str, float]:
        """The values of windows, as floats."""
        return {name: value_as_float(window) for name, window in windows.items()}

    @cached_property
    def right_bounds(self) -> list[tuple[PartKey, Unit, Fraction, Fraction]]:
        """The parts that ask for a number, each with its unit and the bounds of the right answer in engine units."""
        truths = [(part, self.problem.truths.get(part.id)) for part in self.template.parts]
        numbers = [
            (part, read_unit(part.asked.unit), truth) for part, truth in truths if isinstance(truth, NumberTruth)
        ]
        return [(part, unit, unit.to_engine(truth.low), unit.to_engine(truth.high)) for part, unit, truth in numbers]

    @cached_property
    def units(self) -> Units:
        """The units in which quantities stand on the sheet."""
        return units_on_sheet(self.template.plan, self.problem.given)

    @cached_property
    def least_figures(self) -> int:
        """The fewest significant figures among the data."""
        return int(data_figures(self.given.values(), EXACT))

    def policy_of(self, asked: Asked) -> Policy:
        """How a part is marked, by what it asks."""
        return self.policies.get(asked.quantity.id, self.policy)

    def share_of_mistakes(self, asked: Asked, explanations: Iterable[Iterable[Mistake]]) -> Fraction:
        """The share for an answer that usual mistakes explain."""
        ids = ([mistake.id for mistake in together] for together in explanations)
        return self.policy_of(asked).share_of_mistakes(ids)

    def label(self, part: PartKey) -> str:
        """The column of a part: "1a"."""
        return self.problem.label(part)

    # what the student knows

    def ways(self, name: str, *, carrying: bool) -> Ways:
        """The ways to a quantity (by id) from what was answered before: from wrong answers too, or right ones alone."""
        known = {quantity for quantity in self.answered if carrying or quantity not in self.carried}
        return ways_along(self.template.plan, self.units, Path(name, frozenset(known - {name}), self.chosen))

    def answer_known(self, quantity: Quantity) -> None:
        """Take in that a part was answered: what could form by one reagent tells how far that one reaches, too."""
        self.answered.add(quantity.id)
        if quantity.source:
            self.answered.add(Quantity("extent", quantity.source).id)

    # the student's own values

    def builds_on_wrong(self, part: PartKey) -> bool:
        """Whether a part needs anything that was answered wrongly before."""
        steps = self.template.plan.steps_to(part.asked.quantity.id)
        return any(step.quantity.id in self.carried for step in steps if step.quantity != part.asked.quantity)

    def carried_into(self, wanted: Iterable[str], leave_out: str = "") -> dict[str, Window] | None:
        """What the wanted quantities need, with the student's own wrong values in the place of the right ones.

        None where they cannot be worked with: a student may answer with 0.
        """
        plan = self.template.plan
        needed = {step.quantity.id for name in wanted for step in plan.steps_to(name)}
        steps = [step for step in plan.steps if step.quantity.id in needed]
        carried = {name: window for name, window in self.carried.items() if name != leave_out}
        return worked_windows(plan, {**self.given, **carried}, steps)

    def carried_to(self, part: PartKey) -> dict[str, Window] | None:
        """What a part needs, by the student's own values; None where it builds on nothing wrong."""
        name, stand = part.asked.quantity.id, len(self.carried)
        if (name, stand) not in self._carried_to:
            self._carried_to[name, stand] = self.carried_into([name], name) if self.builds_on_wrong(part) else None
        return self._carried_to[name, stand]

    def carried_ways_to(self, part: PartKey) -> Iterator[dict[str, Window]]:
        """What a part needs, by the student's own values: on the plan's way, and on each other that is open to them."""
        carried = self.carried_to(part)
        if carried is not None:
            yield carried
        quantity = part.asked.quantity
        routes = self.template.plan.routes_to(quantity) if self.carried else ()
        if not any(self._rests_on_carried(step) for route in routes for step in route.steps):
            return
        others = {name: window for name, window in self.carried.items() if name != quantity.id}
        world = worked_windows(self.template.plan, {**self.given, **others})
        for route in routes if world is not None else ():
            reached = route_window(route, world or {}, self.least_figures, EXACT)
            if reached is not None and any(self._rests_on_carried(step) for step in route.steps):
                yield {**(world or {}), quantity.id: reached}

    def _rests_on_carried(self, step: Step) -> bool:
        return not self.carried.keys().isdisjoint(self.template.plan.needs_of(step))

    def carry(self, quantity: Quantity, window: Window | None) -> None:
        """Take a wrong answer over, so that what builds on it can be followed through.

        Nothing follows from 0 or less: else a student could answer 0 throughout.
        """
        if window is None or window.low <= 0:
            return
        self.carried[quantity.id] = window
        reagent = quantity.source
        extent = Quantity("extent", reagent).id
        if reagent and extent in self.right and self.right[extent].value and self.right[quantity.id].value:
            times = self.right[quantity.id].value / self.right[extent].value
            self.carried[extent] = Window(window.value / times, window.low / times, window.high / times, window.figures)

    def mistaken(self, mistakes: Iterable[Mistake], start: Mapping[str, Window]) -> dict[str, Window] | None:
        """What mistakes, made from a state of the problem, lead to; None where a step then divides by 0."""
        try:
            return mistaken_windows(self.template.plan, mistakes, start, self.least_figures, EXACT)
        except ZeroDivisionError:
            return None

    # what was answered

    def answer(self, answer: AnsweredNumber, windows: Mapping[str, Window]) -> Window:
        """What a worker with these values answers, in the unit asked for."""
        return answer_window(self.template.plan, answer.asked, windows, EXACT)

    def accepts(self, answer: AnsweredNumber, windows: Mapping[str, Window]) -> Window:
        """The window for the student's own values, with the tolerance that the part has for the right ones."""
        window, tolerance = self.answer(answer, windows), self.policy_of(answer.asked).tolerance
        if not tolerance.share and tolerance.window != "replaced":
            return window
        low, high = tolerance.bounds(window.value, window.low, window.high)
        return replace(window, low=low, high=high)

    def fits(self, answer: AnsweredNumber, windows: Mapping[str, Window]) -> bool:
        """Whether a worker with these values may answer so: as strictly as where the values are the right ones."""
        return holds(self.answer(answer, windows), answer)

    def right_once_whole(self, part: PartKey) -> Window | None:
        """What is rounded to the right whole number (in the unit asked for); None where none is asked for."""
        return self.once_whole(part, self.right) if self._inside_whole(part) else None

    def once_whole(self, part: PartKey, windows: Mapping[str, Window]) -> Window | None:
        """What a worker with these values rounds to a whole number; None where none is asked for."""
        inside = self._inside_whole(part)
        return evaluate(inside, windows, windows_over(EXACT)) if inside else None

    def _inside_whole(self, part: PartKey) -> Expression | None:
        step = self.template.plan.step(part.asked.quantity)
        is_rounded = step is not None and step.rounding == "whole" and step.expression[0] == "round"
        return step.expression[1] if step is not None and is_rounded else None

    def rounds_to(self, answer: AnsweredNumber, window: Window | None) -> bool:
        """Whether a number with a fraction is what a whole number is rounded from."""
        if window is None or not answer.value or answer.value.denominator == 1:
            return False
        half = half_unit(answer.value, answer.written)
        return bool(window.low - half <= answer.value <= window.high + half)

    def gives(self, answer: AnsweredNumber, windows: Mapping[str, Window]) -> bool:
        """Whether a worker with these values may have meant this, however far the answer was rounded."""
        window = self.answer(answer, windows)
        half = half_unit(answer.value, answer.figures) if answer.figures < window.figures else Fraction(0)
        return bool(window.low - half <= answer.value <= window.high + half)

    def extents(self, windows: Mapping[str, Window]) -> dict[str, Fraction]:
        """How far the reaction could go by each reagent."""
        return {source: windows[Quantity("extent", source).id].value for source in self.template.plan.sources}

    def source_of(self, windows: Mapping[str, Window]) -> str:
        """The reagent that was gone on with: the one whose extent is the reaction's."""
        extents = self.extents(windows)
        overall = windows[EXTENT].value
        return min(extents, key=lambda source: abs(extents[source] - overall))

    def unconfirmed(self, names: Iterable[str]) -> tuple[str, ...]:
        """The steps to some quantities from what was answered before: where one of them is wrong, one of these is.

        Quantity ids in the plan's order; the named quantities' own steps are among them.
        """
        answered = {answer.asked.quantity.id for answer in self.numbers} | self.carried.keys()
        needed = set(names)
        picked = []
        for step in reversed(self.template.plan.steps):
            if step.quantity.id in needed:
                picked.append(step.quantity.id)
                needed |= step.needs - answered
        return tuple(reversed(picked))

    def confirmed(self, name: str) -> list[str]:
        """The columns of the right answers that a quantity (by id) builds on."""
        steps = self.template.plan.steps_since(name, self.answered)
        needed = {one for step in steps for one in step.needs} | {step.quantity.id for step in steps}
        return [label for quantity, label in self.right_parts.items() if quantity in needed and quantity != name]

    # explaining

    def tried(self, kind: str, what: str, why: str, *, fits: bool, leads_to: Window | None = None) -> None:
        """Note what was tried, where an explanation is asked for; `leads_to` is in the unit asked for."""
        if self.trials is not None:
            self.trials.append(Trial(kind, what, fits, why, None if leads_to is None else bounds_of(leads_to)))

    def tried_way(self, kind: str, way: Way, value: float | None, why: str, *, fits: bool) -> None:
        """Note a way that was tried, where an explanation is asked for; `value` is in the unit asked for."""
        leads_to = None
        if value is not None and math.isfinite(value):
            exact = Fraction(value)
            leads_to = Window(exact, exact, exact, 0)
        what = together_with([f"{_(one.mistake.title)} [{one.mistake.id}]".strip() for one in way.tries])
        self.tried(kind, what, why, fits=fits, leads_to=leads_to)

    # results

    def result(
        self,
        part: PartKey,
        wrote: str,
        read: str,
        finding: Finding,
        remarks: tuple[str, ...] = (),
        *,
        lost: Fraction = Fraction(0),
        value: Fraction | None = None,
        doubt: str = "",
    ) -> PartResult:
        """The result of a part; `lost` is the share of its points that the policy deducts, `value` the number.

        `doubt` is why it may have been read otherwise than it was meant.
        """
        return PartResult(
            problem=self.problem.problem,
            part=part.id,
            label=self.label(part),
            verdict=finding.verdict,
            reason=finding.reason,
            sentence=_(finding.sentence) if finding.verdict == "right" else finding.sentence,
            remarks=remarks,
            points=part.points * (finding.share * (1 - lost) if lost else finding.share),
            of=part.points,
            wrote=wrote,
            read=read,
            mistakes=finding.mistakes,
            titles=finding.titles,
            at=finding.at,
            share=finding.share,
            value=value,
            doubt=doubt,
        )


def together_with(titles: Sequence[str]) -> str:
    """Mistakes that were made at once: "density left out together with coefficients left out"."""
    # Translators: stands between the names of two mistakes that were made at once.
    return f" {_('together with')} ".join(titles)
