"""The commonest errors of a class, each made again in a variant that is nobody's."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import isclose, isfinite

from problemgen.errors import NoRoomError
from problemgen.language.messages import _
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from problemgen.pipeline.practice import PURPOSE
from problemgen.plan.ideas import Idea
from problemgen.plan.plain import plain_value
from problemgen.plan.tellings import telling_of
from problemgen.plan.tries import moves_point, tries_of, units_on_sheet
from problemgen.plan.variations import as_float
from problemgen.render.classes.follow_up_page import ShownError

__all__ = ["MadeMistake", "shown_errors"]

_SHOWN = 3
"""Errors on the page: what can be talked over at the beginning of a session."""

_SEVERAL = 2
"""Students who made an error, at least: what one alone did is nobody else's business."""

_TRIED = 8
"""Variants that are looked through for one in which the error changes the result: nearly every one does."""

_ALIKE = 0.03
"""Relative difference below which an error and the right way look alike on a board."""

_WORDS = b"numbers for the board"
"""They are nobody's secret: the numbers that are kept for practice are no student's, whatever they are drawn from."""


@dataclass(frozen=True)
class MadeMistake:
    """A mistake that a student made: what it is about, in which template, its id there."""

    idea: Idea
    template: str
    mistake: str
    student: str


def shown_errors(made: Iterable[MadeMistake], templates: Mapping[str, Template]) -> tuple[ShownError, ...]:
    """The errors of most students, those of most first; `templates` by id."""
    by_idea: defaultdict[Idea, list[MadeMistake]] = defaultdict(list)
    for one in made:
        by_idea[one.idea].append(one)
    students = {idea: len({one.student for one in ones}) for idea, ones in by_idea.items()}
    shown: list[ShownError] = []
    common = [idea for idea in by_idea if students[idea] >= _SEVERAL]
    for idea in sorted(common, key=lambda one: (-students[one], one)):
        error = next(_shown(by_idea[idea], students[idea], templates), None)
        if error is not None and error.title not in {one.title for one in shown}:
            shown.append(error)
        if len(shown) == _SHOWN:
            break
    return tuple(shown)


def _shown(made: Iterable[MadeMistake], students: int, templates: Mapping[str, Template]) -> Iterator[ShownError]:
    """The error in each template in which it was made: where it was made most often first."""
    places = Counter((one.template, one.mistake) for one in made)
    for (name, mistake), _count in sorted(places.items(), key=lambda pair: (-pair[1], pair[0])):
        for variant in _nobodys(templates[name]) if name in templates else ():
            error = _in_variant(variant, mistake, students)
            if error is not None:
                yield error


def _nobodys(template: Template) -> Iterator[Variant]:
    """Variants with numbers that are kept for practice."""
    maker = Maker(template, Stream(_WORDS, "class page", template.id, PURPOSE))
    try:
        yield from maker.variants([str(number) for number in range(_TRIED if template.is_drawn else 1)])
    except NoRoomError:
        return


def _in_variant(variant: Variant, mistake: str, students: int) -> ShownError | None:
    """The error made in a variant; None where it cannot be made there, or changes nothing."""
    template, known = variant.template, {name: as_float(value) for name, value in variant.values.items()}
    for step, tries in tries_of(template.plan, units_on_sheet(template.plan, variant.given)).items():
        for one in tries:
            if one.mistake.id != mistake or step not in template.plan.steps:
                continue
            value = plain_value(one.expression, known)
            if isfinite(value) and not isclose(value, known[step.quantity.id], rel_tol=_ALIKE):
                told = telling_of(template.scene, step, one)
                written = step.expression if moves_point(step, one) else one.expression
                return ShownError(_(told.title), told.sentence, students, variant, step, one.expression, written)
    return None
