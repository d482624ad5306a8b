"""Candidates of a template: drawn values of many students at once, as arrays."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import numpy.typing as npt

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, written_steps
from problemgen.make.draws import class_numbers, indices, shares, within
from problemgen.model.expression import names_in
from problemgen.model.fixed import Datum
from problemgen.model.template import Analysed, Draw, Fixed, Obtained, Reading, Template
from problemgen.plan.arithmetic import Window, in_unit
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate
from problemgen.plan.windows import given_window

__all__ = ["HIDDEN", "Candidates", "Stream", "draw_candidates", "window_rows"]

Floats = npt.NDArray[np.float64]
Counts = npt.NDArray[np.int64]


GRADED = "graded"
"""The purpose of numbers that are marked."""

HIDDEN = "hidden formula"
"""The name of the draw that picks the formula of an unknown compound."""


@dataclass(frozen=True)
class Stream:
    """Where a problem's numbers come from: the set's secret and name, the problem, what they are for, and the term."""

    secret: bytes
    set_id: str
    problem: str
    purpose: str = GRADED
    term: str = ""

    @property
    def is_graded(self) -> bool:
        """Whether the numbers count for anything: then they stand in no practice problem."""
        return self.purpose == GRADED

    def numbers(
        self, students: Sequence[str], draw: str, block: int, size: int, start: int = 0
    ) -> npt.NDArray[np.uint64]:
        """The numbers of one named draw, student after student: `size` of a block, from number `start` on."""
        before = within(self.term, self.purpose, self.set_id, self.problem)
        return class_numbers(self.secret, before, students, (draw, str(block)), start + size)[:, start:].ravel()


@dataclass(frozen=True)
class Candidates:
    """Candidates in rows: which step of its scale each drawn value stands on, and the windows of all given values.

    `steps` and `windows` are by quantity id; every array has one element a candidate, student after student.
    """

    steps: Mapping[str, Counts]
    windows: Mapping[str, Window]

    @property
    def rows(self) -> int:
        """How many candidates there are."""
        return len(next(iter(self.windows.values())).value)

    def taken(self, rows: Counts) -> Candidates:
        """Some of the candidates."""
        windows = {name: window_rows(window, rows) for name, window in self.windows.items()}
        return Candidates({name: steps[rows] for name, steps in self.steps.items()}, windows)

    def datum(self, template: Template, quantity_id: str, row: int) -> Datum:
        """One given value of one candidate, as printed."""
        source = template.sources[quantity_id]
        if isinstance(source, Fixed):
            return Datum(source.written, source.unit)
        step = int(self.steps[quantity_id][row])
        choices = source.choices if isinstance(source, Draw) else ()
        return Datum(choices[step] if choices else written_steps(step, source.step), source.unit)


def window_rows(window: Window, rows: Counts) -> Window:
    """The window of some candidates; what is the same for all stays a single number, and a point a point."""

    def taken(numbers: Any) -> Any:
        return numbers[rows] if np.ndim(numbers) else numbers

    value, figures = taken(window.value), taken(window.figures)
    if window.is_point:
        return Window(value, value, value, figures)
    return Window(value, taken(window.low), taken(window.high), figures)


def draw_candidates(
    template: Template, stream: Stream, students: Sequence[str], block: int, size: int, start: int = 0
) -> Candidates:
    """`size` candidates a student from one block of the stream, from the block's candidate `start` on."""

    def numbers(draw: str) -> npt.NDArray[np.uint64]:
        return stream.numbers(students, draw, block, size, start)

    rows = size * len(students)
    steps: dict[str, Counts] = {}
    windows: dict[str, Window] = {}
    for fixed in template.fixed:
        value = np.full(rows, float(fixed.written.value))
        windows[fixed.quantity.id] = given_window(
            value, fixed.written.place, read_unit(fixed.unit), Batch(), fixed.quantity.kind
        )
    for draw in template.draws:
        picked = _picked(template, draw, numbers, steps)
        steps[draw.quantity.id] = picked
        windows[draw.quantity.id] = _drawn_window(draw, picked)
    behind = {
        draw.quantity.id: _drawn_window(draw, _picked(template, draw, numbers, steps)) for draw in template.hidden
    }
    for reading in template.readings:
        offset = indices(numbers(reading.quantity.id), reading.most - reading.least + 1) + reading.least
        steps[reading.quantity.id] = picked = np.maximum(_reading_steps(reading, {**windows, **behind}) + offset, 0)
        value = _on_scale(picked, reading.step)
        windows[reading.quantity.id] = given_window(value, reading.step.place, read_unit(reading.unit), Batch())
    if template.unknown is not None:
        hidden = indices(numbers(HIDDEN), len(template.unknown.formulas))
        steps[HIDDEN] = hidden
        for one in template.unknown.analysed:
            offset = indices(numbers(one.quantity.id), 2 * one.spread + 1) - one.spread
            picked = np.maximum(_analysed_steps(one, hidden, windows) + offset, 1)
            steps[one.quantity.id] = picked
            value = _on_scale(picked, one.step)
            windows[one.quantity.id] = given_window(
                value, one.step.place, read_unit(one.unit), Batch(), one.quantity.kind
            )
    for obtained in template.obtained:
        share = shares(numbers(obtained.quantity.id))
        picked = _obtained_steps(template, obtained, share, windows)
        steps[obtained.quantity.id] = picked
        value = _on_scale(picked, obtained.step)
        windows[obtained.quantity.id] = given_window(
            value, obtained.step.place, read_unit(obtained.unit), Batch(), "mass"
        )
    return Candidates(steps, windows)


def _picked(
    template: Template, draw: Draw, numbers: Callable[[str], npt.NDArray[np.uint64]], steps: Mapping[str, Counts]
) -> Counts:
    """Which value of its scale or list is taken; one that follows another draw stands at the same place as that."""
    if draw.follows is None:
        return indices(numbers(draw.quantity.id), draw.count) + _first(draw)
    leader = next(one for one in template.draws if one.quantity == draw.follows)
    return steps[leader.quantity.id] - _first(leader)


def _first(draw: Draw) -> int:
    return 0 if draw.choices else draw.first


def _drawn_window(draw: Draw, picked: Counts) -> Window:
    if draw.choices:
        value = np.array([float(choice.value) for choice in draw.choices])[picked]
        place: Any = np.array([choice.place for choice in draw.choices])[picked]
    else:
        value, place = _on_scale(picked, draw.step), draw.step.place
    return given_window(value, place, read_unit(draw.unit), Batch(), draw.quantity.kind)


def _on_scale(picked: Counts, step: Written) -> Floats:
    """Whole steps as floats, each the nearest to its exact value."""
    product: Floats = (picked * step.value.numerator).astype(np.float64)
    return product / float(step.value.denominator)


def _obtained_steps(template: Template, obtained: Obtained, share: Floats, windows: Mapping[str, Window]) -> Counts:
    """The mass obtained, in steps of the balance: the drawn percent yield of the theoretical mass, rounded."""
    low, high = float(obtained.low.value), float(obtained.high.value)
    percent = low + share * (high - low)
    theoretical = _value_of(template, obtained.theoretical.id, {name: w.value for name, w in windows.items()})
    in_steps = Fraction(obtained.step.value)
    mass = in_unit(theoretical, read_unit(obtained.unit), Batch())
    steps: Counts = np.floor(percent / 100.0 * mass / float(in_steps) + 0.5).astype(np.int64)
    return np.maximum(steps, 1)


def _reading_steps(reading: Reading, windows: Mapping[str, Window]) -> Counts:
    """Where a reading stands without spread, in steps of its scale."""
    value = evaluate(reading.expression, {name: windows[name].value for name in reading.bases}, Batch())
    in_steps = in_unit(value, read_unit(reading.unit), Batch()) / float(reading.step.value)
    steps: Counts = np.floor(in_steps + 0.5).astype(np.int64)
    return steps


def _analysed_steps(analysed: Analysed, hidden: Counts, windows: Mapping[str, Window]) -> Counts:
    """What the analysis of each candidate's hidden formula gives, in steps of its scale."""
    value = np.array([float(factor) for factor in analysed.factors])[hidden]
    if analysed.times is not None:
        known = {name: windows[name].value for name in names_in(analysed.times)}
        value = value * in_unit(evaluate(analysed.times, known, Batch()), read_unit(analysed.unit), Batch())
    steps: Counts = np.floor(value / float(analysed.step.value) + 0.5).astype(np.int64)
    return steps


def _value_of(template: Template, name: str, known: Mapping[str, Any]) -> Any:
    """One value of a template's plan, from what is known before everything is given."""
    values = {c.quantity.id: Batch().number(c.value) for c in template.plan.constants} | dict(known)
    for step in template.plan.steps_to(name):
        values[step.quantity.id] = evaluate(step.expression, values, Batch())
    return values[name]
