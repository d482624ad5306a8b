"""Working the key out from a student's own data: what each part's answer is, and what these data leave open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import partial

from problemgen.grade.judging.apart import apart
from problemgen.grade.judging.decimal_marks import divided_by_commas
from problemgen.grade.reading.habits import with_points
from problemgen.grade.reading.own_reading import read_own, share_flagged, whole_flagged
from problemgen.language.messages import N_, _, speaking
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.own_data import OwnKey, OwnReading, data_of
from problemgen.model.policy import Tolerance
from problemgen.model.truths import Truth
from problemgen.model.verdict import OWN_DATA_REASONS, PartResult
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Window
from problemgen.plan.forms import form_of
from problemgen.plan.partial import rests_on, workable, worked_windows

__all__ = ["unmarked", "with_own_data"]


def with_own_data(head: KeyHead, key: StudentKey, cells: Mapping[str, str]) -> StudentKey:
    """A student's keys with their own data read, and the answers that rest on them worked out.

    A key that has been through here already is left as it is; so is a problem whose data the program fails to work.
    """
    if not head.own:
        return key
    head = head.in_language(key.language)
    commas = divided_by_commas(head, key, cells)
    with speaking(head.language):
        problems = [
            apart(partial(_with_own, head, one, cells, commas=commas), partial(_as_it_is, one)) for one in key.problems
        ]
    return replace(key, problems=tuple(problems))


def _as_it_is(problem: ProblemKey) -> ProblemKey:
    return problem


def _with_own(head: KeyHead, problem: ProblemKey, cells: Mapping[str, str], *, commas: bool) -> ProblemKey:
    keys = head.own.get(problem.problem, ())
    if not keys or problem.own:
        return problem
    template, readings = head.templates[problem.template], _read(keys, cells, head.decimal_mark, commas=commas)
    tolerances = {part.id: head.policy_of(problem.label(part)).tolerance for part in template.parts}
    return _worked(template, problem, readings, tolerances)


def _read(
    keys: Iterable[OwnKey], cells: Mapping[str, str], decimal_mark: str, *, commas: bool
) -> tuple[OwnReading, ...]:
    if not commas:
        return read_own(keys, cells, decimal_mark)
    readings = read_own(keys, {column: with_points(cell) for column, cell in cells.items()}, ".")
    return tuple(replace(one, wrote=cells.get(one.key.column, "")) for one in readings)


def _worked(
    template: TemplateKey,
    problem: ProblemKey,
    readings: tuple[OwnReading, ...],
    tolerances: Mapping[str, Tolerance],
) -> ProblemKey:
    """The problem with what follows from these values: what of it can be worked out."""
    given = {**problem.given, **data_of(readings)}
    data = datum_windows(given)
    plan = workable(template.plan, data)
    windows = worked_windows(plan, data)
    assert windows is not None
    known = replace(template, plan=plan)
    needs = {part.id: rests_on(template.plan, part.asked) for part in template.parts}
    mine = {part: [one for one in readings if one.key.value.quantity.id in ids] for part, ids in needs.items()}
    asked = [part for part in template.parts if form_of(part.asked).has_window]
    truths = {
        part.id: _truth(known, part, windows, tolerances[part.id])
        for part in template.parts
        if mine[part.id] and part.asked.quantity.id in windows
    }
    return replace(
        problem,
        given=given,
        truths={**problem.truths, **truths},
        own=whole_flagged(share_flagged(readings, windows), {p.asked.quantity: needs[p.id] for p in asked}, windows),
        lacking={part: tuple(one for one in own if one.datum is None) for part, own in mine.items()},
    )


def _truth(template: TemplateKey, part: PartKey, windows: Mapping[str, Window], tolerance: Tolerance) -> Truth:
    form = form_of(part.asked)
    truth: Truth = form.tolerated(form.answer(template.plan, template.scene, part.asked, windows), tolerance)
    return truth.in_file


def unmarked(problem: ProblemKey, part: PartKey, wrote: str) -> PartResult:
    """The result of a part that rests on data which are not there: it names them."""
    lacking = problem.lacking.get(part.id, ())
    missing = bool(lacking) and all(one.is_blank for one in lacking)
    return PartResult(
        problem=problem.problem,
        part=part.id,
        label=problem.label(part),
        verdict="unread" if wrote.strip() else "blank",
        reason=_MISSING if missing else _UNREAD,
        sentence=" ".join(_lacking(lacking)) or _(_IMPOSSIBLE),
        remarks=(),
        points=Fraction(0),
        of=part.points,
        wrote=wrote,
        read="",
    )


_MISSING, _UNREAD = OWN_DATA_REASONS
_IMPOSSIBLE = N_("Your own data cannot be worked with here: they lead to a division by zero.")


def _lacking(lacking: Iterable[OwnReading]) -> Iterator[str]:
    for one in lacking:
        if one.is_blank:
            yield _("This part needs a value of your own that is missing: the {quantity}.").format(
                quantity=one.key.words
            )
        else:
            told = _("This part needs a value of your own that cannot be used: the {quantity}.")
            yield f"{told.format(quantity=one.key.words)} {one.reason}"
