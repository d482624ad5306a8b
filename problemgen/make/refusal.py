"""What an author or instructor is told where a template leaves too little room: what fell to which rule, what helps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from problemgen.language.messages import _
from problemgen.language.numbers import listed
from problemgen.make.duties import COULD_SHOW, Duties
from problemgen.model.plan import Mistake
from problemgen.model.template import Template
from problemgen.model.variant import Rejections

__all__ = ["ADVICE", "Unshown", "no_room", "of_mistakes", "unshown"]

_MOST = 3
"""Mistakes that are told by name: those that turned away most."""

_SAID = 0.01
"""The share of candidates below which a mistake is not worth a line."""

ADVICE = {
    "flask": "lower the volumes, or give the reaction a larger flask in banks/reactions.toml",
    "excess": "raise what is in excess, or take less of what limits",
    "limiting": "move the reagents' ranges apart, so that one is clearly limiting more often",
    "conditioning": "give more figures, or ask for something other than a small difference",
    "coincidence": "widen the ranges, so that answers differ from each other more often",
    "mistake": "widen the ranges, ask a part that shows the mistake, or let it hide with `may_hide`",
}
"""What helps against each rule."""


def no_room(template: Template, rejections: Rejections, missing: int) -> str:
    """The refusal of a template that leaves too little room, with what to widen."""
    who = f"{missing} student{'s' if missing > 1 else ''}"
    lines = [
        (
            f"{template.id}: no admissible variant for {who} among {rejections.candidates} candidates; "
            f"{rejections.admitted} were admissible, fewer than needed."
        )
    ]
    for rule, count in sorted(rejections.by_rule.items(), key=lambda item: -item[1]):
        if count:
            share = 100 * count / rejections.candidates
            lines.append(f"  rule {rule!r} turned away {share:.0f} %: {ADVICE[rule]}")
            if rule == "mistake":
                told = of_mistakes(rejections.by_mistake, rejections.candidates)
                lines.extend(f"    {name!r} would be hidden in {share:.0%}" for name, share in told)
    return "\n".join(lines)


def of_mistakes(hidden: Mapping[str, int], candidates: int) -> Iterator[tuple[str, float]]:
    """The mistakes that turned away most candidates, with the share of each."""
    for name, count in sorted(hidden.items(), key=lambda item: (-item[1], item[0]))[:_MOST]:
        if count >= _SAID * candidates:
            yield name, count / candidates


@dataclass(frozen=True)
class Unshown:
    """A usual mistake that the numbers of a template cannot show, or hardly: what was found, and what helps."""

    found: str
    hint: str


def unshown(template: Template, duties: Duties) -> Iterator[Unshown]:
    """The listed mistakes that the ranges of a template do not show, those apart that it lets hide knowingly."""
    for mistake in template.plan.mistakes:
        if mistake.id in template.may_hide or duties.owes(mistake):
            continue
        asked = ", ".join(name for name, _expression in mistake.rewrites)
        found = _how_often(duties.shares.get(mistake.id, 0.0)).format(id=repr(mistake.id), title=_(mistake.title))
        fixed = _fixed_behind(template, mistake)
        if fixed:
            found = _("{mistake}; it rests on the fixed {values}").format(mistake=found, values=listed(fixed))
        yield Unshown(found, f"Ask for {asked}, widen the ranges, or say `may_hide` in the template.")


def _how_often(share: float) -> str:
    # Translators: {id} is the name that templates call a mistake by, {title} what it is called.
    if not share:
        return _("the mistake {id} ({title}), which no asked part ever shows")
    told = f"{share:.0%}"
    if share < COULD_SHOW:
        return _("the mistake {id} ({title}), which {share} of candidates show").replace("{share}", told)
    often = _("the mistake {id} ({title}), which {share} of candidates show, but not together with the others")
    return often.replace("{share}", told)


def _fixed_behind(template: Template, mistake: Mistake) -> list[str]:
    """The fixed values that a rewritten step looks up, as they are written."""
    names = {name for rewritten, _expression in mistake.rewrites for name in _needs(template, rewritten)}
    return [
        f"{one.quantity.id} = {one.written.text} {one.unit}".removesuffix(" 1")
        for one in template.fixed
        if one.quantity.id in names
    ]


def _needs(template: Template, name: str) -> frozenset[str]:
    return next((step.needs for step in template.plan.steps if step.quantity.id == name), frozenset())
