"""What a student's feedback says first: what cost the points, what to practise, and what is said of several parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from problemgen.language.letters import inside_a_sentence
from problemgen.language.messages import N_, _, ngettext
from problemgen.language.numbers import listed
from problemgen.model.answers import TemplateKey
from problemgen.model.blocks import Block, Bullets, Line, Paragraph, Prose, Strong
from problemgen.model.lines import filled
from problemgen.model.quantity import OVERALL_EXTENT
from problemgen.model.verdict import VERDICTS, PartResult, StudentResult
from problemgen.plan.forms import form_of
from problemgen.render.feedback.points import earned_of, points_number

__all__ = ["first_words", "shared_remarks"]

_REPEATED = 2  # parts from which on a remark is said once for all of them
_CAUSES = 3  # named one by one; a student who has more of them has read enough
_ABOUT_AT_MOST = 2  # quantities that are named for a cause: it would get too long to be taken in
_ABOUT = ("mistake", "slip", "rounded", "wrong")  # the verdicts that are about a step
_REAGENT = N_("which reagent limits")  # what the overall extent tells a student
_PARTS = 8  # named one by one, on a line


def first_words(result: StudentResult, templates: Mapping[str, TemplateKey]) -> Iterator[Block]:
    """What cost the points, by what it is about and the mistake or the verdict, and where it can be practised.

    `templates` are those of the student's problems, by the problem's id.
    """
    causes = _causes(result, templates)
    if not causes or not result.handed_in:
        return
    lost = sum((points for points, _labels in causes.values()), Fraction(0))
    whole = earned_of(lost, result.of)
    ranked = sorted(causes.items(), key=lambda one: -one[1][0])
    if len(ranked) == 1:
        ((cause, (_points_lost, labels)),) = ranked
        told = _("You lost {points}, all from one thing: {cause} ({parts}).")
        yield Paragraph(filled(told, points=whole, cause=(Strong(cause),), parts=_listed(labels)))
    else:
        several = ranked[:_CAUSES]
        shown = "; ".join(f"{_points(one[0])}: {cause} ({_listed(one[1])})" for cause, one in several)
        more = len(ranked) > _CAUSES
        told = _("You lost {points}. {causes}; and more.") if more else _("You lost {points}. {causes}.")
        yield Paragraph((Prose(told.format(points=whole, causes=shown)),))
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
            cause = _(part.titles[0]) if part.titles else inside_a_sentence(_(VERDICTS[part.verdict].words))
            if part.verdict == "right":
                cause = _("how the answer is written")
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
    # Translators: what went wrong stands behind it: "the mass of aspirin: density left out".
    the = _("the {quantity}")
    reagent = OVERALL_EXTENT.id
    return [_(_REAGENT) if one.id == reagent else the.format(quantity=template.scene.words_of(one)) for one in found]


def _with_quantity(cause: str, about: Sequence[str]) -> str:
    """A cause behind what it is about; alone where that is nothing or too much."""
    words = tuple(dict.fromkeys(about))
    return f"{listed(words)}: {cause}" if 0 < len(words) <= _ABOUT_AT_MOST else cause


def _practice(result: StudentResult, templates: Mapping[str, TemplateKey]) -> Iterator[Block]:
    """The templates in which mistakes were made that have a name: their like is on the practice page."""
    lines: dict[str, list[str]] = {}
    for part in result.counted:
        if part.titles and part.points < part.of:
            lines.setdefault(part.problem, []).append(part.label)
    # Translators: "1a, 1b: problems like “Iodoform from acetone”".
    like = _("{parts}: problems like “{title}”")
    told: Sequence[Line] = [
        (Prose(like.format(parts=_listed(labels), title=templates[one].title)),) for one, labels in lines.items()
    ]
    if told:
        yield Paragraph((Prose(_("To practise this:")),))
        yield Bullets(tuple(told))


def _points(points: Fraction) -> str:
    return ngettext("{n} point", "{n} points", 1 if points == 1 else 2).format(n=points_number(points))


def _listed(labels: Sequence[str]) -> str:
    shown = ", ".join(labels[:_PARTS])
    more = len(labels) - _PARTS
    return _("{names} and {more} more").format(names=shown, more=more) if more > 0 else shown
