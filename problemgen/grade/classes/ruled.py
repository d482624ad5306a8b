"""A key under other rules than it was built with: policies, points and which attempt counts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

from problemgen.exact.rounding import plain_text
from problemgen.model.answers import KeyHead, TemplateKey, template_id, template_in_problem
from problemgen.model.policy import Counts, Gradebook, Policy

__all__ = ["changes", "ruled"]

_Place = tuple[str, str]
"""A problem's id, and the key of a template."""

_Compared = tuple[str, str, Any, Any]
"""A column, what of it is compared, and both values."""


def ruled(
    head: KeyHead,
    policy: Policy,
    policies: Mapping[str, Policy],
    points: Mapping[str, Fraction],
    counts: Counts,
    gradebook: Gradebook,
) -> tuple[KeyHead, Mapping[_Place, str]]:
    """The head under these rules, and where it has each problem's template with the problem's own points.

    A part has the `points` of its column, or else the template's own. A template of several problems stands there
    once for all that give the same points.
    """
    templates: dict[str, TemplateKey] = {}
    names: dict[_Place, str] = {}
    for problem, keys in head.problems.items():
        for name in keys:
            pointed = _with_points(head.templates[name], problem, points)
            same = templates.get(name, pointed).parts == pointed.parts
            own = name if same else template_in_problem(template_id(name), problem)
            templates[own] = replace(pointed, id=own)
            names[problem, name] = own
    attempts = replace(head.attempts, counts=counts)
    rules = replace(head, policy=policy, policies=policies, attempts=attempts, gradebook=gradebook)
    return replace(rules, templates=templates), names


def changes(before: KeyHead, after: KeyHead, names: Mapping[_Place, str]) -> Iterator[str]:
    """What is marked otherwise than it was built to be, a text for each thing that changed.

    `names` are those of the templates in `after`, as `ruled` gives them.
    """
    found: dict[tuple[str, str, str], list[str]] = {}
    for column, what, old, new in (*_of_policies(before, after), *_of_points(before, after, names)):
        if old != new:
            found.setdefault((what, _shown(old), _shown(new)), []).append(column)
    for (what, old_value, new_value), columns in found.items():
        where = "all parts" if len(set(columns)) == len(before.columns) else ", ".join(dict.fromkeys(columns))
        yield f"{what} {old_value} → {new_value} ({where})"
    if before.attempts.counts != after.attempts.counts:
        yield f"attempts.counts {before.attempts.counts} → {after.attempts.counts}"
    for name in Gradebook.model_fields:
        was, now = getattr(before.gradebook, name), getattr(after.gradebook, name)
        if was != now:
            yield f"gradebook.{name} {_shown(was)} → {_shown(now)}"


def _of_policies(before: KeyHead, after: KeyHead) -> Iterator[_Compared]:
    for column in before.columns:
        old, new = before.policy_of(column), after.policy_of(column)
        yield from ((column, name, getattr(old, name), getattr(new, name)) for name in Policy.model_fields)


def _of_points(before: KeyHead, after: KeyHead, names: Mapping[_Place, str]) -> Iterator[_Compared]:
    for (problem, name), own in names.items():
        for was, now in zip(before.templates[name].parts, after.templates[own].parts, strict=True):
            yield f"{problem.removeprefix('p')}{was.label}", "points", was.points, now.points


def _with_points(template: TemplateKey, problem: str, points: Mapping[str, Fraction]) -> TemplateKey:
    number = problem.removeprefix("p")
    parts = tuple(
        replace(part, points=points.get(f"{number}{part.label}", part.points if usual is None else usual))
        for part in template.parts
        for usual in (part.usual_points,)
    )
    return template if parts == template.parts else replace(template, parts=parts)


def _shown(value: Any) -> str:
    """The value of a policy as set.toml has it, about."""
    if isinstance(value, Fraction):
        return plain_text(value, -4).rstrip("0").rstrip(".")
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name} = {_shown(one)}" for name, one in value.items()) + "}"
    return "none" if value is None else str(value)
