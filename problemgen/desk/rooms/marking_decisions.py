"""Mark: what a cell means, other points, and the last step taken back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from starlette.responses import Response

from problemgen.desk.answers import fragment, go
from problemgen.desk.calls import Call, post
from problemgen.desk.marking.cells_shown import alike, effects, with_mark
from problemgen.desk.marking.marked import overview_of, tried
from problemgen.desk.marking.place import MarkingPlace, place_of
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _, ngettext
from problemgen.load.people.means import MEANS_FILE
from problemgen.load.people.overrides import OVERRIDES_FILE
from problemgen.model.answers import KeyHead
from problemgen.model.decision import ALL
from problemgen.pipeline.built import open_built
from problemgen.pipeline.deciding import (
    Meaning,
    decision_lines,
    meaning_lines,
    with_decision,
    with_meanings,
    without,
)
from problemgen.pipeline.overview import Overview
from problemgen.pipeline.set_rules import mark_by_set
from problemgen.render.classes.grades import problem_numbers
from problemgen.scratch import scratch

__all__ = ["ROUTES", "places_of"]

_LONGEST_REASON = 500
"""Letters of a reason: students read it in their feedback."""


def places_of(head: KeyHead) -> Iterator[str]:
    """What a decision can be about beside the whole sheet: each problem, and behind it its parts."""
    for number in problem_numbers(head.columns):
        yield number
        yield from (label for label in head.columns if label.rstrip("abcdefghijklmnopqrstuvwxyz") == number)


def _meant(call: Call) -> Response:
    """Show what a meaning would make of the cells; keep it where it was shown and is still the same."""
    written, means = call.said("written"), call.said("means")
    if not means:
        raise FaultsError([Fault("", "", _("no meaning"), _("what the text means, as it would be typed"))])
    parts = tuple(one for one in call.every("part") if one)
    return _tried_or_kept(call, [Meaning(written, means, parts)], {"written": written, "means": means}, means)


def _marks_meant(call: Call) -> Response:
    """The same for all numbers of which nobody knows what their one mark is."""
    seen = _marked(place_of(call))
    how, head = call.said("how"), seen.marked.head
    mark = "" if how == "thousands" else head.decimal_mark
    group = next((one for one in alike(seen.cells.doubted) if one.cells[0].alike == call.said("alike")), None)
    if group is None or not group.is_of_marks:
        hint = _("They were decided meanwhile: look at the page again.")
        raise FaultsError([Fault("", "", _("no such cells any more"), _("cells of the list"), hint)])
    meanings = [Meaning(one.written, with_mark(one.written, mark), tuple(one.columns)) for one in group.cells]
    told = ngettext("{count} text", "{count} texts", len(meanings)).format(count=len(meanings))
    return _tried_or_kept(call, meanings, {"written": told, "means": meanings[0].means}, how)


def _tried_or_kept(call: Call, meanings: Sequence[Meaning], about: Mapping[str, str], shown: str) -> Response:
    """Keep meanings where their effect was `shown` before; else show it."""
    place = place_of(call)
    _check_build(call, place)

    def content() -> bytes:
        with open_built(place.built) as answers:
            return with_meanings(place.built, answers, meanings)

    if call.said("keep") and call.said("shown") == shown:
        place.steps.take("meaning", about, lambda: {_told(place, MEANS_FILE): content()})
        return go("")
    now = _marked(place)
    with scratch() as aside:
        trial = aside / MEANS_FILE
        trial.write_bytes(content())
        found = effects(now, tried(place, means=trial), [one.written for one in meanings])
    return fragment(call, "meant.html", shown=shown, found=found)


def _marked(place: MarkingPlace) -> Overview:
    """The class as it is marked. Raises FaultsError where nothing came back, and what marking raises."""
    seen = overview_of(place)
    if seen is None:
        raise FaultsError([Fault("", "", _("no responses"), _("a table of responses"))])
    return seen


def _not_meant(call: Call) -> Response:
    """Take a meaning out of its file, whoever wrote it."""
    place, line = place_of(call), call.said("line")
    about = next((one for one in meaning_lines(place.built) if one.id == line), None)
    words = {"written": about.written, "means": about.means} if about else {}
    place.steps.take("no-meaning", words, lambda: {_told(place, MEANS_FILE): without(place.built, MEANS_FILE, line)})
    return go("")


def _decided(call: Call) -> Response:
    """Write other points, a bonus, or that something does not count."""
    place = place_of(call)
    _check_build(call, place)
    kind, number = call.said("kind"), call.said("points")
    points = {"drop": "drop", "bonus": f"bonus {number}"}.get(kind, number)
    decision = {
        "student": call.said("student"),
        "part": call.said("part"),
        "points": points,
        "reason": " ".join(call.said("reason").split()),
        "attempt": call.said("attempt"),
    }
    _check(decision)

    def files() -> Mapping[str, bytes]:
        with open_built(place.built) as answers:
            mark_by_set(answers, place.built, None)  # points may be others by now than when it was built
            return {_told(place, OVERRIDES_FILE): with_decision(place.built, answers, decision)}

    place.steps.take("decision", _words(decision["student"], decision["part"], points), files)
    return go("")


def _check_build(call: Call, place: MarkingPlace) -> None:
    """Refuse what was decided by a page that shows other keys, or other points, than are marked by now."""
    if call.said("build") != place.build:
        found, expected = _("a set that was built anew, or has other points"), _("the set as this page shows it")
        raise FaultsError([Fault("", "", found, expected, _("Nothing was decided. Look at the page again."))])


def _check(decision: Mapping[str, str]) -> None:
    """Refuse what the page does not send: a decision about nobody, and a reason that nobody would read."""
    faults = []
    if not decision["student"]:
        faults.append(Fault("", "student", _("nobody"), _("a student's id, or * for everybody")))
    if len(decision["reason"]) > _LONGEST_REASON:
        found = ngettext("{count} letter", "{count} letters", len(decision["reason"]))
        faults.append(Fault("", "reason", found.format(count=len(decision["reason"])),
                            _("{count} at most").format(count=_LONGEST_REASON)))  # fmt: skip
    if faults:
        raise FaultsError(faults)


def _not_decided(call: Call) -> Response:
    """Take a decision out of its file, whoever wrote it."""
    place, line = place_of(call), call.said("line")
    about = next((one for one in decision_lines(place.built) if one.id == line), None)
    words = _words(about.student, about.part, about.points) if about else {}
    place.steps.take(
        "no-decision", words, lambda: {_told(place, OVERRIDES_FILE): without(place.built, OVERRIDES_FILE, line)}
    )
    return go("")


def _words(student: str, part: str, points: str) -> dict[str, str]:
    return {"who": student if student != ALL else _("everybody"), "where": part or _("the whole sheet"),
            "points": points}  # fmt: skip


def _undone(call: Call) -> Response:
    """Take the last step back: the one that the page shows. Raises FaultsError where there is another by now."""
    place, number = place_of(call), call.said("step")
    place.steps.undo(int(number) if number.isascii() and number.isdecimal() and len(number) < 9 else 0)
    return go("")


def _told(place: MarkingPlace, name: str) -> str:
    return place.told(place.built / name)


ROUTES = (
    post("/mark-means/{name:path}", _meant),
    post("/mark-marks/{name:path}", _marks_meant),
    post("/mark-not-means/{name:path}", _not_meant),
    post("/mark-decide/{name:path}", _decided),
    post("/mark-not-decide/{name:path}", _not_decided),
    post("/mark-undo/{name:path}", _undone),
)
"""Where decisions are made and taken back, by the set's name."""
