"""The usual mistakes along a plan: each error of a law that changes a step, as a rewriting of that step."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Mistake, Step
from problemgen.plan.law import CommonError, Instance

__all__ = ["find_mistakes"]


def find_mistakes(derivations: Iterable[tuple[Step, Instance]], names: frozenset[str]) -> tuple[Mistake, ...]:
    """The mistakes that apply to a plan: those whose rewriting changes it, each once.

    An error made "everywhere" rewrites all steps that it fits, of all laws that list it; any other rewrites one
    step. `names` are the quantities that a rewritten step may look up.
    """
    mistakes: dict[str, Mistake] = {}
    for step, error, expression in _rewritings(derivations, names):
        key = error.id if error.everywhere else f"{error.id}:{step.quantity.id}"
        rewrite = (step.quantity.id, expression)
        before = mistakes.get(key)
        rewrites = (*before.rewrites, rewrite) if before else (rewrite,)
        mistakes[key] = Mistake(key, error.title, error.hint, rewrites, error.harmless)
    unique: dict[tuple[tuple[str, Expression], ...], Mistake] = {}
    for mistake in mistakes.values():
        unique.setdefault(mistake.rewrites, mistake)
    return tuple(unique.values())


def _rewritings(
    derivations: Iterable[tuple[Step, Instance]], names: frozenset[str]
) -> Iterator[tuple[Step, CommonError, Expression]]:
    for step, instance in derivations:
        for error in instance.law.errors:
            expression = instance.error(error, step.solved_for)
            if expression is not None and expression != step.expression and names.issuperset(names_in(expression)):
                yield step, error, expression
