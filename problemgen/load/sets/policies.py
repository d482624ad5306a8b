"""Reading how a set is marked: its policy, and those of single problems and parts. See `problemgen.model.policy`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from problemgen.exact.digits import Written
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.sets.documents import PartPolicy
from problemgen.model.plan import Plan
from problemgen.model.policy import Policy
from problemgen.model.problem import Asked
from problemgen.model.template import Part, Template, label_of
from problemgen.plan.forms import form_of

__all__ = ["PolicyReader", "with_points"]


class _Asking(Protocol):
    """An asked part, of a template or of a built set's key."""

    @property
    def asked(self) -> Asked: ...


class _Marked(Protocol):
    """A template, or the key of one."""

    @property
    def plan(self) -> Plan: ...

    @property
    def parts(self) -> Sequence[_Asking]: ...


@dataclass
class PolicyReader:
    """Reads the policies of one set, and keeps the faults of all."""

    faults: FaultLog

    def policy_of_set(self, document: Policy, templates: Iterable[_Marked]) -> Policy:
        """The set's policy; `templates` are all that it names, for the mistakes that they know."""
        return self._merged("policy", Policy(), document, templates)

    def policies_of_problem(
        self,
        key: str,
        policy: Policy,
        common: Policy,
        parts: Mapping[str, PartPolicy],
        templates: Sequence[_Marked],
    ) -> dict[str, Policy]:
        """The policy of each part of a problem, by its letter; `policy` is the set's, `key` names the problem.

        A letter stands for that part of each template that has it, where a problem has several.
        """
        policy = self._merged(f"{key}.policy", policy, common, templates)
        letters = [label_of(index) for index in range(max((len(one.parts) for one in templates), default=0))]
        for letter in parts.keys() - set(letters):
            self._unknown_part(f"{key}.part.{letter}", letter, letters)
        return {
            letter: self._part_policy(f"{key}.part.{letter}", policy, parts[letter], _lettered(templates, letter))
            if letter in parts
            else policy
            for letter in letters
        }

    def _part_policy(
        self, key: str, policy: Policy, document: PartPolicy, parts: Sequence[tuple[_Marked, _Asking]]
    ) -> Policy:
        said = document.window_keys
        if said and not any(form_of(part.asked).has_window for _, part in parts):
            found = "a window for a part that asks for no number"
            self.faults.add(f"{key}.{said[0]}", found, "a part that asks for a number")
        return self._merged(key, policy, document, [template for template, _ in parts])

    def _merged(self, key: str, policy: Policy, document: Policy, templates: Iterable[_Marked]) -> Policy:
        said = document.window_keys
        if len(said) > 1:
            self.faults.add(
                f"{key}.{said[-1]}", "a window that is widened and replaced", f"one of {' and '.join(said)}"
            )
        self._check_mistakes(f"{key}.named_mistakes", document.named_mistakes, templates)
        return policy.changed_by(document)

    def _check_mistakes(self, key: str, names: Iterable[str], templates: Iterable[_Marked]) -> None:
        ids = {mistake.id for template in templates for mistake in template.plan.mistakes}
        known = ids | {name.partition(":")[0] for name in ids}
        for name in names:
            if known and name not in known:
                expected = "the id of a usual mistake of these templates, with or without what follows the colon"
                self.faults.unknown(f"{key}.{name}", name, sorted(known), expected)

    def _unknown_part(self, key: str, found: str, letters: Sequence[str]) -> None:
        if letters:
            shown = letters[0] if len(letters) == 1 else f"{letters[0]} to {letters[-1]}"
            self.faults.add(key, repr(found), f"the letter of a part: {shown}", _meant(found, letters))


def _lettered(templates: Iterable[_Marked], letter: str) -> list[tuple[_Marked, _Asking]]:
    """That part of each template that has one of this letter."""
    return [
        (template, part)
        for template in templates
        for index, part in enumerate(template.parts)
        if label_of(index) == letter
    ]


def _meant(found: str, letters: Sequence[str]) -> str:
    """A hint where a part is named in capitals, by its number, or with its problem's number before it ("1a")."""
    text = found.strip().lower()
    if text.isascii() and text.isdecimal() and 0 < int(text) <= len(letters):
        text = letters[int(text) - 1]
    return nearest(text.lstrip("0123456789"), letters)


def with_points(template: Template, parts: Mapping[str, PartPolicy]) -> Template:
    """The template with the points that a set gives to its parts; itself where it gives none."""
    points = {letter: one.points for letter, one in parts.items() if one.points is not None}
    changed = tuple(_with(part, points.get(label_of(index))) for index, part in enumerate(template.parts))
    return template if changed == template.parts else replace(template, parts=changed)


def _with(part: Part, points: Written | None) -> Part:
    return part if points is None else replace(part, points=points, usual_points=part.usual_points or part.points)
