"""Judging one student's answers against the keys alone.

Each answer is tried in this order: inside the window; inside after a slip of unit or power of ten; consistent with
an earlier answer that was wrong (follow-through: that error was already paid for); what a usual mistake leads to;
otherwise wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text, half_unit
from problemgen.grade.choices import ChoiceOption, read_choice
from problemgen.grade.reading import Reading, read_answer
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey, Truth
from problemgen.model.plan import Mistake
from problemgen.model.problem_set import Policy
from problemgen.model.quantity import Quantity, reagent_of
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import data_figures, mistaken_windows, window_values
from problemgen.plan.windows import answer_window, given_window

__all__ = ["judge_student"]

_EXACT = Exact()
_SLIPS = (3, -3, 1, -1, 2, -2, 6, -6, 4, -4, 5, -5)
"""Powers of ten tried for a slip: a thousand first, since most slips are of litres or grams."""


def judge_student(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> StudentResult:
    """Mark all parts of a student; `cells` holds what they wrote, by column ("1a", "1b", …)."""
    parts: list[PartResult] = []
    for problem in key.problems:
        template = head.templates[problem.template]
        parts.extend(_Bench(template, problem, head.policy, head.decimal_mark).judged(cells))
    return StudentResult(key.student, key.name, key.section, key.code, tuple(parts))


@dataclass(frozen=True)
class _Finding:
    """What an answer amounts to, before points."""

    verdict: str
    reason: str
    sentence: str
    share: Fraction


@dataclass
class _Bench:
    """One problem of one student under judgement."""

    template: TemplateKey
    problem: ProblemKey
    policy: Policy
    decimal_mark: str
    carried: dict[str, Window] = field(default_factory=dict)  # the student's own values of what was wrong

    def __post_init__(self) -> None:
        """Work the problem once with the right numbers."""
        self.given = {
            name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT)
            for name, datum in self.problem.given.items()
        }
        self.right = window_values(self.template.plan, self.given, _EXACT)

    def judged(self, cells: Mapping[str, str]) -> Iterator[PartResult]:
        """The results of all parts, in order."""
        number = self.problem.problem.removeprefix("p")
        for part in self.template.parts:
            wrote = cells.get(f"{number}{part.label}", "")
            judge = self._choice if part.asked.choice else self._number
            yield judge(part, self.problem.truths[part.id], wrote)

    # numbers

    def _number(self, part: PartKey, truth: Truth, wrote: str) -> PartResult:
        reading = read_answer(wrote, read_unit(part.asked.unit), decimal_mark=self.decimal_mark)
        if reading.value_in_unit is None or reading.status not in ("number", "ambiguous"):
            return self._result(part, wrote, "", _unread(reading), ())
        value = reading.value_in_unit
        finding = self._finding(part, truth, value)
        if finding.verdict != "right":
            self._carry(part.asked.quantity, _as_window(reading, part))
        remarks, lost = self._remarks(reading, truth, finding)
        finding = _Finding(finding.verdict, finding.reason, finding.sentence, finding.share * (1 - lost))
        return self._result(part, wrote, _told(reading, part), finding, remarks)

    def _finding(self, part: PartKey, truth: Truth, value: Fraction) -> _Finding:
        if truth.low <= value <= truth.high:
            return _Finding("right", "in-window", "Right.", Fraction(1))
        for power in _SLIPS:
            if truth.low <= value * Fraction(10) ** power <= truth.high:
                return _Finding("slip", f"power-of-ten:{-power}", _slip_sentence(power), self.policy.unit_slip)
        if self._follows(part, value):
            sentence = "This follows from your earlier answer, which was not right; the way from there is."
            return _Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistake = self._mistake(part, value)
        if mistake is not None:
            return _Finding("mistake", mistake.id, _hint(mistake), self.policy.named_mistake)
        sentence = "Not right. Go through the steps again, and write the unit beside each number."
        return _Finding("wrong", "no-match", sentence, Fraction(0))

    def _builds_on_wrong(self, part: PartKey) -> bool:
        steps = self.template.plan.steps_to(part.asked.quantity.id)
        return any(step.quantity.id in self.carried for step in steps if step.quantity != part.asked.quantity)

    def _own(self, leave_out: str = "") -> dict[str, Window]:
        """The problem worked with the student's own wrong values in the place of the right ones."""
        carried = {name: window for name, window in self.carried.items() if name != leave_out}
        return window_values(self.template.plan, {**self.given, **carried}, _EXACT)

    def _follows(self, part: PartKey, value: Fraction) -> bool:
        if not self._builds_on_wrong(part):
            return False
        try:
            window = answer_window(self.template.plan, part.asked, self._own(part.asked.quantity.id), _EXACT)
        except ZeroDivisionError:
            return False
        return bool(window.low <= value <= window.high)

    def _mistake(self, part: PartKey, value: Fraction) -> Mistake | None:
        starts = [self.right]
        if self._builds_on_wrong(part):
            with suppress(ZeroDivisionError):
                starts.append(self._own(part.asked.quantity.id))
        mistakes = self.template.plan.mistakes
        return next((m for start in starts for m in mistakes if self._leads(m, part, value, start)), None)

    def _leads(self, mistake: Mistake, part: PartKey, value: Fraction, start: Mapping[str, Window]) -> bool:
        """Whether a mistake, made from a state of the problem, leads to a value."""
        plan = self.template.plan
        touched = {step.quantity.id for step in plan.stale([name for name, _ in mistake.rewrites])}
        if part.asked.quantity.id not in touched:
            return False
        try:
            wrong = mistaken_windows(plan, [mistake], start, self._least_figures(), _EXACT)
            window = answer_window(plan, part.asked, wrong, _EXACT)
        except ZeroDivisionError:
            return False
        return bool(window.low <= value <= window.high)

    def _least_figures(self) -> int:
        return int(data_figures(self.given.values(), _EXACT))

    def _carry(self, quantity: Quantity, window: Window | None) -> None:
        """Take a wrong answer over, so that what builds on it can be followed through."""
        if window is None:
            return
        self.carried[quantity.id] = window
        reagent = reagent_of(quantity.role)
        extent = Quantity("extent", reagent).id
        if reagent and extent in self.right and self.right[extent].value:
            times = self.right[quantity.id].value / self.right[extent].value
            self.carried[extent] = Window(window.value / times, window.low / times, window.high / times, window.figures)

    def _remarks(self, reading: Reading, truth: Truth, finding: _Finding) -> tuple[tuple[str, ...], Fraction]:
        """The remarks on a number that earned points, and the share that the policy takes off for them."""
        if finding.verdict not in ("right", "follows"):
            return (), Fraction(0)
        noted = [
            (self.policy.figures, _figures_remark(reading, truth)),
            (self.policy.missing_unit, _unit_remark(reading)),
        ]
        remarks = [remark for policy, remark in noted if remark and policy in ("remark", "deduct")]
        lost = sum((self.policy.deduction for policy, remark in noted if remark and policy == "deduct"), Fraction(0))
        if reading.reason:
            remarks.append(reading.reason)
        return tuple(remarks), min(lost, Fraction(1))

    # choices

    def _choice(self, part: PartKey, truth: Truth, wrote: str) -> PartResult:
        options = [
            ChoiceOption(name, self.template.species[name].names, self.template.species[name].formula)
            for name in self.template.plan.sources
        ]
        reading = read_choice(wrote, options)
        if reading.id is None:
            verdict = "blank" if reading.status == "blank" else "unread"
            sentence = reading.reason or "No answer."
            return self._result(part, wrote, "", _Finding(verdict, reading.status, sentence, Fraction(0)), ())
        finding = self._chosen(reading.id, truth)
        if finding.verdict != "right":
            self._carry_choice(reading.id)
        read = self.template.species[reading.id].names[0]
        return self._result(part, wrote, read, finding, (reading.reason,) if reading.reason else ())

    def _chosen(self, chosen: str, truth: Truth) -> _Finding:
        if chosen == truth.choice:
            return _Finding("right", "in-window", "Right.", Fraction(1))
        if self.carried and self._least_source(self._own()) == chosen:
            sentence = "This follows from your earlier answers, which were not all right."
            return _Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistakes = [m for m in self.template.plan.mistakes if self._source_after(m) == chosen]
        if mistakes:
            return _Finding("mistake", mistakes[0].id, _hint(mistakes[0]), self.policy.named_mistake)
        sentence = "Not the limiting reagent. Compare how much product each reagent could give."
        return _Finding("wrong", "no-match", sentence, Fraction(0))

    def _extents(self, windows: Mapping[str, Window]) -> dict[str, Fraction]:
        return {source: windows[Quantity("extent", source).id].value for source in self.template.plan.sources}

    def _least_source(self, windows: Mapping[str, Window]) -> str:
        extents = self._extents(windows)
        return min(extents, key=lambda source: extents[source])

    def _source_after(self, mistake: Mistake) -> str:
        """The reagent that a mistake takes for the limiting one."""
        wrong = mistaken_windows(self.template.plan, [mistake], self.right, self._least_figures(), _EXACT)
        extents = self._extents(wrong)
        overall = wrong[Quantity("extent", "").id].value
        return min(extents, key=lambda source: abs(extents[source] - overall))

    def _carry_choice(self, chosen: str) -> None:
        own = self._own()
        self.carried[Quantity("extent", "").id] = own[Quantity("extent", chosen).id]

    # results

    def _result(self, part: PartKey, wrote: str, read: str, finding: _Finding, remarks: tuple[str, ...]) -> PartResult:
        return PartResult(
            problem=self.problem.problem,
            part=part.id,
            label=f"{self.problem.problem.removeprefix('p')}{part.label}",
            verdict=finding.verdict,
            reason=finding.reason,
            sentence=finding.sentence,
            remarks=remarks,
            points=part.points * finding.share,
            of=part.points,
            wrote=wrote,
            read=read,
        )


def _unread(reading: Reading) -> _Finding:
    verdict = {"blank": "blank", "wrong_dimension": "unit"}.get(reading.status, "unread")
    return _Finding(verdict, reading.status, reading.reason or "No answer.", Fraction(0))


def _told(reading: Reading, part: PartKey) -> str:
    """What was read, in the unit asked for: "39.5 g"."""
    if reading.written is None:
        return ""
    unit = reading.unit.text if reading.unit is not None else part.asked.unit
    return reading.written.text if unit == "1" else f"{reading.written.text} {unit}"


def _as_window(reading: Reading, part: PartKey) -> Window | None:
    """A student's value in engine units, as a value that may have been rounded where it is written."""
    if reading.written is None or reading.value_in_unit is None:
        return None
    unit = read_unit(part.asked.unit)
    value = reading.value_in_unit
    half = half_unit(value, reading.written.figures)
    bounds = sorted((unit.to_engine(value - half), unit.to_engine(value + half)))
    return Window(unit.to_engine(value), bounds[0], bounds[1], reading.written.figures)


def _slip_sentence(power: int) -> str:
    factor = (
        figures_text(Fraction(10) ** abs(power), 1).replace("e", " × 10^") if abs(power) > 3 else str(10 ** abs(power))
    )
    size = "small" if power > 0 else "large"
    return (
        f"The digits are right, but the value is too {size} by a factor of {factor}: look at units and powers of ten."
    )


def _hint(mistake: Mistake) -> str:
    return f"This looks like: {mistake.title}. {mistake.hint}"


def _figures_remark(reading: Reading, truth: Truth) -> str:
    if reading.written is None or not reading.counts_figures or not reading.written.value:
        return ""
    written = reading.written.figures
    if written < truth.figures:
        return f"Written with {written} significant figures; the data support {truth.figures}."
    if written > truth.figures + 1:
        return f"Written with {written} significant figures, more than the data support ({truth.figures})."
    return ""


def _unit_remark(reading: Reading) -> str:
    return "No unit was written." if reading.unit is None else ""
