"""An author's story: CommonMark with Jinja2 placeholders for given values, in a sandbox.

`{{ given.acetic_anhydride.volume }}` stands for a given value as it is printed; the hyphens and dots of a substance's
id become underscores, `sample` is what belongs to no substance, and a role stands before the quantity where a
substance has several stages: `{{ given.hydrogen_chloride.initial_volume }}`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from jinja2 import StrictUndefined, Template
from jinja2.sandbox import ImmutableSandboxedEnvironment

from problemgen.model.quantity import Quantity, Role

__all__ = ["told_story"]

_ENVIRONMENT = ImmutableSandboxedEnvironment(undefined=StrictUndefined, autoescape=False)  # printers escape
_PLAIN_ROLES = frozenset({Role.PLAIN, Role.SOLUTION, Role.IMPURE, Role.ACTUAL, Role.THEORETICAL})


def told_story(story: str, values: Mapping[Quantity, str]) -> str:
    """The story with its placeholders filled.

    Raises jinja2.TemplateError for a story that cannot be read, or a placeholder without a value.
    """
    given: dict[str, dict[str, str]] = {}
    for quantity, text in values.items():
        owner = quantity.of.replace("-", "_").replace(".", "_") or "sample"
        given.setdefault(owner, {})[_label(quantity)] = text
    return _compiled(story).render(given=given)


@lru_cache(maxsize=64)
def _compiled(story: str) -> Template:
    """A story made ready, once for all students: that takes longer than filling it."""
    return _ENVIRONMENT.from_string(story)


def _label(quantity: Quantity) -> str:
    if quantity.role in _PLAIN_ROLES:
        return quantity.kind
    role = quantity.role.replace(" ", "_")
    return f"{role}_{quantity.stage}_{quantity.kind}" if quantity.stage else f"{role}_{quantity.kind}"
