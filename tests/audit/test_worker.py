"""The simulated worker: apart from the intervals, the same in columns and in digits, by the usual rules for figures."""

from __future__ import annotations

import ast
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import problemgen.audit.worker as worker_module
from problemgen.audit.calculators import Digits
from problemgen.audit.exactly import decimal_worker
from problemgen.audit.habits import Habits
from problemgen.audit.ways import ways_of
from problemgen.audit.worker import Measured, Worker, key_in
from problemgen.make.variants import variant_from
from problemgen.plan.arithmetic import EXACT_FIGURES
from tests.support.shipped import NAMES, shipped

DRAWN = [name for name in NAMES if shipped(name).is_drawn]


def test_the_worker_knows_nothing_of_windows() -> None:
    """What it measures has to be apart from what it is measured with."""
    tree = ast.parse(Path(worker_module.__file__).read_text(encoding="utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    assert not any(name.startswith(("problemgen.plan", "problemgen.make")) for name in imported)


class Settled(Habits):
    """One student's habits, named one by one; the first way in all others."""

    def __init__(self, **ways: int) -> None:
        super().__init__("", "", 1)
        object.__setattr__(self, "ways", {name.replace("_", " "): way for name, way in ways.items()})

    def index(self, habit: str, count: int) -> Any:
        """The way that was named."""
        way = self.ways.get(habit, 0)  # type: ignore[attr-defined]  # set above: the record is frozen
        assert way < count
        return np.int64(way)


def oxalic(**habits: int) -> Worker:
    """0.1986 g of oxalic acid dihydrate, 126.07 g/mol, takes 31.25 mL of sodium hydroxide solution."""
    data = {
        "mass(oxalic-acid-dihydrate)": Measured(Decimal("0.1986"), -4, "g"),
        "volume(sodium-hydroxide,solution)": Measured(Decimal("31.25"), -2, "mL"),
    }
    return Worker(shipped("titrations/oxalic-acid").plan, data, Settled(**habits), Digits())


def test_a_student_keeps_what_the_data_support() -> None:
    paper = oxalic().workings
    # 1.008 × 6 + 12.011 × 2 + 15.999 × 6: 126.064 g/mol, kept to the four figures of the data
    assert paper.written["molar_mass(oxalic-acid-dihydrate)"] == Decimal("126.1")
    # 0.1986 / 126.1 = 0.00157494…
    assert paper.written["amount(oxalic-acid-dihydrate)"] == Decimal("0.001575")


def test_a_student_may_keep_more_and_round_a_molar_mass_to_decimals() -> None:
    more = oxalic(figures=1, molar_mass_by_decimals=1)
    assert more.workings.written["molar_mass(oxalic-acid-dihydrate)"] == Decimal("126.06")
    assert more.workings.written["amount(oxalic-acid-dihydrate)"] == Decimal("0.0015754")  # 0.1986 / 126.06
    everything = oxalic(figures=4)
    assert str(everything.workings.written["amount(oxalic-acid-dihydrate)"]) == "0.00157539027795"


def test_answers_are_rounded_at_last() -> None:
    plan = shipped("titrations/oxalic-acid").plan
    (asked,) = [one for one in plan.asked if one.quantity.kind == "concentration"]
    first, shown = oxalic(), oxalic(**{f"from shown: {asked.quantity.id}": 1, "answer": 2})
    # 2 × 0.001575 / 0.03125 = 0.1008 exactly; two figures more where the calculator is asked
    assert first.answer(asked, first.workings) == Decimal("0.1008")
    assert str(shown.answer(asked, shown.workings)) == "0.100800"


def test_answers_may_be_cut_behind_the_figures_of_the_data() -> None:
    plan = shipped("titrations/oxalic-acid").plan
    (asked,) = [one for one in plan.asked if one.quantity.kind == "concentration"]
    worker = oxalic(figures=4, answer=2)
    # 2 × 0.00157539027795 / 0.03125 = 0.10082498…
    assert worker.answer(asked, worker.workings) == Decimal("0.100825")
    assert worker.answer(asked, worker.workings, cut=True) == Decimal("0.1008")


def test_a_molar_mass_that_comes_out_below_one_keeps_its_figures() -> None:
    worker, name = oxalic(molar_mass_by_decimals=1), "molar_mass(oxalic-acid-dihydrate)"
    step = next(one for one in worker.plan.steps if one.quantity.id == name)
    *_, (_, paper) = worker.mistaken({name: ("pow", "atomic_weight(C)", -1)}, [step])
    assert paper.written[name] == Decimal("0.08326")


@pytest.mark.parametrize("name", DRAWN)
def test_columns_and_digits_are_one_worker(name: str, simulated: Any) -> None:
    """Every result of every student, honest and after each mistake, to a relative 1e-9."""
    group = simulated(name, 12)
    singles = [way for way in ways_of(group.template) if way.single][::5]
    with np.errstate(all="ignore"):
        papers = [list(group.worker.mistaken(way.rewrites, way.steps))[-1][1] for way in singles]
    for row in range(group.students):
        variant = variant_from(group.template, group.candidates, row, "", "")
        one = decimal_worker(variant, group.worker.habits.picked(row))
        used_up = [quantity for quantity, value in variant.values.items() if not value]
        nothing = {step.quantity.id for step in group.template.plan.stale(used_up)} if used_up else set()
        _same(group.worker.workings.written, one.workings.written, row, nothing)
        for asked in (asked for asked in group.template.plan.asked if asked.form == "number"):
            column = group.worker.answer(asked, group.worker.workings)[row]
            assert column == pytest.approx(float(one.answer(asked, one.workings)), rel=1e-9)
        way = singles[row % len(singles)]
        try:
            *_, (_, paper) = one.mistaken(way.rewrites, way.steps)
        except (ZeroDivisionError, InvalidOperation):
            continue
        _same(papers[row % len(singles)].written, paper.written, row, nothing)


def _same(columns: dict[str, Any], digits: dict[str, Decimal], row: int, nothing: set[str]) -> None:
    """The same numbers, `nothing` apart: of a difference that is nought no digit counts."""
    assert columns.keys() == digits.keys()
    for name, value in ((name, value) for name, value in digits.items() if name not in nothing):
        column = np.broadcast_to(columns[name], row + 1) if not np.ndim(columns[name]) else columns[name]
        assert column[row] == pytest.approx(float(value), rel=1e-9), name


@pytest.mark.parametrize("name", DRAWN)
def test_figures_are_those_of_the_key(name: str, simulated: Any) -> None:
    group = simulated(name, 12)
    for row in range(group.students):
        variant = variant_from(group.template, group.candidates, row, "", "")
        for quantity, figures in variant.figures.items():
            if not variant.values[quantity]:  # nothing is left of what limits: no digit counts
                continue
            mine = group.worker.figures[quantity]
            counted = int(mine[row]) if np.ndim(mine) else int(mine)
            assert min(counted, EXACT_FIGURES) == figures, quantity


VALUES = {"a": Decimal(6), "b": Decimal(-3), "c": Decimal("7.5")}
EXPRESSIONS = [
    ("a", "6"),
    (("num", "3/2"), "1.5"),
    (("add", "a", "b", ("num", "1")), "4"),
    (("mul", "a", "b"), "-18"),
    (("div", "c", "b"), "-2.5"),
    (("neg", "c"), "-7.5"),
    (("pow", "a", 2), "36"),
    (("pow", "a", -1), str(1 / Decimal(6))),
    (("min", "a", "b", "c"), "-3"),
    (("max", "a", "b", "c"), "7.5"),
    (("floor", "c"), "7"),
    (("round", "c"), "8"),
    (("whole", 1, "a", "c"), "5"),
    (("least", ("a", "b"), ("b", "a"), ("c", "c")), "6"),
]


@pytest.mark.parametrize(("expression", "expected"), EXPRESSIONS, ids=[str(one[0]) for one in EXPRESSIONS])
def test_every_operation_of_a_plan_can_be_keyed_in(expression: Any, expected: str) -> None:
    assert float(key_in(expression, VALUES, Digits())) == pytest.approx(float(expected), rel=1e-15)


def test_temperatures_may_be_converted_with_273(simulated: Any) -> None:
    group = simulated("gases/hydrogen-from-aluminium", 200)
    name = next(name for name, one in group.worker.data.items() if one.unit == "°C")
    offsets = group.worker.workings.written[name] - group.worker.data[name].value
    assert np.count_nonzero(np.abs(offsets - 273) < 0.01) > 40
    assert np.count_nonzero(np.abs(offsets - 273.15) < 0.01) > 40
