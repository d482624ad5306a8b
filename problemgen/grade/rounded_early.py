"""Answers that the right way leads to when a result on the way is rounded further than an honest worker may.

The ways tried, the milder first: one result with two figures; all results with two; molar masses to one decimal or to
none; amounts and masses to a decimal place; one result with one figure; all with one; atomic weights to one decimal or
to none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache

import numpy as np

from problemgen.exact.rounding import round_to_figures, round_to_place
from problemgen.grade.bench import EXACT, Bench
from problemgen.grade.findings import Said
from problemgen.model.answers import PartKey
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Constant
from problemgen.plan.arithmetic import Window
from problemgen.plan.evaluate import altered_windows
from problemgen.plan.partial import worked_windows
from problemgen.plan.variations import Changes, Rounding, as_float, changes_of, varied_values

__all__ = ["RULES", "RoundedEarly", "rounded_early"]

_LOOSE = 0.02
"""How far, relatively, a way may lie from an answer in floats to be worked exactly: wider than most windows."""

_FARTHEST = 0.5
"""No rounding leads farther from the right value than so, relatively: a leading 1 that stands for 1.5."""


@dataclass(frozen=True)
class _Habit:
    """A habit of rounding too early: in words, and which results it rounds, by how a careful worker rounds them.

    To `figures`: each such result alone, then all of them. With 0 figures: to `places`, by kind of quantity, in engine
    units; kinds that are not in it are left alone.
    """

    words: str
    figures: int = 0
    places: Mapping[str, int] = field(default_factory=dict)
    of: str = "figures"


_HABITS = (
    _Habit("two significant figures", figures=2),
    _Habit("molar masses rounded to one decimal", places={"molar_mass": -1}, of="molar mass"),
    _Habit("molar masses rounded to whole numbers", places={"molar_mass": 0}, of="molar mass"),
    _Habit("amounts rounded to 0.001 mol", places={"amount": -3, "extent": -3}),
    _Habit("amounts rounded to 0.01 mol", places={"amount": -2, "extent": -2}),
    _Habit("masses rounded to 0.1 g", places={"mass": -1}),
    _Habit("masses rounded to 0.1 g, amounts to 0.001 mol", places={"mass": -1, "amount": -3, "extent": -3}),
    _Habit("masses rounded to 0.1 g, amounts to 0.01 mol", places={"mass": -1, "amount": -2, "extent": -2}),
    _Habit("one significant figure", figures=1),
)
"""The habits in the order of trial, the milder first: common practice, no source."""

_SHORT_WEIGHTS = ((-1, "one decimal"), (0, "whole numbers"))
"""Places to which atomic weights are cut, tried last: they are constants, and the plan is worked anew with them."""

RULES: Mapping[str, object] = {
    "loose": _LOOSE,
    "farthest": _FARTHEST,
    "habits": tuple((one.figures, one.places, one.of) for one in _HABITS),
    "short_weights": tuple(place for place, _ in _SHORT_WEIGHTS),
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


@dataclass(frozen=True)
class RoundedEarly:
    """A way of rounding too early that leads to an answer: in words, and the quantities rounded so."""

    what: str
    at: tuple[str, ...]


_Way = tuple[str, Mapping[str, Rounding]]


@dataclass(frozen=True)
class _Ways:
    ways: tuple[_Way, ...]
    steps: tuple[Step, ...]
    changes: Changes


@lru_cache(maxsize=2048)
def _ways(plan: Plan, asked: str, fixed: frozenset[str]) -> _Ways:
    """The ways to round too early on the way to a quantity; what is fixed is not worked again."""
    steps = tuple(step for step in plan.steps_to(asked) if step.quantity.id not in fixed)
    before = [step for step in steps if step.quantity.id != asked]
    ways = tuple(way for habit in _HABITS for way in _by_habit(habit, before) if way[1])
    return _Ways(ways, steps, changes_of([roundings for _, roundings in ways]))


def _by_habit(habit: _Habit, steps: list[Step]) -> Iterator[_Way]:
    mine = [step for step in steps if step.rounding == habit.of]
    if habit.figures:
        yield from _to_figures(mine, habit.figures, habit.words)
    else:
        cut = {s.quantity.id: habit.places.get(s.quantity.kind) for s in mine}
        yield habit.words, {name: Rounding(place=place) for name, place in cut.items() if place is not None}


def _to_figures(worked: list[Step], figures: int, words: str) -> Iterator[_Way]:
    for step in worked:
        yield f"{step.quantity.id} rounded to {words}", {step.quantity.id: Rounding(figures)}
    if len(worked) > 1:
        yield f"every result rounded to {words}", {s.quantity.id: Rounding(figures) for s in worked}


@np.errstate(all="ignore")
def rounded_early(bench: Bench, part: PartKey, said: Said, start: Mapping[str, Window]) -> RoundedEarly | None:
    """The first way of rounding too early that leads from a state of the problem to an answer; None where none does."""
    name = part.asked.quantity.id
    right = {name: as_float(window.value) for name, window in start.items()}
    target = as_float(said.engine)
    if not abs(target - right[name]) <= _FARTHEST * abs(right[name]):
        return None
    fixed = frozenset(bench.carried.keys() - {name})
    ways = _ways(bench.template.plan, name, fixed)
    reached = varied_values(ways.steps, ways.changes, right, len(ways.ways)).get(name)
    near = np.flatnonzero(np.abs(reached - target) <= _LOOSE * abs(target)) if reached is not None else ()
    for row in near:
        what, roundings = ways.ways[row]
        if _leads(bench, said, _rounded(bench, ways.steps, roundings, start), what):
            return RoundedEarly(what, tuple(roundings))
    return _with_short_weights(bench, said, fixed)


def _leads(bench: Bench, said: Said, windows: Mapping[str, Window] | None, what: str) -> bool:
    if windows is None:
        return False
    fits = bench.fits(said, windows)
    why = "leads to this answer" if fits else "leads elsewhere"
    bench.tried("rounding", what, why, fits=fits, leads_to=bench.answer(said, windows))
    return fits


def _rounded(
    bench: Bench, steps: tuple[Step, ...], roundings: Mapping[str, Rounding], start: Mapping[str, Window]
) -> dict[str, Window] | None:
    """The windows where some results are rounded so; None where one of them becomes 0 and cannot be gone on with."""
    alter = {name: _rounding(rounding) for name, rounding in roundings.items()}
    try:
        return altered_windows(steps, alter, start, bench.least_figures, EXACT)
    except ZeroDivisionError:
        return None


def _rounding(rounding: Rounding) -> Callable[[Window], Window]:
    def rounded(window: Window) -> Window:
        value, low, high = (_rounded_number(one, rounding) for one in (window.value, window.low, window.high))
        return Window(value, low, high, window.figures)

    return rounded


def _rounded_number(value: Fraction, rounding: Rounding) -> Fraction:
    return round_to_figures(value, rounding.figures) if rounding.figures else round_to_place(value, rounding.place)


def _with_short_weights(bench: Bench, said: Said, fixed: frozenset[str]) -> RoundedEarly | None:
    """Atomic weights with fewer decimals than two."""
    plan = bench.template.plan
    given = {**bench.given, **{name: bench.carried[name] for name in fixed}}
    for place, words in _SHORT_WEIGHTS:
        short = _short_weights(plan, place, said.asked.quantity.id)
        if short is None:
            return None
        what = f"atomic weights rounded to {words}"
        if _leads(bench, said, worked_windows(short, given), what):
            return RoundedEarly(what, tuple(s.quantity.id for s in short.steps if s.rounding == "molar mass"))
    return None


@lru_cache(maxsize=2048)
def _short_weights(plan: Plan, place: int, asked: str) -> Plan | None:
    """The steps to a quantity with shorter atomic weights; None where it needs none of them."""
    steps = plan.steps_to(asked)
    needed = frozenset[str]().union(*(step.needs for step in steps))
    weights = {c.quantity.id for c in plan.constants if c.quantity.kind == "atomic_weight"}
    if needed.isdisjoint(weights):
        return None
    constants = (_short(c, place) if c.quantity.id in weights else c for c in plan.constants)
    return replace(plan, steps=steps, constants=tuple(constants))


def _short(constant: Constant, place: int) -> Constant:
    value = round_to_place(constant.value, place)
    return replace(constant, value=value, low=value, high=value)
