"""An author's prose: CommonMark with Jinja2 in a sandbox. Checked when a template is read."""

from __future__ import annotations

from collections.abc import Iterable

from jinja2 import TemplateError, TemplateSyntaxError

from problemgen.load.fault_log import FaultLog
from problemgen.model.quantity import Quantity
from problemgen.model.story import told_story

__all__ = ["check_prose"]


def check_prose(faults: FaultLog, story: str, given: Iterable[Quantity] = ()) -> None:
    """Keep a fault for prose that Jinja2 cannot read, or that names a value which the template does not give."""
    try:
        told_story(story, dict.fromkeys(given, "1"))
    except TemplateSyntaxError as error:
        faults.add("story", f"line {error.lineno}: {error.message}", "CommonMark with Jinja2 placeholders")
    except (TemplateError, TypeError) as error:  # TypeError: a statement that wants other files, or other values
        expected = "placeholders for given values, such as {{ given.acetic_anhydride.volume }}"
        faults.add("story", str(error), expected)
