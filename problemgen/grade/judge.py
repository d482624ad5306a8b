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
from functools import cached_property

from problemgen.chemistry.equation import read_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import half_unit
from problemgen.grade.choices import ChoiceOption, read_choice
from problemgen.grade.findings import (
    Finding,
    Said,
    as_window,
    figures_remark,
    hint_of,
    not_right,
    readings_of,
    rounded_once_more,
    said_in,
    slip_of,
    told,
    unit_remark,
    unread,
)
from problemgen.grade.notation import (
    equation_finding,
    formula_mass,
    read_equation_answer,
    read_formula_answer,
    subscripts,
)
from problemgen.grade.reading import Reading
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey, Truth
from problemgen.model.plan import Mistake
from problemgen.model.problem_set import Policy
from problemgen.model.quantity import Quantity, reagent_of
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.plan.arithmetic import Exact, Window
from problemgen.plan.evaluate import data_figures, mistaken_steps, mistaken_windows, window_values
from problemgen.plan.windows import answer_window, given_window

__all__ = ["judge_student"]

_EXACT = Exact()
_PREFERRED = ("right", "follows", "mistake", "slip", "wrong", "unit", "unread", "blank")
"""Which verdict counts where a number can be read in two ways: the one that makes more sense of it."""


def judge_student(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> StudentResult:
    """Mark all parts of a student; `cells` holds what they wrote, by column ("1a", "1b", …)."""
    parts: list[PartResult] = []
    for problem in key.problems:
        template = head.templates[problem.template]
        parts.extend(_Bench(template, problem, head.policy, head.decimal_mark).judged(cells))
    return StudentResult(key.student, key.name, key.section, key.code, tuple(parts))


@dataclass
class _Bench:
    """One problem of one student under judgement."""

    template: TemplateKey
    problem: ProblemKey
    policy: Policy
    decimal_mark: str
    carried: dict[str, Window] = field(default_factory=dict)  # the student's own values of what was wrong
    numbers: list[Said] = field(default_factory=list)  # what was answered so far
    chosen: str = ""  # the reagent that was answered

    @cached_property
    def given(self) -> dict[str, Window]:
        """The windows of what was given."""
        return {
            name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT)
            for name, datum in self.problem.given.items()
        }

    @cached_property
    def right(self) -> dict[str, Window]:
        """The problem worked with the right numbers: not before an answer lies outside its window."""
        return window_values(self.template.plan, self.given, _EXACT)

    def judged(self, cells: Mapping[str, str]) -> Iterator[PartResult]:
        """The results of all parts, in order."""
        number = self.problem.problem.removeprefix("p")
        for part in self.template.parts:
            wrote = cells.get(f"{number}{part.label}", "")
            judges = {"species": self._choice, "formula": self._formula, "equation": self._equation}
            judge = judges.get(part.asked.form, self._number)
            yield judge(part, self.problem.truths[part.id], wrote)

    # numbers

    def _number(self, part: PartKey, truth: Truth, wrote: str) -> PartResult:
        readings = readings_of(wrote, part, self.decimal_mark)
        judged = [(self._finding(part, truth, reading), reading) for reading in readings]
        finding, reading = min(judged, key=lambda pair: _PREFERRED.index(pair[0].verdict))
        said = said_in(reading, part, truth)
        if said is None:
            return self._result(part, wrote, "", finding, ())
        if finding.verdict != "right":
            self._carry(part.asked.quantity, as_window(reading, part, truth))
        self.numbers.append(said)
        remarks, lost = self._remarks(reading, part, truth, finding)
        finding = replace(finding, share=finding.share * (1 - lost))
        return self._result(part, wrote, told(reading, part), finding, remarks)

    def _finding(self, part: PartKey, truth: Truth, reading: Reading) -> Finding:
        said = said_in(reading, part, truth)
        if said is None:
            return unread(reading)
        if truth.low <= said.value <= truth.high:
            return Finding("right", "in-window", "Right.", Fraction(1))
        if rounded_once_more(reading, part, truth):
            return Finding("right", "one-figure-fewer", "Right.", Fraction(1))
        slip = slip_of(truth, said.value)
        if slip is not None:
            return Finding("slip", *slip, self.policy.unit_slip)
        if self._follows(part, said):
            sentence = "This follows from your earlier answer, which was not right; the way from there is."
            return Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistake = self._mistake(part, said)
        if mistake is not None:
            return Finding("mistake", mistake.id, hint_of(mistake), self.policy.named_mistake)
        return Finding("wrong", *not_right(reading, part, truth), Fraction(0))

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

    def _follows(self, part: PartKey, said: Said) -> bool:
        own = self._own_for(part)
        return own is not None and self._gives(said, own)

    def _mistake(self, part: PartKey, said: Said) -> Mistake | None:
        """The first mistake that leads to a value, and to what was answered before."""
        own = self._own_for(part)
        starts = [self.right] if own is None else [self.right, {**self.right, **own}]
        mistakes = self.template.plan.mistakes
        return next((m for start in starts for m in mistakes if self._leads(m, said, start)), None)

    def _leads(self, mistake: Mistake, said: Said, start: Mapping[str, Window]) -> bool:
        """Whether a mistake, made from a state of the problem, leads to a value and to what was answered before.

        Steps are worked up to the first that tells against it: most mistakes are ruled out soon.
        """
        touched = self._touched(mistake)
        if said.asked.quantity.id not in touched:
            return False
        wrong = start
        try:
            changed = mistaken_steps(self.template.plan, [mistake], start, self._least_figures(), _EXACT)
            for name, wrong in changed:
                told = (one for one in (said, *self.numbers) if one.asked.quantity.id == name)
                if not all(self._gives(one, wrong) for one in told):
                    return False
        except ZeroDivisionError:
            return False
        return self._agrees_in_choice(wrong, touched)

    def _touched(self, mistake: Mistake) -> frozenset[str]:
        """The quantities that a mistake may change."""
        stale = self.template.plan.stale([name for name, _ in mistake.rewrites])
        return frozenset(step.quantity.id for step in stale)

    def _gives(self, said: Said, windows: Mapping[str, Window]) -> bool:
        """Whether a worker with these values may answer so, rounded to the figures that the right values support."""
        window = answer_window(self.template.plan, said.asked, windows, _EXACT)
        half = half_unit(said.value, said.figures) if said.figures < window.figures else Fraction(0)
        return bool(window.low - half <= said.value <= window.high + half)

    def _agrees(self, wrong: Mapping[str, Window], touched: frozenset[str]) -> bool:
        """Whether all that was answered before, and that a mistake would have changed, is what it leads to."""
        told = [said for said in self.numbers if said.asked.quantity.id in touched]
        return self._agrees_in_choice(wrong, touched) and all(self._gives(said, wrong) for said in told)

    def _agrees_in_choice(self, wrong: Mapping[str, Window], touched: frozenset[str]) -> bool:
        """Whether the reagent that was answered before, where a mistake would have changed it, is what it leads to."""
        changed = self.chosen and Quantity("extent", "").id in touched
        return not changed or self._source_of(wrong) == self.chosen

    def _least_figures(self) -> int:
        return int(data_figures(self.given.values(), _EXACT))

    def _carry(self, quantity: Quantity, window: Window | None) -> None:
        """Take a wrong answer over, so that what builds on it can be followed through.

        Nothing follows from 0 or less: else a student could answer 0 throughout.
        """
        if window is None or window.low <= 0:
            return
        self.carried[quantity.id] = window
        reagent = reagent_of(quantity.role)
        extent = Quantity("extent", reagent).id
        if reagent and extent in self.right and self.right[extent].value:
            times = self.right[quantity.id].value / self.right[extent].value
            self.carried[extent] = Window(window.value / times, window.low / times, window.high / times, window.figures)

    def _remarks(
        self, reading: Reading, part: PartKey, truth: Truth, finding: Finding
    ) -> tuple[tuple[str, ...], Fraction]:
        """The remarks on a number that earned points, and the share that the policy takes off for them."""
        if finding.verdict not in ("right", "follows"):
            return (), Fraction(0)
        noted = [
            (self.policy.figures, figures_remark(reading, truth)),
            (self.policy.missing_unit, unit_remark(reading, part)),
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
            return self._result(part, wrote, "", Finding(verdict, reading.status, sentence, Fraction(0)), ())
        finding = self._judged_choice(reading.id, truth)
        if finding.verdict != "right":
            self._carry_choice(reading.id)
        self.chosen = reading.id
        read = self.template.species[reading.id].names[0]
        return self._result(part, wrote, read, finding, (reading.reason,) if reading.reason else ())

    def _judged_choice(self, chosen: str, truth: Truth) -> Finding:
        if chosen == truth.choice:
            return Finding("right", "in-window", "Right.", Fraction(1))
        if self.carried and self._own_least() == chosen:
            sentence = "This follows from your earlier answers, which were not all right."
            return Finding("follows", "follow-through", sentence, self.policy.follow_through)
        mistake = next((m for m in self.template.plan.mistakes if self._leads_to_choice(m, chosen)), None)
        if mistake is not None:
            return Finding("mistake", mistake.id, hint_of(mistake), self.policy.named_mistake)
        sentence = "Not the limiting reagent. Compare how much product each reagent could give."
        return Finding("wrong", "no-match", sentence, Fraction(0))

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

    # formulas and equations

    def _formula(self, part: PartKey, truth: Truth, wrote: str) -> PartResult:
        reading = read_formula_answer(wrote)
        if reading.formula is None:
            assert reading.unread is not None
            return self._result(part, wrote, "", reading.unread, ())
        finding = self._judged_formula(part, truth, reading.formula)
        if finding.verdict != "right":
            self._carry_formula(part, reading.formula)
        return self._result(part, wrote, reading.formula.text, finding, ())

    def _judged_formula(self, part: PartKey, truth: Truth, formula: Formula) -> Finding:
        if formula.composition == read_formula(truth.text).composition:
            return Finding("right", "in-window", "Right.", Fraction(1))
        quantity, plan = part.asked.quantity.id, self.template.plan
        mass = formula_mass(formula, plan)
        own = self._own([quantity], quantity) if self._builds_on_wrong(part) else None
        if own is not None and own[quantity].value == mass:
            sentence = "This follows from your earlier answer, which was not right; the way from there is."
            return Finding("follows", "follow-through", sentence, self.policy.follow_through)
        for mistake in plan.mistakes:
            wrong = mistaken_windows(plan, [mistake], self.right, self._least_figures(), _EXACT)
            if wrong[quantity].value == mass and wrong[quantity].value != self.right[quantity].value:
                return Finding("mistake", mistake.id, hint_of(mistake), self.policy.named_mistake)
        sentence = "Not this formula. Turn masses into amounts, and compare them with the least."
        return Finding("wrong", "no-match", sentence, Fraction(0))

    def _carry_formula(self, part: PartKey, formula: Formula) -> None:
        plan, quantity = self.template.plan, part.asked.quantity
        values = subscripts(formula, plan, quantity.role)
        mass = formula_mass(formula, plan)
        for name, value in {**values, **({quantity.id: mass} if mass else {})}.items():
            self.carried[name] = Window(value, value, value)

    def _equation(self, part: PartKey, truth: Truth, wrote: str) -> PartResult:
        reading = read_equation_answer(wrote)
        if reading.equation is None:
            assert reading.unread is not None
            return self._result(part, wrote, "", reading.unread, ())
        finding, remark = equation_finding(reading.equation, read_equation(truth.text))
        return self._result(part, wrote, reading.equation.text, finding, (remark,) if remark else ())

    # results

    def _result(self, part: PartKey, wrote: str, read: str, finding: Finding, remarks: tuple[str, ...]) -> PartResult:
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
