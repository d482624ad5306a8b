"""Answers of every sort to a built set: right, rounded, mistaken, following from an own error, malformed, blank."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.quantity import kind_named
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import window_values
from problemgen.plan.windows import given_window
from tests.support.worked_values import mistaken_values, run_steps

__all__ = ["answered_at_random"]

_EXACT = Exact()
_WORKERS = ("right", "rounded", "mistaken", "mistaken", "twice mistaken", "own", "own", "malformed", "early", "mixed")
_MALFORMED = (
    "",
    "?",
    "see notebook",
    "5 or 6",
    "1,234",
    "abc",
    "-3",
    "0",
    "1e400",
    "12 K",
    "0.5 kPa",
    "21 °C",
    "=A1",
    "9.9.9",
    "½",
    "１２",
)
_FACTORS = tuple(Fraction(text) for text in ("11/10", "1/1000", "1000", "2", "98/100", "-1", "3/2", "1/10"))
_OTHER_FORMULAS = ("H2O", "CH4", "C2H6O", "C6H12O6", "Xx2", "Fe3+")


def answered_at_random(head: KeyHead, key: StudentKey, draw: random.Random) -> Mapping[str, str]:
    """Cells for all parts of a student; reagents are named as the key names them."""
    cells: dict[str, str] = {}
    for problem in key.problems:
        number = problem.problem.removeprefix("p")
        answers = _Answers(head.templates[problem.template], problem, draw)
        cells |= {f"{number}{label}": cell for label, cell in answers.cells()}
    return cells


class _Answers:
    """One student at one problem."""

    def __init__(self, template: TemplateKey, problem: ProblemKey, draw: random.Random) -> None:
        self.template, self.problem, self.draw = template, problem, draw
        given = {
            name: given_window(
                datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT, kind_named(name)
            )
            for name, datum in problem.given.items()
        }
        windows = window_values(template.plan, given, _EXACT)
        self.right = {name: window.value for name, window in windows.items()}
        self.worker = draw.choice(_WORKERS)
        self.values = self._worked()

    def _worked(self) -> Mapping[str, Fraction]:
        """The values that this worker reaches before rounding."""
        count = {"mistaken": 1, "mixed": 1, "twice mistaken": 2}.get(self.worker, 0)
        mistakes = self.template.plan.mistakes
        if not count or len(mistakes) < count:
            return self.right
        try:
            return mistaken_values(self.template.plan, self.draw.sample(mistakes, count), self.right, _EXACT)
        except ZeroDivisionError:
            return self.right

    def cells(self) -> Iterator[tuple[str, str]]:
        for part in self.template.parts:
            yield part.label, self._cell(part, self.problem.truths[part.id])

    def _cell(self, part: PartKey, truth: Any) -> str:
        if self.draw.random() < 0.03:
            return ""
        if part.asked.form == "species":
            chosen = truth.choice if self.draw.random() < 0.6 else self.draw.choice(self.template.plan.sources)
            return self.template.scene.species[chosen].names[0]
        if part.asked.form in ("formula", "equation"):
            return self._notation(truth.text)
        if self.worker == "malformed" and self.draw.random() < 0.5:
            return self.draw.choice(_MALFORMED)
        return self._number(part, truth)

    def _notation(self, right: str) -> str:
        swapped = (
            right.replace("2", "3", 1),
            right.replace("4", "5"),
            right.replace("->", "="),
            f"{right}.",
            f"2 {right}",
        )
        return right if self.draw.random() < 0.5 else self.draw.choice((*swapped, *_OTHER_FORMULAS))

    def _number(self, part: PartKey, truth: Any) -> str:
        unit, name = read_unit(part.asked.unit), part.asked.quantity.id
        value = unit.from_engine(self.values[name])
        if self.worker == "mixed" and self.draw.random() < 0.3:
            value = unit.from_engine(self.right[name])
        if self.worker == "own" and self.draw.random() < 0.4:
            value *= self.draw.choice(_FACTORS)
            self._go_on_with(name, unit.to_engine(value))
        figures = {
            "rounded": truth.figures + self.draw.choice((-2, -1, 0, 1, 3)),
            "early": self.draw.choice((1, 2, 3, truth.figures)),
        }.get(self.worker, truth.figures)
        return self._typed(value, max(1, figures), part.asked.unit)

    def _go_on_with(self, name: str, value: Fraction) -> None:
        """Work what follows with the own value."""
        plan = self.template.plan
        stale = {step.quantity.id for step in plan.stale([name])}
        kept = {one: known for one, known in self.values.items() if one not in stale}
        try:
            self.values = run_steps(plan.steps, {**kept, name: value}, _EXACT)
        except ZeroDivisionError:
            return

    def _typed(self, value: Fraction, figures: int, unit: str) -> str:
        text = figures_text(value, figures)
        if self.draw.random() < 0.2:
            text = text.replace("e", " × 10^")
        if self.draw.random() < 0.1:
            text = text.replace(".", ",")
        return f"{text} {unit}" if unit != "1" and self.draw.random() < 0.6 else text
