"""An author's story: CommonMark with placeholders for given values, which are replaced and never run.

    placeholder = "{{" [blanks] "given." owner "." label [blanks] "}}"

`{{ given.acetic_anhydride.volume }}` stands for a given value as it is printed; the hyphens and dots of a substance's
id become underscores, `sample` is what belongs to no substance, and a role stands before the quantity where a
substance has several stages: `{{ given.hydrogen_chloride.initial_volume }}`. The notation is Jinja2's, of which no
story needs more: no loop, condition, filter or sum is read, so that a story ends, and is as long as it looks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from problemgen.errors import ProblemgenError
from problemgen.model.quantity import Quantity, Role

__all__ = ["StoryError", "check_story", "told_story"]

_LONGEST = 10_000
"""Characters: two printed pages, where a line or two are asked for."""
_OPENING = re.compile(r"\{[{%#]")
_PLACEHOLDER = re.compile(r"\{\{\s*given\.(\w+)\.(\w+)\s*\}\}")
_CONTROL = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\x7f]")
_SHOWN = 40  # characters of what is no placeholder
_PLAIN_ROLES = frozenset({Role.PLAIN, Role.SOLUTION, Role.IMPURE, Role.ACTUAL, Role.THEORETICAL})


class StoryError(ProblemgenError):
    """A story that is too long, or has what is no placeholder for a given value; `line` counts from 1."""

    def __init__(self, line: int, found: str, expected: str) -> None:
        """Keep the line, what was found and what was expected."""
        self.line, self.found, self.expected = line, found, expected
        super().__init__(f"line {line} of a story: found {found}; expected {expected}")


def told_story(story: str, values: Mapping[Quantity, str]) -> str:
    """The story with its placeholders filled. Raises StoryError as `check_story` does."""
    check_story(story, values)
    texts = {_place(quantity): text for quantity, text in values.items()}
    return _PLACEHOLDER.sub(lambda found: texts[found[1], found[2]], story)


def check_story(story: str, given: Iterable[Quantity]) -> None:
    """Look at a story.

    Raises:
        StoryError: for a story that is too long, for braces that begin no placeholder, or one without a given value.
    """
    if len(story) > _LONGEST:
        raise StoryError(1, f"a story of {len(story):,} characters", f"at most {_LONGEST:,}")
    if control := _CONTROL.search(story):
        raise StoryError(_line(story, control.start()), f"the control character {control[0]!r}", "text")
    known = {_place(quantity) for quantity in given}
    end = 0
    for opening in _OPENING.finditer(story):
        if opening.start() < end:
            continue
        found = _PLACEHOLDER.match(story, opening.start())
        if found is None or (found[1], found[2]) not in known:
            shown = found[0] if found else story[opening.start() : opening.start() + _SHOWN].partition("\n")[0]
            places = ", ".join(f"{{{{ given.{owner}.{label} }}}}" for owner, label in sorted(known))
            raise StoryError(_line(story, opening.start()), repr(shown), places or "no placeholder: nothing is given")
        end = found.end()


def _line(story: str, position: int) -> int:
    return story.count("\n", 0, position) + 1


def _place(quantity: Quantity) -> tuple[str, str]:
    """The owner and the label by which a placeholder names a given value."""
    return quantity.of.replace("-", "_").replace(".", "_") or "sample", _label(quantity)


def _label(quantity: Quantity) -> str:
    if quantity.role in _PLAIN_ROLES:
        return quantity.kind
    role = quantity.role.replace(" ", "_")
    return f"{role}_{quantity.stage}_{quantity.kind}" if quantity.stage else f"{role}_{quantity.kind}"
