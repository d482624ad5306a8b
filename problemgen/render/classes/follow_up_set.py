"""The set.toml and the roster of a follow-up set."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from problemgen.exact.rounding import plain_text
from problemgen.language.languages import ENGLISH
from problemgen.language.messages import _
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.policy import Policy
from problemgen.render.words.text import clean_text

__all__ = ["NextProblem", "roster_rows", "set_text"]

_HEAD = "Follow-up to {title}: who gets a problem is told by its `for`, and why in the line above."

_WIDTH = 100
"""Letters of a line: lists of students are broken there."""


@dataclass(frozen=True)
class NextProblem:
    """A problem of the set: its template, and for each reason the ids of the students who get it."""

    template: str
    reasons: Mapping[str, tuple[str, ...]]

    @property
    def students(self) -> tuple[str, ...]:
        """The ids of all who get it, each once."""
        return tuple(dict.fromkeys(student for students in self.reasons.values() for student in students))


def set_text(head: KeyHead, problems: Sequence[NextProblem]) -> str:
    """The set.toml: marked, printed and told as the set that it follows. Comments name students by id alone."""
    title = _("Follow-up: {title}").format(title=head.title)
    lines = [
        *_comment(_HEAD.format(title=head.title)),
        f"title = {_quoted(title)}",
        f"course = {_quoted(head.course)}",
        *([f"language = {_quoted(head.language)}"] if head.language != ENGLISH else []),
        f"paper = {_quoted(head.paper)}",
        f"decimal_mark = {_quoted(head.decimal_mark)}",
        f"method = {_quoted(head.method)}",
        *("", "[[sheet]]", "session = 1", f"title = {_quoted(_('Follow-up'))}"),
    ]
    for problem in problems:
        lines.append("")
        for reason, students in problem.reasons.items():
            lines += _comment(f"{reason}: {', '.join(students)}")
        lines += ["[[problem]]", f"template = {_quoted(problem.template)}", *_students(problem.students)]
    lines += _policy(head.policy)
    return "\n".join(lines) + "\n"


def roster_rows(keys: Iterable[StudentKey], more: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """The rows of roster.csv, its header first; `more` are the roster's further columns.

    Where somebody's sheets are in another language than the set, a column tells whose.
    """
    told = list(keys)
    speak = any(key.language for key in told)
    yield ("id", "name", "section", *(["language"] if speak else []), *more)
    for key in told:
        others = (key.more.get(name, "") for name in more)
        yield (key.student, key.name, key.section, *([key.language] if speak else []), *others)


def _comment(text: str) -> list[str]:
    wrapped = textwrap.wrap(clean_text(text), _WIDTH, break_long_words=False, break_on_hyphens=False)
    return [f"# {line}" for line in wrapped]


def _students(students: Sequence[str]) -> list[str]:
    listed = ", ".join(map(_quoted, students))
    if len(listed) <= _WIDTH:
        return [f"for = [{listed}]"]
    wrapped = textwrap.wrap(f"{listed},", _WIDTH, break_long_words=False, break_on_hyphens=False)
    return ["for = [", *(f"    {line}" for line in wrapped), "]"]


def _quoted(text: str) -> str:
    """A string of TOML: as in JSON, but for the one control character that JSON leaves as it is."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _policy(policy: Policy) -> list[str]:
    """What a policy says otherwise than a set that says nothing."""
    usual = Policy()
    said = {name: getattr(policy, name) for name in Policy.model_fields}
    changed = {name: value for name, value in said.items() if value != getattr(usual, name)}
    return ["", "[policy]", *(f"{name} = {_value(value)}" for name, value in changed.items())] if changed else []


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{_quoted(name)} = {_value(one)}' for name, one in value.items())} }}"
    return _number(value) if isinstance(value, Fraction) else _quoted(value)


def _number(value: Fraction) -> str:
    """A number as it was written: shares and percentages come out of decimals."""
    places = next(places for places in range(20) if (value * 10**places).denominator == 1)
    return plain_text(value, -places)
