"""How a set is marked, as answers.json holds it: the policy of each part, and the attempts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from problemgen.model.policy import Attempts, Policy
from problemgen.model.problem_set import ProblemSet
from problemgen.model.template import Template, label_of

__all__ = ["attempts_data", "part_policies", "policy_data", "template_keys"]

TemplateKeys = Mapping[tuple[str, str], str]
"""The key of a template in answers.json, by the problem's id and the template's."""


def policy_data(policy: Policy) -> dict[str, Any]:
    """One policy; shares as exact fractions."""
    shares = ("follow_through", "unit_slip", "named_mistake", "rounded_early", "deduction")
    return {
        "figures": policy.figures,
        "missing_unit": policy.missing_unit,
        **{name: str(getattr(policy, name)) for name in shares},
        "named_mistakes": {name: str(share) for name, share in policy.named_mistakes},
        "tolerance": {"window": policy.tolerance.window, "share_of_value": str(policy.tolerance.share)},
    }


def part_policies(problem_set: ProblemSet) -> dict[str, Any]:
    """The policy of every part, by its column in the responses."""
    return {
        f"{problem.id.removeprefix('p')}{label_of(index)}": policy_data(problem_set.policy_of(problem, label_of(index)))
        for problem in problem_set.problems
        for index in range(max(len(template.parts) for template in problem.templates))
    }


def attempts_data(attempts: Attempts) -> dict[str, Any]:
    """How many attempts there are, and which counts."""
    return {"number": attempts.number, "counts": attempts.counts}


def template_keys(problem_set: ProblemSet) -> TemplateKeys:
    """What each problem's templates are called: by their ids.

    A template that stands in several problems with different points has the problem's id behind its own from the
    second time on.
    """
    keys: dict[tuple[str, str], str] = {}
    named: dict[str, Template] = {}
    for problem in problem_set.problems:
        for template in problem.templates:
            first = named.setdefault(template.id, template)
            same = template is first or template.parts == first.parts
            keys[problem.id, template.id] = template.id if same else f"{template.id} ({problem.id})"
    return keys
