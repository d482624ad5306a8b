"""What widened or replaced windows do to variants: which usual mistakes they reward, which honest workers they refuse.

The rules for variants hold for derived windows: there, every usual mistake shows. A wider window may let one in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from problemgen.chemistry.units import read_unit
from problemgen.language.messages import ngettext
from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.variants import variant_from
from problemgen.model.plan import Plan, rewrites_of
from problemgen.model.policy import Policy, Tolerance
from problemgen.model.problem_set import SetProblem
from problemgen.model.template import Part, Template, label_of
from problemgen.model.truths import NumberTruth, number_in
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of
from problemgen.plan.variations import Changes, as_float, changes_of, varied_values

__all__ = ["Tolerances", "trial"]

_TRIAL = 256
"""Candidates of a trial draw: a share of them is told to one percent or so."""

_Place = tuple[str, str, str]
"""A column of the responses, a template's id, the tolerance in words."""


@dataclass
class Tolerances:
    """Puts the windows that are accepted in the place of the derived ones, and counts what that does."""

    variants: Counter[_Place] = field(default_factory=Counter)
    rewarding: Counter[_Place] = field(default_factory=Counter)
    refusing: Counter[_Place] = field(default_factory=Counter)

    def applied(self, variant: Variant, policies: Mapping[str, Policy]) -> Variant:
        """The variant with the windows that are accepted; `policies` are those of its problem's parts, by letter."""
        changed: dict[int, NumberTruth] = {}
        for index, (part, derived) in enumerate(zip(variant.template.parts, variant.answers, strict=True)):
            policy = policies.get(label_of(index))
            answer = derived if policy is None else form_of(part.asked).tolerated(derived, policy.tolerance)
            if policy is not None and answer is not derived:
                changed[index] = number_in(answer)
                self._count(variant, index, changed[index], policy.tolerance)
        if not changed:
            return variant
        answers = tuple(changed.get(index, derived) for index, derived in enumerate(variant.answers))
        return replace(variant, answers=answers, derived=variant.answers)

    def notes(self) -> Iterator[str]:
        """What an instructor should know of each part with another window than the derived one."""
        for words, columns in sorted(self._harmless().items()):
            told = ngettext(
                "Part {parts}: the window is {window}; no usual mistake earns its points in full.",
                "Parts {parts}: the window is {window}; no usual mistake earns their points in full.",
                len(columns),
            )
            yield told.format(parts=", ".join(columns), window=words)
        for place, count in sorted(self.variants.items()):
            column, template, words = place
            if self.rewarding[place]:
                told = _rewarding(count)
                yield told.format(part=column, name=template, window=words, some=self.rewarding[place], count=count)
            if self.refusing[place]:
                told = _refusing(count)
                yield told.format(part=column, name=template, window=words, some=self.refusing[place], count=count)

    def _harmless(self) -> dict[str, list[str]]:
        """The columns where no mistake is rewarded with any template, by the tolerance in words."""
        rewarding = {(column, words) for (column, _, words), count in self.rewarding.items() if count}
        columns: dict[str, list[str]] = {}
        for column, words in sorted({(column, words) for column, _, words in self.variants} - rewarding):
            columns.setdefault(words, []).append(column)
        return columns

    def _count(self, variant: Variant, index: int, answer: NumberTruth, tolerance: Tolerance) -> None:
        column = f"{variant.problem.removeprefix('p')}{label_of(index)}"
        place = (column, variant.template.id, tolerance.words)
        derived = number_in(variant.answers[index])
        self.variants[place] += 1
        self.rewarding[place] += _rewards(variant, variant.template.parts[index], derived, answer)
        self.refusing[place] += answer.low > derived.low or answer.high < derived.high


def trial(problems: Iterable[SetProblem]) -> Tolerances:
    """What the windows of a set's problems do to the variants of a trial draw: the same ones each time."""
    tolerances = Tolerances()
    for problem in problems:
        if any(policy.tolerance.window != "derived" for policy in problem.policies.values()):
            for template in problem.templates:
                for variant in _tried(template, problem.id):
                    tolerances.applied(variant, problem.policies)
    return tolerances


def _tried(template: Template, problem: str) -> Iterator[Variant]:
    stream = Stream(b"trial", "tolerances", template.id, "trial")
    candidates = draw_candidates(template, stream, ["trial"], 0, _TRIAL)
    for row in np.flatnonzero(Judge(template).judge(candidates).admitted):
        yield variant_from(template, candidates, int(row), "trial", problem)


def _rewarding(count: int) -> str:
    # Translators: {name} is the name of a template's file.
    return ngettext(
        "Part {part} ({name}): the window is {window}; in {some} of {count} variant a usual mistake earns this part's "
        "points in full.",
        "Part {part} ({name}): the window is {window}; in {some} of {count} variants a usual mistake earns this part's "
        "points in full.",
        count,
    )


def _refusing(count: int) -> str:
    # Translators: {name} is the name of a template's file.
    return ngettext(
        "Part {part} ({name}): the window is {window}; in {some} of {count} variant it leaves out answers of honest "
        "workers.",
        "Part {part} ({name}): the window is {window}; in {some} of {count} variants it leaves out answers of honest "
        "workers.",
        count,
    )


def _rewards(variant: Variant, part: Part, derived: NumberTruth, answer: NumberTruth) -> bool:
    """Whether a usual mistake leads out of the derived window of a part, and into the one that is accepted."""
    plan, unit = variant.template.plan, read_unit(part.asked.unit)
    if not plan.mistakes:
        return False
    values = {name: as_float(value) for name, value in variant.values.items()}
    reached = varied_values(plan.steps, _changes(plan), values, len(plan.mistakes)).get(part.asked.quantity.id)
    if reached is None:
        return False
    wrong = (reached - float(unit.offset)) / float(unit.factor)
    within = (wrong >= as_float(answer.low)) & (wrong <= as_float(answer.high))
    return bool(np.any(within & ((wrong < as_float(derived.low)) | (wrong > as_float(derived.high)))))


@lru_cache(maxsize=256)
def _changes(plan: Plan) -> Changes:
    """What each usual mistake changes, a row each."""
    return changes_of([rewrites_of([mistake]) for mistake in plan.mistakes])
