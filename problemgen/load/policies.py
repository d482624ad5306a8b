"""Reading how a set is marked: its policy, those of single problems and parts, and the attempts.

In set.toml, each with a default, so that only what differs is written:

    [policy]                          # of the whole set
    figures = "remark"                # or "ignore", "deduct"
    missing_unit = "accept"           # or "remark", "deduct"
    follow_through = 1.0              # shares of a part's points, from 0 to 1
    unit_slip = 0.5
    named_mistake = 0
    named_mistakes = { "ratio-left-out" = 0.5 }     # other shares for some mistakes
    rounded_early = 0.5
    deduction = 0.1
    widen_percent = 1                 # the window, by this share of the value on each side
    replace_percent = 5               # or: this share alone in place of the derived window

    [problem.policy]                  # below a [[problem]]: what differs for its parts
    follow_through = 0.5

    [problem.part.b]                  # what differs for one part, by its letter
    points = 3
    figures = "deduct"

    [attempts]
    number = 3                        # each student gets new numbers for each
    counts = "last"                   # or "best", "mean"

A problem's policy goes before the set's, a part's before both. Of `widen_percent` and `replace_percent` the nearer one
stands alone; `widen_percent = 0` goes back to the derived window.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from problemgen.exact.digits import Written
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.model.document import Document, Number, Text
from problemgen.model.policy import Attempts, Counts, Policy, Tolerance
from problemgen.model.template import Part, Template, label_of
from problemgen.plan.forms import form_of

__all__ = ["AttemptsDocument", "PartPolicyDocument", "PolicyDocument", "PolicyReader", "with_points"]

_MOST_ATTEMPTS = 9  # one figure behind a student's id in the names of files; no course gives more


def _share(value: Written) -> Written:
    if not 0 <= value.value <= 1:
        raise ValueError("a share from 0 to 1")
    return value


def _percent(value: Written) -> Written:
    if not 0 <= value.value <= 100:
        raise ValueError("a percentage from 0 to 100")
    return value


def _some_percent(value: Written) -> Written:
    if not 0 < value.value <= 100:
        raise ValueError("a percentage above 0, up to 100")
    return value


def _points(value: Written) -> Written:
    if value.value < 0:
        raise ValueError("no fewer than 0 points")
    return value


Share = Annotated[Number, AfterValidator(_share)]
Percent = Annotated[Number, AfterValidator(_percent)]
SomePercent = Annotated[Number, AfterValidator(_some_percent)]
Points = Annotated[Number, AfterValidator(_points)]

_SHARES = ("follow_through", "unit_slip", "named_mistake", "rounded_early", "deduction")


class PolicyDocument(Document):
    """How responses are marked: what is left out stays as it is one level up."""

    figures: Literal["ignore", "remark", "deduct"] | None = None
    missing_unit: Literal["accept", "remark", "deduct"] | None = None
    follow_through: Share | None = None
    unit_slip: Share | None = None
    named_mistake: Share | None = None
    named_mistakes: dict[Text, Share] = Field(default_factory=dict)
    rounded_early: Share | None = None
    deduction: Share | None = None
    widen_percent: Percent | None = None
    replace_percent: SomePercent | None = None

    @property
    def sets_tolerance(self) -> bool:
        """Whether it changes the window."""
        return self.widen_percent is not None or self.replace_percent is not None


class PartPolicyDocument(PolicyDocument):
    """How one part is marked, and its points where they differ from the template's."""

    points: Points | None = None


class AttemptsDocument(Document):
    """How many attempts there are, and which counts."""

    number: int = Field(default=1, ge=1, le=_MOST_ATTEMPTS)
    counts: Counts = "last"

    @property
    def attempts(self) -> Attempts:
        """The record of it."""
        return Attempts(self.number, self.counts)


@dataclass
class PolicyReader:
    """Reads the policies of one set, and keeps the faults of all."""

    faults: FaultLog

    def policy_of_set(self, document: PolicyDocument, templates: Iterable[Template]) -> Policy:
        """The set's policy; `templates` are all that it names, for the mistakes that they know."""
        return self._merged("policy", Policy(), document, templates)

    def policies_of_problem(
        self,
        key: str,
        policy: Policy,
        common: PolicyDocument,
        parts: Mapping[str, PartPolicyDocument],
        templates: Sequence[Template],
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
        self, key: str, policy: Policy, document: PartPolicyDocument, parts: Sequence[tuple[Template, Part]]
    ) -> Policy:
        if document.sets_tolerance and not any(form_of(part.asked).has_window for _, part in parts):
            name = "widen_percent" if document.widen_percent is not None else "replace_percent"
            self.faults.add(
                f"{key}.{name}", "a window for a part that asks for no number", "a part that asks for a number"
            )
        return self._merged(key, policy, document, [template for template, _ in parts])

    def _merged(self, key: str, policy: Policy, document: PolicyDocument, templates: Iterable[Template]) -> Policy:
        if document.widen_percent is not None and document.replace_percent is not None:
            expected = "one of widen_percent and replace_percent"
            self.faults.add(f"{key}.replace_percent", "a window that is widened and replaced", expected)
        self._check_mistakes(f"{key}.named_mistakes", document.named_mistakes, templates)
        words = {name: getattr(document, name) for name in ("figures", "missing_unit")}
        shares = {name: getattr(document, name) for name in _SHARES}
        changes = {name: value for name, value in words.items() if value is not None}
        changes |= {name: share.value for name, share in shares.items() if share is not None}
        named = dict(policy.named_mistakes) | {name: share.value for name, share in document.named_mistakes.items()}
        tolerance = _tolerance(document) if document.sets_tolerance else policy.tolerance
        return replace(policy, **changes, named_mistakes=tuple(sorted(named.items())), tolerance=tolerance)

    def _check_mistakes(self, key: str, names: Iterable[str], templates: Iterable[Template]) -> None:
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


def _lettered(templates: Iterable[Template], letter: str) -> list[tuple[Template, Part]]:
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


def _tolerance(document: PolicyDocument) -> Tolerance:
    if document.replace_percent is not None:
        return Tolerance("replaced", document.replace_percent.value / 100)
    assert document.widen_percent is not None
    share = document.widen_percent.value / 100
    return Tolerance("widened", share) if share else Tolerance()


def with_points(template: Template, parts: Mapping[str, PartPolicyDocument]) -> Template:
    """The template with the points that a set gives to its parts; itself where it gives none."""
    points = {letter: one.points for letter, one in parts.items() if one.points is not None}
    changed = tuple(_with(part, points.get(label_of(index))) for index, part in enumerate(template.parts))
    return template if changed == template.parts else replace(template, parts=changed)


def _with(part: Part, points: Written | None) -> Part:
    return part if points is None else replace(part, points=points)
