"""Programs: worked at once, many ways come to the numbers of plain floats to the last bit."""

from __future__ import annotations

import pytest

from problemgen.model.expression import OPERATIONS, Expression
from problemgen.plan.answering import datum_windows
from problemgen.plan.partial import worked_windows
from problemgen.plan.paths import Path, ways_along
from problemgen.plan.plain import plain_value
from problemgen.plan.programs import Program, worked
from problemgen.plan.tries import units_on_sheet
from tests.support.contract import made_from
from tests.support.shipped import NAMES, shipped

_VALUES = {"mass(a)": 0.1, "mass(b)": -2.7, "mass(c)": 1e300, "mass(d)": 0.0, "mass(e)": 2.5}

_CASES: list[Expression] = [
    "mass(a)",
    ("num", "1/3"),
    ("add", "mass(a)", "mass(b)", "mass(e)"),
    ("mul", "mass(a)", "mass(b)", "mass(a)"),
    ("mul", "mass(c)", "mass(c)"),
    ("div", "mass(a)", "mass(b)"),
    ("div", "mass(a)", "mass(d)"),
    ("neg", "mass(e)"),
    ("min", "mass(a)", "mass(b)"),
    ("max", "mass(a)"),
    ("pow", "mass(b)", 3),
    ("pow", "mass(b)", -2),
    ("pow", "mass(d)", -1),
    ("pow", "mass(b)", 0),
    ("floor", "mass(b)"),
    ("round", "mass(e)"),
    ("round", ("mul", "mass(c)", "mass(c)")),
    ("whole", 1, "mass(a)", ("num", "0.2")),
    ("whole", 0, "mass(d)", "mass(a)"),
    ("least", ("mass(a)", "mass(e)"), ("mass(b)", "mass(c)")),
]


def test_every_operation_is_tried() -> None:
    assert {case[0] for case in _CASES if not isinstance(case, str)} == OPERATIONS


@pytest.mark.parametrize("expression", _CASES, ids=str)
def test_an_operation_comes_to_the_same_number(expression: Expression) -> None:
    program = Program([[("mass(x)", expression), ("mass(y)", ("add", "mass(x)", "mass(a)"))]])
    expected = plain_value(expression, _VALUES)
    [(first, second)] = program.each(_VALUES)
    assert repr(first) == repr(expected)
    assert repr([second]) == repr(program.lasts(_VALUES)) == repr([expected + 0.1])


def test_a_run_goes_on_from_what_it_has_worked_and_not_from_what_another_has() -> None:
    doubled = ("mul", "mass(a)", ("num", "2"))
    program = Program([[("mass(a)", doubled), ("mass(b)", doubled)], [("mass(b)", doubled)]])
    assert program.each(_VALUES) == [[0.2, 0.4], [0.2]]
    assert program.lasts(_VALUES) == [0.4, 0.2]


def test_a_name_without_a_value_is_an_error() -> None:
    program = Program([[("mass(x)", "mass(unknown)")]])
    with pytest.raises(KeyError):
        program.lasts(_VALUES)


@pytest.mark.parametrize("name", NAMES[::9])
def test_all_ways_along_a_path_lead_where_each_leads_alone(name: str) -> None:
    made = made_from(shipped(name))
    plan, given = made.template.plan, made.variants[0].given
    windows = worked_windows(plan, datum_windows(given))
    assert windows is not None
    values = {one: float(window.value) for one, window in windows.items()}
    for asked in {one.quantity.id for one in plan.asked} & values.keys():
        ways = ways_along(plan, units_on_sheet(plan, given), Path(asked, frozenset()))
        alone = [worked(way.steps, values)[asked] for way in ways.alone]
        pairs = [worked(way.steps, values)[asked] for way in ways.pairs]
        assert repr(ways.reached(values)) == repr(alone)
        assert repr(ways.reached_by_pairs(values)) == repr(pairs)
