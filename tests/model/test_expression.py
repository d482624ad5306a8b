from __future__ import annotations

import json
import re

import pytest

from problemgen.model.expression import OPERATIONS, Expression, names_in, read_expression

A, B, C, D, E = "amount(a)", "mass(b,actual)", "extent()", "mass(d,from:a)", "volume(e)"
TABLE: list[tuple[Expression, list[str]]] = [
    (A, [A]),
    (("num", "3/2"), []),
    (("add", A, ("num", "1"), B), [A, B]),
    (("mul", A, A), [A, A]),
    (("div", A, ("add", B, C)), [A, B, C]),
    (("neg", A), [A]),
    (("pow", A, 2), [A]),
    (("floor", ("min", A, ("max", B, C))), [A, B, C]),
    (("least", (A, B), (("mul", C, D), E)), [A, B, C, D, E]),
    (("round", ("div", A, B)), [A, B]),
    (("whole", 1, A, B, C), [A, B, C]),
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
    back = read_expression(json.loads(json.dumps(expression)))
    assert back == expression
    assert list(names_in(back)) == names


KNOWN = "add, div, floor, least, max, min, mul, neg, num, pow, round, whole"


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (["exec", A], f"one of {KNOWN} in place of 'exec'"),
        (["add", A, ["system", "ls"]], f"one of {KNOWN} in place of 'system'"),
        ([], f"one of {KNOWN} in place of None"),
        ([["add"], A], f"one of {KNOWN} in place of ['add']"),
        ({"add": A}, f"one of {KNOWN} in place of None"),
        (1.5, f"one of {KNOWN} in place of None"),
        ("__import__('os')", "a quantity's name in place of \"__import__('os')\""),
        ("amount", "a quantity's name in place of 'amount'"),
        (["num", 1.5], 'an exact number as text, "3" or "3/2"'),
        (["num", "1/0"], 'an exact number as text, "3" or "3/2"'),
        (["num", "1e9"], 'an exact number as text, "3" or "3/2"'),
        (["num"], "'num' with other operands than 0"),
        (["div", A], "'div' with other operands than 1"),
        (["neg", A, B], "'neg' with other operands than 2"),
        (["add"], "'add' with other operands than 0"),
        (["pow", A, "2"], "a whole number from -9 to 9"),
        (["pow", A, True], "a whole number from -9 to 9"),
        (["whole", -1, A, B], "a place from 0"),
        (["least", [A]], "a key and a value in place of ['amount(a)']"),
        (["least", A], "a key and a value in place of 'amount(a)'"),
    ],
)
def test_nothing_else_is_read(data: object, reason: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(reason)}$"):
        read_expression(data)
