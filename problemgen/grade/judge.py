"""Judging one student's answers against the keys alone.

Each answer is tried in this order: inside the window; inside after a slip of unit, sign or power of ten; consistent
with an earlier answer that was wrong (follow-through: that error was already paid for); what a usual mistake leads to;
otherwise wrong. A mistake is named only where it agrees with what the student answered before: a part that came out
right shows that its steps were right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from problemgen.chemistry.units import Unit, read_unit
from problemgen.exact.digits import Written
from problemgen.exact.rounding import half_unit
from problemgen.grade.choices import ChoiceOption, read_choice
from problemgen.grade.reading import Reading, read_answer
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey, Truth
from problemgen.model.plan import Mistake
from problemgen.model.problem import Asked
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

_PREFERRED = ("right", "follows", "mistake", "slip", "wrong", "unit", "unread", "blank")
"""Which verdict counts where a number can be read in two ways: the one that makes more sense of it."""


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
    numbers: list[tuple[Asked, Fraction]] = field(default_factory=list)  # what was answered so far, in the units asked
    chosen: str = ""  # the reagent that was answered

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
        readings = _readings(wrote, part, self.decimal_mark)
        judged = [(self._finding(part, truth, reading), reading) for reading in readings]
        finding, reading = min(judged, key=lambda pair: _PREFERRED.index(pair[0].verdict))
        value = _value(reading)
        if value is None:
            return self._result(part, wrote, "", finding, ())
        if finding.verdict != "right":
            self._carry(part.asked.quantity, _as_window(reading, part, truth))
        self.numbers.append((part.asked, value))
        remarks, lost = self._remarks(reading, part, truth, finding)
        finding = replace(finding, share=finding.share * (1 - lost))
        return self._result(part, wrote, _told(reading, part), finding, remarks)

    def _finding(self, part: PartKey, truth: Truth, reading: Reading) -> _Finding:
        value = _value(reading)
        if value is None:
            return _unread(reading)
        if truth.low <= value <= truth.high:
            return _Finding("right", "in-window", "Right.", Fraction(1))
        slip = _slip(truth, value)
        if slip is not None:
            return _Finding("slip", *slip, self.policy.unit_slip)
        if self._follows(part, value):
            sentence = "This follows from your earlier answer, which was not right; the way from there is."
            return _Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistake = self._mistake(part, value)
        if mistake is not None:
            return _Finding("mistake", mistake.id, _hint(mistake), self.policy.named_mistake)
        return _Finding("wrong", *_not_right(reading, part, truth), Fraction(0))

    def _builds_on_wrong(self, part: PartKey) -> bool:
        steps = self.template.plan.steps_to(part.asked.quantity.id)
        return any(step.quantity.id in self.carried for step in steps if step.quantity != part.asked.quantity)

    def _own(self, wanted: Iterable[str], leave_out: str = "") -> dict[str, Window] | None:
        """What the wanted quantities need, with the student's own wrong values in the place of the right ones.

        None where they cannot be worked with: a student may answer with 0.
        """
        plan = self.template.plan
        needed = {step.quantity.id for name in wanted for step in plan.steps_to(name)}
        steps = tuple(step for step in plan.steps if step.quantity.id in needed)
        carried = {name: window for name, window in self.carried.items() if name != leave_out}
        try:
            return window_values(replace(plan, steps=steps), {**self.given, **carried}, _EXACT)
        except ZeroDivisionError:
            return None

    def _own_for(self, part: PartKey) -> dict[str, Window] | None:
        """What a part needs, by the student's own values; None where it builds on nothing wrong."""
        name = part.asked.quantity.id
        return self._own([name], name) if self._builds_on_wrong(part) else None

    def _follows(self, part: PartKey, value: Fraction) -> bool:
        own = self._own_for(part)
        return own is not None and self._gives(part.asked, value, own)

    def _mistake(self, part: PartKey, value: Fraction) -> Mistake | None:
        """The first mistake that leads to a value, and to what was answered before."""
        own = self._own_for(part)
        starts = [self.right] if own is None else [self.right, {**self.right, **own}]
        mistakes = self.template.plan.mistakes
        return next((m for start in starts for m in mistakes if self._leads(m, part, value, start)), None)

    def _leads(self, mistake: Mistake, part: PartKey, value: Fraction, start: Mapping[str, Window]) -> bool:
        """Whether a mistake, made from a state of the problem, leads to a value and to what was answered before."""
        plan = self.template.plan
        touched = self._touched(mistake)
        if part.asked.quantity.id not in touched:
            return False
        try:
            wrong = mistaken_windows(plan, [mistake], start, self._least_figures(), _EXACT)
        except ZeroDivisionError:
            return False
        return self._gives(part.asked, value, wrong) and self._agrees(wrong, touched)

    def _touched(self, mistake: Mistake) -> frozenset[str]:
        """The quantities that a mistake may change."""
        stale = self.template.plan.stale([name for name, _ in mistake.rewrites])
        return frozenset(step.quantity.id for step in stale)

    def _gives(self, asked: Asked, value: Fraction, windows: Mapping[str, Window]) -> bool:
        """Whether a worker with these values may answer so."""
        window = answer_window(self.template.plan, asked, windows, _EXACT)
        return bool(window.low <= value <= window.high)

    def _agrees(self, wrong: Mapping[str, Window], touched: frozenset[str]) -> bool:
        """Whether all that was answered before, and that a mistake would have changed, is what it leads to."""
        extent = Quantity("extent", "").id
        if self.chosen and extent in touched and self._source_of(wrong) != self.chosen:
            return False
        return all(self._gives(asked, said, wrong) for asked, said in self.numbers if asked.quantity.id in touched)

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

    def _remarks(
        self, reading: Reading, part: PartKey, truth: Truth, finding: _Finding
    ) -> tuple[tuple[str, ...], Fraction]:
        """The remarks on a number that earned points, and the share that the policy takes off for them."""
        if finding.verdict not in ("right", "follows"):
            return (), Fraction(0)
        noted = [
            (self.policy.figures, _figures_remark(reading, truth)),
            (self.policy.missing_unit, _unit_remark(reading, part)),
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
        finding = self._judged_choice(reading.id, truth)
        if finding.verdict != "right":
            self._carry_choice(reading.id)
        self.chosen = reading.id
        read = self.template.species[reading.id].names[0]
        return self._result(part, wrote, read, finding, (reading.reason,) if reading.reason else ())

    def _judged_choice(self, chosen: str, truth: Truth) -> _Finding:
        if chosen == truth.choice:
            return _Finding("right", "in-window", "Right.", Fraction(1))
        if self.carried and self._own_least() == chosen:
            sentence = "This follows from your earlier answers, which were not all right."
            return _Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistake = next((m for m in self.template.plan.mistakes if self._leads_to_choice(m, chosen)), None)
        if mistake is not None:
            return _Finding("mistake", mistake.id, _hint(mistake), self.policy.named_mistake)
        sentence = "Not the limiting reagent. Compare how much product each reagent could give."
        return _Finding("wrong", "no-match", sentence, Fraction(0))

    def _extents(self, windows: Mapping[str, Window]) -> dict[str, Fraction]:
        return {source: windows[Quantity("extent", source).id].value for source in self.template.plan.sources}

    def _own_least(self) -> str:
        """The reagent that limits by the student's own values; "" where they cannot be worked with."""
        own = self._own(Quantity("extent", source).id for source in self.template.plan.sources)
        if own is None:
            return ""
        extents = self._extents(own)
        return min(extents, key=lambda source: extents[source])

    def _leads_to_choice(self, mistake: Mistake, chosen: str) -> bool:
        """Whether a mistake makes this reagent the limiting one, and leads to what was answered before."""
        touched = self._touched(mistake)
        if Quantity("extent", "").id not in touched:
            return False
        wrong = mistaken_windows(self.template.plan, [mistake], self.right, self._least_figures(), _EXACT)
        return self._source_of(wrong) == chosen and self._agrees(wrong, touched)

    def _source_of(self, windows: Mapping[str, Window]) -> str:
        """The reagent that was gone on with: the one whose extent is the reaction's."""
        extents = self._extents(windows)
        overall = windows[Quantity("extent", "").id].value
        return min(extents, key=lambda source: abs(extents[source] - overall))

    def _carry_choice(self, chosen: str) -> None:
        extent = Quantity("extent", chosen).id
        own = self._own([extent])
        if own is not None:
            self.carried[Quantity("extent", "").id] = own[extent]

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


def _readings(wrote: str, part: PartKey, mark: str) -> list[Reading]:
    """The ways to read a number: one, or two where the other decimal mark makes another number ("6,136")."""
    unit = read_unit(part.asked.unit)
    first = read_answer(wrote, unit, decimal_mark=mark)
    if first.status != "ambiguous":
        return [first]
    return [read_answer(wrote, unit, decimal_mark="," if mark == "." else "."), first]


def _value(reading: Reading) -> Fraction | None:
    """The number that was read, in the unit asked for."""
    return reading.value_in_unit if reading.status in ("number", "ambiguous") else None


def _slip(truth: Truth, value: Fraction) -> tuple[str, str] | None:
    """The reason and the sentence for a slip of unit, power of ten or sign; None where there is none."""
    for power in _SLIPS:
        if truth.low <= value * Fraction(10) ** power <= truth.high:
            return f"power-of-ten:{-power}", _slip_sentence(power)
    if truth.low <= -value <= truth.high:
        return "sign", "The digits are right, but not the sign."
    return None


def _not_right(reading: Reading, part: PartKey, truth: Truth) -> tuple[str, str]:
    """The reason and the sentence for an answer that is wrong: rounded too far, or without any explanation."""
    window = _as_window(reading, part, truth)
    if window is not None and window.figures < truth.figures and _meets(window, truth, read_unit(part.asked.unit)):
        return "rounded-too-far", f"Rounded too far: the data support {truth.figures} significant figures."
    return "no-match", "Not right. Go through the steps again, and write the unit beside each number."


def _meets(window: Window, truth: Truth, unit: Unit) -> bool:
    """Whether a student's window (engine units) has anything in common with the right one (in a unit)."""
    return bool(window.low <= unit.to_engine(truth.high) and unit.to_engine(truth.low) <= window.high)


def _unread(reading: Reading) -> _Finding:
    verdict = {"blank": "blank", "wrong_dimension": "unit"}.get(reading.status, "unread")
    return _Finding(verdict, reading.status, reading.reason or "No answer.", Fraction(0))


def _told(reading: Reading, part: PartKey) -> str:
    """What was read, in the unit asked for: "39.5 g"."""
    if reading.written is None:
        return ""
    unit = reading.unit.text if reading.unit is not None else part.asked.unit
    return reading.written.text if unit == "1" else f"{reading.written.text} {unit}"


def _as_window(reading: Reading, part: PartKey, truth: Truth) -> Window | None:
    """A student's value in engine units, as a value that may have been rounded where it is written.

    Its figures are those of the data at most: what follows may be rounded to them, however many were written.
    """
    if reading.written is None or reading.value_in_unit is None:
        return None
    unit = read_unit(part.asked.unit)
    value, figures = reading.value_in_unit, _figures(reading.written, truth)
    half = half_unit(value, figures)
    bounds = sorted((unit.to_engine(value - half), unit.to_engine(value + half)))
    return Window(unit.to_engine(value), bounds[0], bounds[1], min(figures, truth.figures))


def _figures(written: Written, truth: Truth) -> int:
    """The figures that a number shows: zeros at the end of "15000" count no further than the data support."""
    if not written.text.isdecimal():
        return written.figures
    return min(written.figures, max(len(written.text.rstrip("0")), truth.figures))


def _slip_sentence(power: int) -> str:
    factor = f"10^{abs(power)}" if abs(power) > 4 else str(10 ** abs(power))
    size = "small" if power > 0 else "large"
    return (
        f"The digits are right, but the value is too {size} by a factor of {factor}: look at units and powers of ten."
    )


def _hint(mistake: Mistake) -> str:
    return f"This looks like: {mistake.title}. {mistake.hint}"


def _figures_remark(reading: Reading, truth: Truth) -> str:
    if reading.written is None or not reading.counts_figures or not reading.written.value:
        return ""
    written = _figures(reading.written, truth)
    if written < truth.figures:
        return f"Written with {written} significant figures; the data support {truth.figures}."
    if written > truth.figures + 1:
        return f"Written with {written} significant figures, more than the data support ({truth.figures})."
    return ""


def _unit_remark(reading: Reading, part: PartKey) -> str:
    return "No unit was written." if reading.unit is None and part.asked.unit != "1" else ""
