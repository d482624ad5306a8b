"""Running a plan: its expressions in one of the arithmetics, step after step."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache, reduce
from typing import Any, TypeAlias

from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Plan, Route, Step, rewrites_of, stale_steps
from problemgen.plan.arithmetic import EXACT_FIGURES, LEAST_WHOLE, MULTIPLES, Arithmetic, Base, Exact, Window, Windows
from problemgen.plan.exactly import TRIM, windows_over

__all__ = [
    "LEAST_FIGURES",
    "RULES",
    "altered_windows",
    "data_figures",
    "evaluate",
    "is_near",
    "kept_figures",
    "mistaken_steps",
    "mistaken_windows",
    "route_window",
    "window_values",
]

LEAST_FIGURES = 3
"""An honest worker keeps at least so many significant figures of an intermediate result.

With two, a result is off by up to 5 %, and tells nothing; three are what courses ask for.
"""

_HUNDREDTHS = Fraction(1, 200)
"""Half a unit of the second decimal: a molar mass is kept to two decimals or more (g/mol)."""

RULES: Mapping[str, object] = {
    "exact_figures": EXACT_FIGURES,
    "zero_exponent": Exact().exponent(Fraction(0)),
    "least_whole": LEAST_WHOLE,
    "multiples": tuple(MULTIPLES),
    "least_figures": LEAST_FIGURES,
    "trim": TRIM,
    "hundredths": _HUNDREDTHS,
}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""


_FOLDED = {"add": "add", "mul": "multiply", "min": "lesser", "max": "greater"}
_SINGLE = {"div": "divide", "neg": "negate", "floor": "floor", "round": "nearest"}

Work: TypeAlias = Callable[[Mapping[str, Any], Any], Any]
"""An expression made ready: called with the values at hand and an arithmetic, it gives the expression's value."""


def evaluate(expression: Expression, values: Mapping[str, Any], arithmetic: Arithmetic) -> Any:
    """The value of an expression; KeyError for a name without a value, or an operation outside the list."""
    return _ready(expression)(values, arithmetic)


@lru_cache(maxsize=4096)
def _ready(expression: Expression) -> Work:
    """An expression made ready, once: a plan is worked thousands of times."""
    if isinstance(expression, str):
        return lambda values, _: values[expression]
    head, *rest = expression
    if head == "num":
        number = Fraction(rest[0])
        return _constant(number)
    if head == "pow":
        return _power(_ready(rest[0]), int(rest[1]))
    if head == "least":
        return _least([(_ready(key), _ready(value)) for key, value in rest])
    if head == "whole":
        return _whole(int(rest[0]), [_ready(amount) for amount in rest[1:]])
    if head in _FOLDED and len(rest) != 2:
        return _folded(_FOLDED[head], [_ready(operand) for operand in rest])
    operation = _FOLDED.get(head) or _SINGLE[head]
    return _single(operation, _ready(rest[0])) if len(rest) == 1 else _of_two(operation, *rest)


def _constant(number: Fraction) -> Work:
    kept = dict[Any, Any]()

    def work(_: Mapping[str, Any], arithmetic: Any) -> Any:
        if arithmetic not in kept:
            kept[arithmetic] = arithmetic.number(number)
        return kept[arithmetic]

    return work


def _folded(operation: str, operands: Sequence[Work]) -> Work:
    def work(values: Mapping[str, Any], arithmetic: Any) -> Any:
        return reduce(getattr(arithmetic, operation), [operand(values, arithmetic) for operand in operands])

    return work


def _single(operation: str, operand: Work) -> Work:
    return lambda values, arithmetic: getattr(arithmetic, operation)(operand(values, arithmetic))


def _of_two(operation: str, first: Expression, second: Expression) -> Work:
    if isinstance(first, str) and isinstance(second, str):
        return lambda values, arithmetic: getattr(arithmetic, operation)(values[first], values[second])
    one, other = _ready(first), _ready(second)
    return lambda values, arithmetic: getattr(arithmetic, operation)(one(values, arithmetic), other(values, arithmetic))


def _power(base: Work, exponent: int) -> Work:
    def work(values: Mapping[str, Any], arithmetic: Any) -> Any:
        product = reduce(arithmetic.multiply, [base(values, arithmetic)] * abs(exponent))
        return product if exponent > 0 else arithmetic.divide(arithmetic.number(Fraction(1)), product)

    return work


def _whole(index: int, amounts: Sequence[Work]) -> Work:
    def work(values: Mapping[str, Any], arithmetic: Any) -> Any:
        return arithmetic.whole(index, [amount(values, arithmetic) for amount in amounts])

    return work


def _least(pairs: Sequence[tuple[Work, Work]]) -> Work:
    def work(values: Mapping[str, Any], arithmetic: Any) -> Any:
        evaluated = [(key(values, arithmetic), value(values, arithmetic)) for key, value in pairs]
        key, value = evaluated[0]
        for other_key, other in evaluated[1:]:
            value = arithmetic.beside_lesser(key, value, other_key, other)
            key = arithmetic.lesser(key, other_key)
        return value

    return work


def window_values(
    plan: Plan, given: Mapping[str, Window], base: Base, steps: Iterable[Step] | None = None
) -> dict[str, Window]:
    """All windows of a plan (or those of some of its steps), by quantity id, each rounded as a worker may round it.

    `given` holds a Window a given quantity (engine units); a step's quantity that it holds is taken as it is.
    """
    windows, prepared = windows_over(base), _prepared(plan, base)
    least = data_figures(given.values(), base)
    known: dict[str, Window] = {**prepared.constants, **given}
    fixed = prepared.fixed(least) if isinstance(base, Exact) else {}
    if not (given.keys().isdisjoint(fixed) and given.keys().isdisjoint(prepared.constants)):
        fixed = {}
    for name, step, work in prepared.steps if steps is None else _ready_steps(steps):
        if name in fixed:
            known[name] = fixed[name]
        elif name not in known:
            known[name] = _rounded(step, work(known, windows), least, windows)
    return known | _by_other_routes(prepared.routes, known, given, least, base)


_ReadyStep: TypeAlias = tuple[str, Step, Work]
"""A step behind the id of what it yields, and before its expression made ready."""


def _ready_steps(steps: Iterable[Step]) -> Iterator[_ReadyStep]:
    return ((step.quantity.id, step, _ready(step.expression)) for step in steps)


class _Prepared:
    """What follows from a plan alone, in one place."""

    def __init__(self, plan: Plan, base: Base) -> None:
        self.constants: Mapping[str, Window] = {
            c.quantity.id: Window(base.number(c.value), base.number(c.low), base.number(c.high)) for c in plan.constants
        }
        self.steps = tuple(_ready_steps(plan.steps))
        self.routes = tuple((route.to.id, route) for route in plan.routes if is_near(plan, route))
        self._windows = windows_over(base)
        self._fixed: dict[int, Mapping[str, Window]] = {}

    def fixed(self, least: int) -> Mapping[str, Window]:
        """The windows of the steps that look up constants alone (molar masses): the same for every variant.

        `least` are the data's figures.
        """
        if least not in self._fixed:
            known, fixed = dict(self.constants), dict[str, Window]()
            for name, step, work in self.steps:
                if step.needs <= known.keys():
                    known[name] = fixed[name] = _rounded(step, work(known, self._windows), least, self._windows)
            self._fixed[least] = fixed
        return self._fixed[least]


_MOST_PLANS = 512
"""Plans of which is kept what follows from them: those of all templates, and of students with values of their own."""
_PREPARED: dict[tuple[int, Base], tuple[Plan, _Prepared]] = {}
"""By the identity of a plan, which is held beside: to compare plans that are equal takes as long as to work one."""


def _prepared(plan: Plan, base: Base) -> _Prepared:
    found = _PREPARED.get((id(plan), base))
    if found is None:
        if len(_PREPARED) >= _MOST_PLANS:
            _PREPARED.clear()
        found = _PREPARED[id(plan), base] = plan, _Prepared(plan, base)
    return found[1]


def _by_other_routes(
    routes: Iterable[tuple[str, Route]], known: dict[str, Window], given: Mapping[str, Window], least: Any, base: Base
) -> dict[str, Window]:
    """The windows of what other routes lead to as well: wide enough for all routes that come to the same value."""
    hulls = dict[str, Window]()
    for name, route in routes:
        if name in known and name not in given:
            other = route_window(route, known, least, base)
            if other is not None:
                hulls[name] = _hull(hulls.get(name, known[name]), other, base)
    return hulls


def _hull(a: Window, b: Window, base: Base) -> Window:
    """A window as wide as both, where they have anything in common; where not, the first."""
    pick = base.beside_lesser
    low = pick(b.low, pick(a.low, base.lesser(a.low, b.low), b.high, a.low), a.high, a.low)
    high = pick(b.low, pick(a.low, base.greater(a.high, b.high), b.high, a.high), a.high, a.high)
    return Window(a.value, low, high, a.figures)


@lru_cache(maxsize=4096)
def is_near(plan: Plan, route: Route) -> bool:
    """Whether honest workers go a route and come out as well as on the plan's way.

    That is one step off it from what stands on the paper, and no difference: who goes about it at length, or takes a
    small difference, rounds more often than the sheet's rule on figures is made for.
    """
    off = [step for step in route.steps if plan.step(step.quantity) != step]
    names = [one.quantity.id for one in plan.asked]
    written = {
        *(q.id for q in plan.given),
        *(c.quantity.id for c in plan.constants),
        *names[: names.index(route.to.id)],
    }
    return len(off) == 1 and off[0].needs <= written and not _loses_figures(off[0].expression)


def _loses_figures(expression: Expression) -> bool:
    return expression[0] == "add" and any(term[0] == "neg" for term in expression[1:])


def route_window(route: Route, known: Mapping[str, Window], least: Any, base: Base) -> Window | None:
    """The window of what a route leads to; None where it lacks a value, or would divide by 0.

    `known` are the windows of what the route starts from, `least` are the data's figures.
    """
    windows, result = windows_over(base), dict(known)
    for step in route.steps:
        if not step.needs <= result.keys():
            return None
        try:
            result[step.quantity.id] = _rounded(step, evaluate(step.expression, result, windows), least, windows)
        except ZeroDivisionError:
            return None
    return result[route.to.id]


def data_figures(given: Iterable[Window], base: Base) -> Any:
    """The fewest figures among the data, an int or an array a candidate."""
    return reduce(base.lesser, (window.figures for window in given), EXACT_FIGURES)


def _rounded(step: Step, window: Window, least: Any, windows: Windows) -> Window:
    if step.rounding in ("none", "whole"):
        return window
    base = windows.base
    if step.rounding == "molar mass":
        half = base.half_unit(window.value, base.greater(least, LEAST_FIGURES))
        return windows.shortened(windows.widened(window, base.greater(half, base.number(_HUNDREDTHS))))
    return windows.kept(window, kept_figures(window, least, base))


def kept_figures(window: Window, least: Any, base: Base) -> Any:
    """How many figures are kept of a result at least: its own, or the data's where none of them limits it."""
    own = base.beside_lesser(EXACT_FIGURES, least, window.figures, window.figures)
    return base.greater(own, LEAST_FIGURES)


def mistaken_windows(
    plan: Plan, mistakes: Iterable[Mistake], known: Mapping[str, Window], least: Any, base: Base
) -> dict[str, Window]:
    """All windows after mistakes, each step rounded as in `window_values`; `least` are the data's figures."""
    result = dict(known)
    for _, changed in mistaken_steps(plan, mistakes, known, least, base):
        result = changed
    return result


def mistaken_steps(
    plan: Plan, mistakes: Iterable[Mistake], known: Mapping[str, Window], least: Any, base: Base
) -> Iterator[tuple[str, dict[str, Window]]]:
    """`mistaken_windows` a changed step at a time: its quantity's id, and all windows so far.

    One dictionary, filled in as it goes: for whoever stops as soon as a mistake has shown itself.
    """
    windows, rewrites, result = windows_over(base), rewrites_of(mistakes), dict(known)
    for step in plan.stale(rewrites):
        name = step.quantity.id
        expression = rewrites.get(name, step.expression)
        result[name] = _rounded(step, evaluate(expression, result, windows), least, windows)
        yield name, result


def altered_windows(
    steps: Iterable[Step],
    alter: Mapping[str, Callable[[Window], Window]],
    known: Mapping[str, Window],
    least: Any,
    base: Base,
) -> dict[str, Window]:
    """`known` with some steps' results altered as soon as they are worked, and what follows from them worked again.

    For workers who do with a result what an honest one does not: round it too early. `least` are the data's figures.
    """
    windows, result = windows_over(base), dict(known)
    for step in stale_steps(steps, alter):
        name = step.quantity.id
        window = _rounded(step, evaluate(step.expression, result, windows), least, windows)
        result[name] = alter[name](window) if name in alter else window
    return result
