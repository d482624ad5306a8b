"""What a part of a problem is about: the law that it takes, and what goes wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from problemgen.model.plan import Mistake, Plan, Step
from problemgen.model.problem import Asked

__all__ = ["Idea", "error_of", "idea_of_mistake", "idea_of_part", "ideas_in"]


@dataclass(frozen=True, order=True)
class Idea:
    """A law, by its id, and an error of it, by its own: "" for the law as it is.

    Where no law leads to what is asked, as with the coefficients of an equation, the kind stands in the law's place.
    """

    law: str
    error: str = ""

    @property
    def plain(self) -> Idea:
        """The law alone."""
        return Idea(self.law)


def error_of(mistake: str) -> str:
    """A mistake's id without where it was made: "density-divided" of "density-divided:mass(acetone)"."""
    return mistake.partition(":")[0]


def idea_of_part(plan: Plan, asked: Asked, at: Iterable[str] = (), mistakes: Iterable[str] = ()) -> Idea:
    """What went wrong in a part: `at` are the steps, by quantity id, that it went wrong at, `mistakes` what is named.

    Where nothing tells the step, it is the part's own.
    """
    steps = _steps(plan)
    found = next((steps[name] for name in at if name in steps), steps.get(asked.quantity.id))
    law = found.law if found is not None else asked.quantity.kind
    return Idea(law, next(map(error_of, mistakes), ""))


def idea_of_mistake(plan: Plan, mistake: Mistake) -> Idea:
    """What a mistake of a plan is about: the law of the first step that it rewrites."""
    steps = _steps(plan)
    law = next((steps[name].law for name, _ in mistake.rewrites if name in steps), "")
    return Idea(law, error_of(mistake.id))


def ideas_in(plan: Plan) -> frozenset[Idea]:
    """What a plan is about: its laws, and what is asked without one."""
    steps = _steps(plan)
    return frozenset((*(Idea(step.law) for step in plan.steps), *_lawless(plan, steps)))


def _lawless(plan: Plan, steps: dict[str, Step]) -> Iterator[Idea]:
    yield from (Idea(asked.quantity.kind) for asked in plan.asked if asked.quantity.id not in steps)


def _steps(plan: Plan) -> dict[str, Step]:
    """The steps by what they yield: the plan's own, and those of its other routes."""
    off = (step for route in plan.routes for step in route.steps)
    return {step.quantity.id: step for step in (*off, *plan.steps)}
