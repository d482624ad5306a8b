"""Every law told in steps, and every shape that an expression can have."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.banks import Banks
from problemgen.model.blocks import Table
from problemgen.model.expression import Expression
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity
from problemgen.plan.laws import LAWS
from problemgen.render.worked.solution import WorkedPart
from tests.support.law_cases import CASES
from tests.support.law_scenes import Case, Given, planned, species

Check = Callable[[Scene, Plan, Given, Method], tuple[WorkedPart, ...]]


@pytest.mark.parametrize("method", ["product", "extent", "ratios"])
@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_every_law_is_worked_line_by_line(case: Case, method: Method, banks: Banks, checked: Check) -> None:
    scene, plan, given = planned(case, banks)
    assert checked(scene, plan, given, method)


def test_the_cases_use_every_law(banks: Banks) -> None:
    used = {step.law for case in CASES.values() for step in planned(case, banks)[1].steps}
    assert used == {law.id for law in LAWS}


A, B, TARGET = Quantity("mass", "acid"), Quantity("mass", "iron"), Quantity("mass", "salt")
EXPRESSIONS: dict[str, tuple[Expression, str]] = {
    "greatest": (("max", A.id, B.id), "The largest of these counts."),
    "least of products": (("min", A.id, ("mul", ("num", "2"), B.id)), "The smallest of these counts."),
    "by a key": (("least", (A.id, B.id), (B.id, A.id)), "The smallest of these counts."),
    "all taken away": (("add", ("neg", A.id), ("neg", B.id)), ""),
    "taken away first": (("add", ("neg", B.id), A.id), ""),
    "a negative factor": (("mul", ("neg", A.id), ("num", "3")), ""),
    "a sum divided": (("div", ("add", A.id, B.id), ("num", "2")), ""),
    "a fraction of it": (("mul", ("num", "3/7"), A.id), ""),
    "a square": (("div", ("pow", A.id, 2), B.id), ""),
    "an inverse": (("mul", A.id, B.id, ("pow", A.id, -1)), ""),
    "over a sum": (("div", ("mul", A.id, B.id), ("add", A.id, B.id)), ""),
    "nested quotients": (("div", A.id, ("div", B.id, A.id)), ""),
    "a copy": (A.id, ""),
}  # fmt: skip


@pytest.mark.parametrize(("expression", "words"), EXPRESSIONS.values(), ids=EXPRESSIONS.keys())
def test_every_shape_of_expression_is_worked(expression: Expression, words: str, banks: Banks, checked: Check) -> None:
    given = {A: (read_written("0.01251"), "kg"), B: (read_written("3.402"), "g")}
    scene = Scene({name: species(name) for name in ("acid", "iron", "salt")}, frozenset(given), banks.weights)
    step = Step(TARGET, "solvent", "solution", expression, "figures")
    plan = Plan((A, B), (), (step,), (Asked(TARGET, "g"),), ())
    blocks = checked(scene, plan, given, "product")[0].blocks
    assert sum(isinstance(block, Table) for block in blocks) == bool(words)
    assert not words or words in str(blocks)
