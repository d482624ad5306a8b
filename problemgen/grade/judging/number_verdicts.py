"""Judging a number: the window, slips, what follows from earlier answers, usual mistakes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from problemgen.grade.judging.closeness import (
    LAST_DIGIT,
    NOT_ROUNDED,
    ONE_FIGURE_FEWER,
    as_window,
    rounded_once_more,
    rounded_too_far,
    within_last_digit,
)
from problemgen.grade.judging.findings import (
    FOLLOWS,
    RIGHT,
    AnsweredNumber,
    Finding,
    figures_remark,
    readings_of,
    said_in,
    told,
    unit_remark,
    unread,
)
from problemgen.grade.judging.follow_through import carry_accepted, carry_number, copied, follows, rests_on_accepted
from problemgen.grade.judging.mistakes import Start, mistakes_behind, pairs_behind, starts_of
from problemgen.grade.judging.mix_ups import mixed_up
from problemgen.grade.judging.naming import named
from problemgen.grade.judging.paper import Paper
from problemgen.grade.judging.right_digits import slip_of
from problemgen.grade.judging.rounded_early import rounded_early
from problemgen.grade.reading.cell import Reading
from problemgen.language.messages import N_, _, ngettext
from problemgen.language.numbers import in_digits, listed
from problemgen.model.answers import PartKey
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window
from problemgen.plan.tries import RANK

__all__ = ["RULES", "judge_number"]

_PREFERRED = ("right", "follows", "mistake", "slip", "rounded", "wrong", "unit", "unread", "blank")
"""Which verdict counts where a number can be read in two ways: the one that makes more sense of it."""

_BESIDE = (ONE_FIGURE_FEWER, LAST_DIGIT, NOT_ROUNDED)
"""The reasons of what is right though no honest worker's window holds it: what follows is right, too."""

RULES: Mapping[str, object] = {"preferred": _PREFERRED, "beside": _BESIDE}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

_ROUNDED_EARLY = N_(
    "The way is right, but a result on the way was rounded too early: "
    "keep at least one figure more than the data support until the end."
)


def judge_number(paper: Paper, part: PartKey, truth: NumberTruth, wrote: str) -> PartResult:
    """The result of a part that asks for a number."""
    readings = readings_of(wrote, part, paper.decimal_mark, commas=paper.commas)
    judged = [
        (_finding(paper, part, truth, reading, answer), reading, answer)
        for reading in readings
        for answer in said_in(reading, part, truth) or (None,)
    ]
    finding, reading, answer = min(judged, key=lambda one: (-one[0].share, _PREFERRED.index(one[0].verdict)))
    if answer is None:
        return paper.result(part, wrote, "", finding)
    if finding.verdict != "right":
        carry_number(paper, part, answer, as_window(answer, truth))
    elif finding.reason in _BESIDE or (
        paper.policy_of(part.asked).tolerance.share and not paper.fits(answer, paper.right)
    ):
        carry_accepted(paper, part, as_window(answer, truth))
    if finding.verdict == "right":
        paper.right_parts[part.asked.quantity.id] = paper.label(part)
    paper.numbers.append(answer)
    paper.answer_known(part.asked.quantity)
    remarks, lost = _remarks(paper, reading, answer, part, truth, finding)
    read, doubt = told(reading, part), reading.reason
    return paper.result(part, wrote, read, finding, remarks, lost=lost, value=answer.value, doubt=doubt)


def _finding(
    paper: Paper, part: PartKey, truth: NumberTruth, reading: Reading, answer: AnsweredNumber | None
) -> Finding:
    if answer is None:
        return unread(reading)
    right = _right(paper, part, truth, answer)
    if right is not None:
        return right
    followed = _followed(paper, part, answer)
    if followed is not None:
        slipped = _slipped(paper, part, truth, answer)
        return slipped if slipped is not None and slipped.share > followed.share else followed
    if rounded_too_far(answer, truth):
        return _rounded_too_far(paper, part, truth, answer)
    copy, starts = copied(paper, part, answer), starts_of(paper, part, truth, answer)
    return (
        _mistaken(paper, part, truth, answer, starts, worthless=bool(copy))
        or _mixed_up(paper, part, answer)
        or _rounded(paper, part, answer, closely=False, worthless=bool(copy))
        or _misread(paper, part, answer, starts, worthless=bool(copy))
        or _both(paper, part, answer, starts, worthless=bool(copy))
        or _wrong(paper, part)
    )


def _right(paper: Paper, part: PartKey, truth: NumberTruth, answer: AnsweredNumber) -> Finding | None:
    """Inside the window; right but for the last digit; or right but for one figure fewer, where the policy lets it."""
    policy = paper.policy_of(part.asked)
    inside = truth.low <= answer.value <= truth.high
    if paper.trials is not None:
        window = Window(truth.value, truth.low, truth.high, truth.figures)
        what = ", ".join(filter(None, (_("the acceptance window"), policy.tolerance.words)))
        paper.tried("window", what, _("inside") if inside else _("outside"), fits=inside, leads_to=window)
    if inside:
        return RIGHT
    if rounded_once_more(answer, truth):
        paper.tried("window", _("one figure fewer"), _("the right value rounds to it"), fits=True)
        return replace(RIGHT, reason=ONE_FIGURE_FEWER)
    if policy.last_digit != "refuse" and within_last_digit(answer, truth):
        paper.tried("window", _("one unit of the last digit"), _("cut, or rounded the other way"), fits=True)
        return replace(RIGHT, reason=LAST_DIGIT)
    if paper.rounds_to(answer, paper.right_once_whole(part)):
        paper.tried("window", _("a whole number"), _("it rounds to it"), fits=True)
        return replace(RIGHT, reason=NOT_ROUNDED)
    return None


def _mistaken(
    paper: Paper,
    part: PartKey,
    truth: NumberTruth,
    answer: AnsweredNumber,
    starts: Sequence[Start],
    *,
    worthless: bool,
) -> Finding | None:
    """One thing worked otherwise, or a slip: from the student's own values, and then from the right ones.

    A slip that has a name goes before an error derived from the step's algebra, and so does rounding that leads as far.
    """
    for start in starts:
        found = mistakes_behind(paper, start) if answer.telling else ()
        if any(one.way.rank == RANK["listed"] for one in found):
            return named(paper, part.asked, found, worthless=worthless)
        slipped = _slipped(paper, part, start.carried or truth, answer)
        if slipped is not None and (slipped.titles or not found):
            return slipped
        if found:
            near = _rounded(paper, part, answer, closely=True, worthless=worthless)
            return near or named(paper, part.asked, found, worthless=worthless)
    return None


def _slipped(paper: Paper, part: PartKey, truth: NumberTruth | Window, answer: AnsweredNumber) -> Finding | None:
    """The right digits in another unit, with another power of ten, or with the other sign."""
    slip = slip_of(part.asked.unit, truth, answer.value, answer.unit)
    why = slip.title or slip.sentence if slip else _("none fits")
    paper.tried("slip", _("a unit, a power of ten, or the sign"), why, fits=slip is not None)
    if slip is None:
        return None
    share, at = paper.policy_of(part.asked).unit_slip, (part.asked.quantity.id,)
    if slip.title:
        return Finding("mistake", slip.reason, slip.sentence, share, (slip.reason,), (slip.title,), at)
    return Finding("slip", slip.reason, slip.sentence, share, at=at)


def _followed(paper: Paper, part: PartKey, answer: AnsweredNumber) -> Finding | None:
    if not follows(paper, part, answer):
        return None
    if rests_on_accepted(paper, part):
        return replace(RIGHT, reason="follows-accepted")
    return Finding("follows", "follow-through", _(FOLLOWS), paper.policy_of(part.asked).follow_through)


def _mixed_up(paper: Paper, part: PartKey, answer: AnsweredNumber) -> Finding | None:
    """The right answer to another part, or a value of the sheet as it stands there."""
    mixed = mixed_up(paper, part, answer) if answer.telling else None
    why = _(mixed.title) if mixed else _("none fits")
    paper.tried("mix-up", _("another part's answer, or a given value"), why, fits=mixed is not None)
    if mixed is None:
        return None
    at = (part.asked.quantity.id,)
    return Finding("mistake", mixed.reason, mixed.sentence, Fraction(0), (mixed.reason,), (mixed.title,), at)


def _rounded_too_far(paper: Paper, part: PartKey, truth: NumberTruth, answer: AnsweredNumber) -> Finding:
    """The right value, rounded or cut to fewer figures than the data support."""
    paper.tried("rounding", _("the answer itself"), _("the right value rounds to it"), fits=True)
    sentence = ngettext(
        "Rounded too far: the data support {n} significant figure.",
        "Rounded too far: the data support {n} significant figures.",
        truth.figures,
    ).format(n=truth.figures)
    earned = paper.policy_of(part.asked).rounded_early if answer.telling else Fraction(0)
    return Finding("rounded", "rounded-too-far", sentence, earned, at=(part.asked.quantity.id,))


def _rounded(paper: Paper, part: PartKey, answer: AnsweredNumber, *, closely: bool, worthless: bool) -> Finding | None:
    """The right way, from the right values or from the student's own, with results rounded too early."""
    share = paper.policy_of(part.asked).rounded_early
    if not answer.telling or worthless:
        return None
    starts = [(paper.right, Fraction(1))]
    carried = paper.carried_to(part)
    if carried is not None:
        starts.append(({**paper.right, **carried}, paper.policy_of(part.asked).follow_through))
    for start, times in starts:
        if rounded_early(paper, part, answer, start, closely=closely):
            at = paper.unconfirmed([part.asked.quantity.id])
            return Finding("rounded", "rounded-early", _(_ROUNDED_EARLY), share * times, at=at)
    return None


def _misread(
    paper: Paper, part: PartKey, answer: AnsweredNumber, starts: Sequence[Start], *, worthless: bool
) -> Finding | None:
    """A molar mass with two digits exchanged."""
    for start in starts if answer.telling else ():
        found = mistakes_behind(paper, start, misread=True)
        if found:
            return named(paper, part.asked, found, worthless=worthless)
    return None


def _both(
    paper: Paper, part: PartKey, answer: AnsweredNumber, starts: Sequence[Start], *, worthless: bool
) -> Finding | None:
    """Two things worked otherwise."""
    found = pairs_behind(paper, starts) if answer.telling else ()
    return named(paper, part.asked, found, worthless=worthless) if found else None


def _wrong(paper: Paper, part: PartKey) -> Finding:
    """What is known of a wrong answer: which of the answers that it builds on were right."""
    name = part.asked.quantity.id
    at = paper.unconfirmed([name])
    confirmed = paper.confirmed(name)
    if confirmed:
        known = ngettext(
            "Your answer to {parts} is right: look at what comes after.",
            "Your answers to {parts} are right: look at what comes after.",
            len(confirmed),
        )
        return Finding.not_right(known.format(parts=listed(confirmed)), at)
    return Finding.not_right(_("Go through the steps again, with the unit of each number beside it."), at)


def _remarks(
    paper: Paper, reading: Reading, answer: AnsweredNumber, part: PartKey, truth: NumberTruth, finding: Finding
) -> tuple[tuple[str, ...], Fraction]:
    """The remarks on a number that earned points, and the share that the policy takes off for them."""
    if finding.verdict not in ("right", "follows"):
        return (), Fraction(0)
    policy = paper.policy_of(part.asked)
    noted = [
        (policy.figures, figures_remark(reading, answer, truth)),
        (policy.missing_unit, unit_remark(reading, part)),
    ]
    remarks = [remark for kind, remark in noted if remark and kind in ("remark", "deduct")]
    lost = sum((policy.deduction for kind, remark in noted if remark and kind == "deduct"), Fraction(0))
    if finding.reason == LAST_DIGIT and policy.last_digit == "remark":
        told = _("The last digit is not that of {number}: was the answer cut, or rounded early?")
        remarks.append(told.format(number=in_digits(truth.printed)))
    if finding.reason == NOT_ROUNDED:
        remarks.append(_("A whole number is asked for: {number}.").format(number=truth.printed))
    if reading.reason:
        remarks.append(reading.reason)
    return tuple(remarks), min(lost, Fraction(1))
