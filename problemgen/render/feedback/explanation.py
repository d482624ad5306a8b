"""An explanation of a marking as a neutral document, for the instructor: it holds the key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text, plain_text
from problemgen.language.messages import N_, _, ngettext, pgettext
from problemgen.language.numbers import in_digits
from problemgen.model.answers import TemplateKey
from problemgen.model.blocks import Block, Bullets, Heading, Line, Paragraph, Prose, Strong, Table
from problemgen.model.explanation import Bounds, Explanation, OnTheWay, Trial
from problemgen.model.quantity import KINDS
from problemgen.model.verdict import SHARED, VERDICTS, PartResult
from problemgen.plan.forms import form_of

__all__ = ["explanation_blocks"]

_SHOWN = 6
"""Figures that bounds are shown with: two more than an answer of four figures has."""

_KINDS = {
    "window": N_("Window"),
    "slip": N_("Slips"),
    "follow-through": N_("Follow-through"),
    "mistake": N_("Usual mistakes"),
    "two mistakes": N_("Two usual mistakes together"),
    "rounding": N_("Rounded too early"),
}
"""The kinds of trials, in the order in which they are tried."""


def explanation_blocks(template: TemplateKey, one: Explanation) -> Iterator[Block]:
    """One part: what was written and read, the window and where it comes from, what was tried, the points."""
    result = one.result
    yield Heading(2, f"{result.label}  {one.part.words}")
    yield Bullets(tuple(_head(template, one)))
    yield from _way(_("The window, step by step"), template, one.way)
    if one.carried:
        yield from _way(_("By the student's own earlier answers"), template, one.carried)
    for kind, title in _KINDS.items():
        trials = [trial for trial in one.trials if trial.kind == kind]
        if trials:
            yield Paragraph((Strong(_(title)),))
            yield Bullets(tuple(_told(trials, one.part.asked.unit)))


def _head(template: TemplateKey, one: Explanation) -> Iterator[Line]:
    result = one.result
    yield _line(_("Wrote"), result.wrote.strip() or _("nothing"))
    read = result.read or _("nothing")
    if one.value is not None:
        unit = unit_text(one.part.asked.unit)
        value = f"{_number(one.value, max(one.figures, 1))} {unit}".strip()
        told = ngettext(
            "{read}, that is {value} with {n} significant figure",
            "{read}, that is {value} with {n} significant figures",
            one.figures,
        )
        read = told.format(read=read, value=value, n=one.figures)
    yield _line(_("Read"), read)
    yield _line(_("Right answer"), _right(template, one))
    yield _line(_("Verdict"), f"{result.verdict} ({_(VERDICTS[result.verdict].meaning)}), {result.reason}")
    yield _line(_("Told the student"), " ".join((result.sentence, *result.remarks)))
    if result.notes:
        yield _line(_("For you alone"), " ".join(result.notes))
    yield _line(_("Points"), f"{_earned(result)}; {_share(result)}")


def _line(what: str, text: str) -> Line:
    return (Prose(f"{what}: "), Strong(text))


def _right(template: TemplateKey, one: Explanation) -> str:
    if one.truth is None:
        return _("not known without the student's own data")
    return form_of(one.part.asked).explained(template.scene, one.part.asked, one.truth)


def _earned(result: PartResult) -> str:
    return _("{earned} of {most}").format(earned=_points(result.points), most=_points(result.of))


def _share(result: PartResult) -> str:
    """What the policy gives for the verdict; an instructor's decision may have given other points."""
    if result.dropped:
        return _("not counted, by your decision")
    if result.verdict == "right":
        return _("the policy gives all, less what it deducts")
    if result.verdict not in SHARED:
        return _("the policy gives none")
    deducted = not result.decision and result.points < result.share * result.of
    told = (
        _("the policy's share for this is {share}, less what it deducts")
        if deducted
        else _("the policy's share for this is {share}")
    )
    return told.format(share=_points(result.share))


def _points(points: Fraction) -> str:
    return in_digits(plain_text(points, -2).rstrip("0").rstrip("."))


def _way(title: str, template: TemplateKey, way: Sequence[OnTheWay]) -> Iterable[Block]:
    titles = (_("Quantity"), _("Value"), _("From"), pgettext("bound", "To"), _("Unit"), _("Why"))
    header: tuple[Line, ...] = tuple((Prose(text),) for text in titles)
    if way:
        rows = tuple(_row(template, one) for one in way)
        yield Table(title, header, rows, (False, True, True, True, False, False))


def _row(template: TemplateKey, one: OnTheWay) -> tuple[Line, ...]:
    unit = read_unit(KINDS[one.quantity.kind].unit)
    numbers = (_number(unit.from_engine(v), _SHOWN) for v in (one.bounds.value, one.bounds.low, one.bounds.high))
    words = template.scene.words_of(one.quantity)
    if one.quantity.kind == "atomic_weight":
        words = _("atomic weight of {element}").format(element=one.quantity.of)
    texts = (words, *numbers, unit_text(unit.text), f"{one.source}: {one.why}")
    return tuple((Prose(text),) for text in texts)


def _told(trials: Sequence[Trial], unit: str) -> Iterator[Line]:
    """What fits first, then what leads elsewhere; what leads to no number in one line for each reason."""
    numbers = [trial for trial in trials if trial.fits or trial.leads_to is not None]
    yield from (_tried(trial, unit) for trial in sorted(numbers, key=lambda trial: not trial.fits))
    others = [trial for trial in trials if not trial.fits and trial.leads_to is None]
    for why in dict.fromkeys(trial.why for trial in others):
        names = "; ".join(trial.what for trial in others if trial.why == why)
        yield (Prose(f"✗ {names}: {why}"),)


def _tried(trial: Trial, unit: str) -> Line:
    sign = "✓" if trial.fits else "✗"
    leads = f", {_range(trial.leads_to)} {unit_text(unit)}".rstrip() if trial.leads_to is not None else ""
    return (Prose(f"{sign} {trial.what}{leads}: {trial.why}"),)


def _range(bounds: Bounds) -> str:
    return _("{low} to {high}").format(low=_number(bounds.low, _SHOWN), high=_number(bounds.high, _SHOWN))


def _number(value: Fraction, figures: int) -> str:
    return number_text(figures_text(value, figures))
