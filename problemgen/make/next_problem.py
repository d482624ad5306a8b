"""Which problem is next for a student: the same idea with other substances, short, and such that the mistake shows."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from problemgen.make.admissible import Judge
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene
from problemgen.model.template import Template
from problemgen.plan.ideas import Idea, idea_of_mistake, ideas_in

__all__ = ["Had", "NextProblems", "substances_of"]

_SHORT = 6
"""Parts that a short problem has at most: with each a line or two, it stands on one page with its numbers."""

_EVERYWHERE = frozenset({"water"})
"""Substances that are in any laboratory's problems, so that meeting them again is no sign of the same problem."""


@dataclass(frozen=True)
class Had:
    """What a student had: templates, by id, and the substances that were measured or asked about."""

    templates: frozenset[str]
    substances: frozenset[str]


def substances_of(plan: Plan, scene: Scene) -> frozenset[str]:
    """The substances that are measured or asked about, by id."""
    quantities = (*plan.given, *(asked.quantity for asked in plan.asked))
    named = {name for one in quantities for name in (one.of, one.source)}
    return frozenset(named & scene.species.keys()) - _EVERYWHERE


@dataclass(frozen=True)
class _Candidate:
    """A template that may be next, with what its variants have to show."""

    template: Template

    @cached_property
    def ideas(self) -> frozenset[Idea]:
        return ideas_in(self.template.plan)

    @cached_property
    def substances(self) -> frozenset[str]:
        return substances_of(self.template.plan, self.template.scene)

    @cached_property
    def listed(self) -> frozenset[Idea]:
        plan = self.template.plan
        return frozenset(idea_of_mistake(plan, one) for one in plan.mistakes)

    @cached_property
    def owed(self) -> frozenset[Idea]:
        if not self.template.is_drawn:  # an equation: whatever is made of it shows
            return self.listed
        plan = self.template.plan
        return frozenset(idea_of_mistake(plan, one) for one in Judge(self.template).duties.all)

    @property
    def parts(self) -> int:
        return len(self.template.parts)


class NextProblems:
    """Chooses among templates: those whose parts all stand on the first sheet."""

    def __init__(self, templates: Iterable[Template]) -> None:
        """All that there are; those that take several sessions are left out."""
        single = (one for one in templates if {part.session for part in one.parts} == {1})
        self._candidates = [_Candidate(one) for one in sorted(single, key=lambda one: one.id)]
        self._found: dict[tuple[Idea, Had], Template | None] = {}

    def on(self, idea: Idea, had: Had) -> Template | None:
        """The problem on an idea for one who had others; None where no template is about it.

        One whose variants all show the error goes before one in which it can be made, and that before any on the law;
        then a short one, one with other substances, with fewer parts, an easier one, and the first by its id.
        """
        key = idea, had
        if key not in self._found:
            about = [one for one in self._others(had) if idea.plain in one.ideas]
            self._found[key] = _first(about, lambda one: (_showing(one, idea), *_fit(one, had)))
        return self._found[key]

    def harder(self, had: Had, ideas: Collection[Idea], difficulty: Mapping[str, int]) -> Template | None:
        """A harder problem for one who had all right: as hard as the hardest before or more, on the most of `ideas`.

        `difficulty` is that of templates by id.
        """
        hardest = max((difficulty.get(name, 0) for name in had.templates), default=0)
        hard = [one for one in self._others(had) if one.template.difficulty >= hardest and one.ideas & set(ideas)]
        return _first(
            hard,
            lambda one: (-one.template.difficulty, bool(one.substances & had.substances), -len(one.ideas & set(ideas))),
        )

    def _others(self, had: Had) -> list[_Candidate]:
        return [one for one in self._candidates if one.template.id not in had.templates]


def _showing(one: _Candidate, idea: Idea) -> int:
    if not idea.error or idea in one.owed:
        return 0
    return 1 if idea in one.listed else 2


def _fit(one: _Candidate, had: Had) -> tuple[bool, int, int, int]:
    return one.parts > _SHORT, len(one.substances & had.substances), one.parts, one.template.difficulty


def _first(candidates: Iterable[_Candidate], rank: Callable[[_Candidate], tuple[int, ...]]) -> Template | None:
    """The template of the least rank; of equals the first."""
    best = min(candidates, key=rank, default=None)
    return None if best is None else best.template
