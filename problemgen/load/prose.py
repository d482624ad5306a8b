"""An author's prose: CommonMark with Jinja2 in a sandbox. Checked when a template is read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jinja2 import TemplateError, TemplateSyntaxError

from problemgen.errors import Fault
from problemgen.model.quantity import Quantity
from problemgen.model.story import told_story

__all__ = ["prose_fault"]


def prose_fault(file: str, story: str, given: Iterable[Quantity] = ()) -> Iterator[Fault]:
    """A fault for prose that Jinja2 cannot read, or that names a value which the template does not give."""
    try:
        told_story(story, dict.fromkeys(given, "1"))
    except TemplateSyntaxError as error:
        yield Fault(file, "story", f"line {error.lineno}: {error.message}", "CommonMark with Jinja2 placeholders")
    except (TemplateError, TypeError) as error:  # TypeError: a statement that wants other files, or other values
        expected = "placeholders for given values, such as {{ given.acetic_anhydride.volume }}"
        yield Fault(file, "story", str(error), expected)
