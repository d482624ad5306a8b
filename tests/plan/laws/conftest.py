"""Working one law by itself: letters with lab values in, the value of another letter out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws import LAWS_BY_ID
from tests.support.law_table import LawTable


def engine(text: str) -> Fraction:
    """A value with its unit behind a space, in engine units."""
    number, unit = text.split(" ", 1)
    return read_unit(unit).to_engine(read_written(number).value)


class Bench:
    """One law at a time. A case: (law, scene, letter, values by letter, expected, unit, expected by error)."""

    def __init__(self, problems: Any) -> None:
        """Scenes come from here."""
        self.problems = problems

    def instance(self, law: str, about: Mapping[str, Any]) -> Instance:
        """The law's first instance in a scene; `of` in the scene's description picks the species."""
        of = about.get("of")
        scene: Scene = self.problems.scene(**{"given": (), **{k: v for k, v in about.items() if k != "of"}})
        instances = LAWS_BY_ID[law].instances(LAWS_BY_ID[law], scene)
        fitting = [i for i in instances if of is None or any(q.of == of for q in i.binding.values())]
        assert fitting, f"no instance of {law}"
        return fitting[0]

    def value(
        self, instance: Instance, expression: Expression | None, values: Mapping[str, str], unit: str
    ) -> Fraction:
        assert expression is not None
        known = {constant.quantity.id: constant.value for constant in self.problems.weights.values()}
        for letter, text in values.items():
            quantity = instance.binding.get(letter)
            known[quantity.id if quantity is not None else letter] = engine(text)
        return read_unit(unit).from_engine(evaluate(expression, known, Exact()))

    def solved(self, case: tuple[Any, ...]) -> Fraction:
        """The law of a case, solved."""
        law, about, letter, values, _, unit, _ = case
        instance = self.instance(law, about)
        return self.value(instance, instance.solution(letter), values, unit)

    def mistaken(self, case: tuple[Any, ...]) -> dict[str, Fraction]:
        """What each error gives that changes the law of a case."""
        law, about, letter, values, _, unit, _ = case
        instance = self.instance(law, about)
        found = {}
        for error in LAWS_BY_ID[law].errors:
            expression = instance.error(error, letter)
            if expression is not None and expression != instance.solution(letter):
                found[error.id] = self.value(instance, expression, values, unit)
        return found

    @staticmethod
    def letters_told(laws: Iterable[Law]) -> set[tuple[str, str]]:
        """Every letter that a law has words for."""
        return {(law.id, letter) for law in laws for letter in law.words}


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A case of its table for each test that takes one."""
    table = metafunc.cls
    if table is not None and issubclass(table, LawTable) and "case" in metafunc.fixturenames:
        metafunc.parametrize("case", table.cases, ids=table.name)


@pytest.fixture(scope="session")
def bench(problems: Any) -> Bench:
    """A bench on which one law is worked."""
    return Bench(problems)
