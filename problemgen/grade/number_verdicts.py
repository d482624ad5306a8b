"""Judging a number: the window, slips, what follows from earlier answers, usual mistakes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from problemgen.grade.bench import Bench
from problemgen.grade.findings import (
    FOLLOWS,
    RIGHT,
    Finding,
    Said,
    as_window,
    figures_remark,
    readings_of,
    rounded_once_more,
    rounded_too_far,
    said_in,
    slip_of,
    told,
    unit_remark,
    unread,
)
from problemgen.grade.follow_through import carry_accepted, carry_number, copied, follows, rests_on_accepted
from problemgen.grade.mistakes import mistakes_behind
from problemgen.grade.naming import named
from problemgen.grade.reading import Reading
from problemgen.grade.rounded_early import rounded_early
from problemgen.model.answers import PartKey
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import PartResult
from problemgen.plan.arithmetic import Window

__all__ = ["RULES", "judge_number"]

_PREFERRED = ("right", "follows", "mistake", "slip", "rounded", "wrong", "unit", "unread", "blank")
"""Which verdict counts where a number can be read in two ways: the one that makes more sense of it."""

RULES: Mapping[str, object] = {"preferred": _PREFERRED}
"""What the practice page reads of this: `problemgen.practice.rules` carries it into the page."""

_ROUNDED_EARLY = (
    "The way is right, but a result on the way was rounded too early: "
    "keep at least one figure more than the data support until the end."
)


def judge_number(bench: Bench, part: PartKey, truth: NumberTruth, wrote: str) -> PartResult:
    """The result of a part that asks for a number."""
    readings = readings_of(wrote, part, bench.decimal_mark)
    judged = [(_finding(bench, part, truth, reading), reading) for reading in readings]
    finding, reading = min(judged, key=lambda pair: _PREFERRED.index(pair[0].verdict))
    said = said_in(reading, part, truth)
    if said is None:
        return bench.result(part, wrote, "", finding)
    if finding.verdict != "right":
        carry_number(bench, part, said, as_window(reading, part, truth))
    elif bench.policy_of(part.asked).tolerance.share:
        carry_accepted(bench, part, said, as_window(reading, part, truth))
    bench.numbers.append(said)
    remarks, lost = _remarks(bench, reading, part, truth, finding)
    finding = replace(finding, lost=lost)
    return replace(bench.result(part, wrote, told(reading, part), finding, remarks), value=said.value)


def _finding(bench: Bench, part: PartKey, truth: NumberTruth, reading: Reading) -> Finding:
    said = said_in(reading, part, truth)
    if said is None:
        return unread(reading)
    if _right(bench, part, truth, said):
        return RIGHT
    if rounded_once_more(reading, part, truth):
        bench.tried("window", "one figure fewer", "the right value rounds to it", fits=True)
        return replace(RIGHT, reason="one-figure-fewer")
    own = bench.own_for(part)
    paid = [*_slipped(bench, part, truth, said), *_followed(bench, part, said, own)]
    if paid:
        return max(paid, key=lambda finding: finding.share)
    mistakes = mistakes_behind(bench, part, said) if said.telling else ()
    if mistakes:
        share = bench.share_of_mistakes(part.asked, mistakes) if not copied(bench, part, said) else Fraction(0)
        return named(mistakes, bench.template.plan, share)
    return _rounded(bench, part, truth, reading, own) or _wrong(bench, part)


def _right(bench: Bench, part: PartKey, truth: NumberTruth, said: Said) -> bool:
    inside = truth.low <= said.value <= truth.high
    window = Window(truth.value, truth.low, truth.high, truth.figures)
    tolerance = bench.policy_of(part.asked).tolerance.words
    what = "the acceptance window" + (f", {tolerance}" if tolerance else "")
    bench.tried("window", what, "inside" if inside else "outside", fits=inside, leads_to=window)
    return inside


def _slipped(bench: Bench, part: PartKey, truth: NumberTruth, said: Said) -> Iterator[Finding]:
    slip = slip_of(truth, said.value)
    bench.tried("slip", "a power of ten, or the sign", slip[0] if slip else "none fits", fits=slip is not None)
    if slip is not None:
        yield Finding("slip", *slip, bench.policy_of(part.asked).unit_slip, at=(part.asked.quantity.id,))


def _followed(bench: Bench, part: PartKey, said: Said, own: Mapping[str, Window] | None) -> Iterator[Finding]:
    if not follows(bench, part, said, own):
        return
    if rests_on_accepted(bench, part):
        yield replace(RIGHT, reason="follows-accepted")
    else:
        yield Finding("follows", "follow-through", FOLLOWS, bench.policy_of(part.asked).follow_through)


def _rounded(
    bench: Bench, part: PartKey, truth: NumberTruth, reading: Reading, own: Mapping[str, Window] | None
) -> Finding | None:
    """The right way, from the right values or from the student's own, with a result rounded too far."""
    said, share = said_in(reading, part, truth), bench.policy_of(part.asked).rounded_early
    if said is None:
        return None
    if rounded_too_far(reading, part, truth):
        bench.tried("rounding", "the answer itself", "the right value rounds to it", fits=True)
        sentence = f"Rounded too far: the data support {truth.figures} significant figures."
        earned = share if said.telling else Fraction(0)
        return Finding("rounded", "rounded-too-far", sentence, earned, at=(part.asked.quantity.id,))
    if not said.telling or copied(bench, part, said):
        return None
    starts = [(bench.right, Fraction(1))]
    if own is not None:
        starts.append(({**bench.right, **own}, bench.policy_of(part.asked).follow_through))
    for start, times in starts:
        way = rounded_early(bench, part, said, start)
        if way is not None:
            return Finding("rounded", "rounded-early", _ROUNDED_EARLY, share * times, at=way.at)
    return None


def _wrong(bench: Bench, part: PartKey) -> Finding:
    at = bench.unconfirmed([part.asked.quantity.id])
    return Finding.not_right("Go through the steps again, with the unit of each number beside it.", at)


def _remarks(
    bench: Bench, reading: Reading, part: PartKey, truth: NumberTruth, finding: Finding
) -> tuple[tuple[str, ...], Fraction]:
    """The remarks on a number that earned points, and the share that the policy takes off for them."""
    if finding.verdict not in ("right", "follows"):
        return (), Fraction(0)
    policy = bench.policy_of(part.asked)
    noted = [(policy.figures, figures_remark(reading, truth)), (policy.missing_unit, unit_remark(reading, part))]
    remarks = [remark for kind, remark in noted if remark and kind in ("remark", "deduct")]
    lost = sum((policy.deduction for kind, remark in noted if remark and kind == "deduct"), Fraction(0))
    if reading.reason:
        remarks.append(reading.reason)
    return tuple(remarks), min(lost, Fraction(1))
