"""What a student's feedback says first: what cost the points, what to practise, and what is said of several parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from problemgen.model.answers import TemplateKey
from problemgen.model.blocks import Block, Bullets, Line, Paragraph, Prose, Strong
from problemgen.model.quantity import OVERALL_EXTENT
from problemgen.model.verdict import VERDICTS, PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.render.feedback.points import points_number

__all__ = ["first_words", "shared_remarks"]

_REPEATED = 2  # parts from which on a remark is said once for all of them
_CAUSES = 3  # named one by one; a student who has more of them has read enough
_ABOUT_AT_MOST = 2  # quantities that are named for a cause: it would get too long to be taken in
_ABOUT = ("mistake", "slip", "rounded", "wrong")  # the verdicts that are about a step
_REAGENT = "which reagent limits"  # what the overall extent tells a student
_PARTS = 8  # named one by one, on a line


def first_words(result: StudentResult, templates: Mapping[str, TemplateKey]) -> Iterator[Block]:
    """What cost the points, by what it is about and the mistake or the verdict, and where it can be practised.

    `templates` are those of the student's problems, by the problem's id.
    """
    causes = _causes(result, templates)
    if not causes or not result.handed_in:
        return
    lost = sum((points for points, _ in causes.values()), Fraction(0))
    whole = f"{points_number(lost)} of {_points(result.of)}"
    ranked = sorted(causes.items(), key=lambda one: -one[1][0])
    if len(ranked) == 1:
        ((cause, (_, labels)),) = ranked
        behind = Prose(f" ({_listed(labels)}).")
        yield Paragraph((Prose(f"You lost {whole}, all from one thing: "), Strong(cause), behind))
    else:
        several = ranked[:_CAUSES]
        shown = "; ".join(f"{_points(one[0])}: {cause} ({_listed(one[1])})" for cause, one in several)
        rest = "; and more" if len(ranked) > _CAUSES else ""
        yield Paragraph((Prose(f"You lost {whole}. {shown}{rest}."),))
    yield from _practice(result, templates)


def shared_remarks(result: StudentResult) -> Mapping[str, tuple[str, ...]]:
    """The remarks that several parts have, with the labels of these parts."""
    labels: dict[str, list[str]] = {}
    for part in result.parts:
        for remark in dict.fromkeys(part.remarks):
            labels.setdefault(remark, []).append(part.label)
    return {remark: tuple(parts) for remark, parts in labels.items() if len(parts) >= _REPEATED}


def _causes(result: StudentResult, templates: Mapping[str, TemplateKey]) -> dict[str, tuple[Fraction, tuple[str, ...]]]:
    """What cost points, in words with the quantity that it is about: how many, and in which parts."""
    causes: dict[str, tuple[Fraction, tuple[str, ...]]] = {}
    about: dict[str, list[str]] = {}
    for part in result.counted:
        lost = part.of - part.points
        if lost > 0:
            cause = part.titles[0] if part.titles else VERDICTS[part.verdict].words.lower()
            if part.verdict == "right":
                cause = "how the answer is written"
            points, labels = causes.get(cause, (Fraction(0), ()))
            causes[cause] = points + lost, (*labels, part.label)
            about.setdefault(cause, []).extend(_about(part, templates[part.problem]))
    return {_with_quantity(cause, about[cause]): cost for cause, cost in causes.items()}


def _about(part: PartResult, template: TemplateKey) -> list[str]:
    """The quantities, in words, whose step went wrong where a mistake has a name; of a wrong answer, what it is of."""
    asked = next(one.asked for one in template.parts if one.id == part.part)
    if part.verdict not in _ABOUT or not form_of(asked).rests_on_plan:
        return []
    own = asked.quantity
    quantities = {step.quantity.id: step.quantity for step in template.plan.steps} | {own.id: own}
    names = part.at if part.verdict == "mistake" and part.mistakes else ()
    found = [quantities[name] for name in names if name in quantities] or [own]
    return [_REAGENT if one.id == OVERALL_EXTENT.id else f"the {template.scene.words_of(one)}" for one in found]


def _with_quantity(cause: str, about: Sequence[str]) -> str:
    """A cause behind what it is about; alone where that is nothing or too much."""
    words = tuple(dict.fromkeys(about))
    return f"{' and '.join(words)}: {cause}" if 0 < len(words) <= _ABOUT_AT_MOST else cause


def _practice(result: StudentResult, templates: Mapping[str, TemplateKey]) -> Iterator[Block]:
    """The templates in which mistakes were made that have a name: their like is on the practice page."""
    lines: dict[str, list[str]] = {}
    for part in result.counted:
        if part.titles and part.points < part.of:
            lines.setdefault(part.problem, []).append(part.label)
    told: Sequence[Line] = [
        (Prose(f"{_listed(labels)}: problems like “{templates[problem].title}” ({_topic(templates[problem])})"),)
        for problem, labels in lines.items()
    ]
    if told:
        yield Paragraph((Prose("To practise this:"),))
        yield Bullets(tuple(told))


def _topic(template: TemplateKey) -> str:
    """The topic under which a practice page has a template: the folder that it is in."""
    return template.id.partition("/")[0].replace("-", " ")


def _points(points: Fraction) -> str:
    return f"{points_number(points)} {'point' if points == 1 else 'points'}"


def _listed(labels: Sequence[str]) -> str:
    return ", ".join(labels[:_PARTS]) + (f" and {len(labels) - _PARTS} more" if len(labels) > _PARTS else "")
