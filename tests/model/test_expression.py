from __future__ import annotations

import json

import pytest

from problemgen.model.expression import OPERATIONS, Expression, names_in

TABLE: list[tuple[Expression, list[str]]] = [
    ("a", ["a"]),
    (("num", "3/2"), []),
    (("add", "a", ("num", "1"), "b"), ["a", "b"]),
    (("mul", "a", "a"), ["a", "a"]),
    (("div", "a", ("add", "b", "c")), ["a", "b", "c"]),
    (("neg", "a"), ["a"]),
    (("pow", "a", 2), ["a"]),
    (("floor", ("min", "a", ("max", "b", "c"))), ["a", "b", "c"]),
    (("least", ("a", "b"), (("mul", "c", "d"), "e")), ["a", "b", "c", "d", "e"]),
    (("round", ("div", "a", "b")), ["a", "b"]),
    (("whole", 1, "a", "b", "c"), ["a", "b", "c"]),
]


@pytest.mark.parametrize(("expression", "names"), TABLE)
def test_the_names_that_an_expression_looks_up(expression: Expression, names: list[str]) -> None:
    assert list(names_in(expression)) == names


def test_every_operation_is_in_the_table() -> None:
    seen: set[str] = set()

    def visit(expression: object) -> None:
        if isinstance(expression, tuple) and expression[0] in OPERATIONS:
            seen.add(expression[0])
        if isinstance(expression, tuple):
            for one in expression:
                visit(one)

    for expression, _ in TABLE:
        visit(expression)
    assert seen == OPERATIONS


@pytest.mark.parametrize(("expression", "names"), TABLE)
def test_an_expression_goes_through_json_and_back(expression: Expression, names: list[str]) -> None:
    def tuples(told: object) -> Expression:
        return tuple(tuples(one) for one in told) if isinstance(told, list) else told  # type: ignore[return-value]  # JSON's str, int and list

    back = tuples(json.loads(json.dumps(expression)))
    assert back == expression
    assert list(names_in(back)) == names
