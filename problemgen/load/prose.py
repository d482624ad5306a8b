"""An author's prose: CommonMark with Jinja2 in a sandbox. Checked when a template is read."""

from __future__ import annotations

from collections.abc import Iterator

from jinja2 import StrictUndefined, TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment

from problemgen.errors import Fault

__all__ = ["prose_fault"]

_ENVIRONMENT = ImmutableSandboxedEnvironment(undefined=StrictUndefined, autoescape=False)


def prose_fault(file: str, story: str) -> Iterator[Fault]:
    """A fault for prose that Jinja2 cannot read."""
    try:
        _ENVIRONMENT.parse(story)
    except TemplateSyntaxError as error:
        yield Fault(file, "story", f"line {error.lineno}: {error.message}", "CommonMark with Jinja2 placeholders")
