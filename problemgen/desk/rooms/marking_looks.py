"""Mark: closer looks at a part, a student's answer to it, a cell, the results, the feedback of a student."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from markupsafe import Markup
from starlette.responses import Response

from problemgen.desk.answers import boxed, page
from problemgen.desk.calls import Call
from problemgen.desk.marking.marked import explanation_of, overview_of
from problemgen.desk.marking.place import MarkingPlace
from problemgen.desk.marking.steps_shown import steps_shown
from problemgen.desk.marking.strips_shown import CALLED, SHAPES, ratio_words, strip_shown
from problemgen.desk.places import NotThereError
from problemgen.grade.classes.record import ClassRecord
from problemgen.grade.classes.report import class_statistics
from problemgen.grade.classes.strips import Strip, StripPoint
from problemgen.language.messages import speaking
from problemgen.load.resources import layouts
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.blocks import Block, Judged
from problemgen.model.cells import without_guards
from problemgen.model.decision import ALL
from problemgen.model.means import cell_key
from problemgen.model.verdict import StudentResult
from problemgen.pipeline.deciding import decision_lines
from problemgen.pipeline.explain import Explained
from problemgen.pipeline.overview import Overview
from problemgen.render.classes.report import class_report
from problemgen.render.feedback.explanation import explanation_blocks
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.feedback.points import points_number
from problemgen.render.printers.html import fragment as printed

__all__ = ["LOOKS"]

_HIGH = 150
"""Pixels of a strip by itself: twenty marks above each other, and what stands below it is still on the screen."""


def _seen(place: MarkingPlace) -> Overview:
    """The class as it is marked. Raises NotThereError where nothing came back, and what marking raises."""
    seen = overview_of(place)
    if seen is None:
        raise NotThereError(place.name)
    return seen


def _part(call: Call, place: MarkingPlace) -> Response:
    """A part: its strip by itself, the same as a table; and where a student is asked for, their answer."""
    seen, name = _seen(place), call.asked("part")
    names = [one.name for one in seen.strips]
    strip = next((one for one in seen.strips if one.name == name), None)
    if strip is None:
        raise NotThereError(name)
    here = names.index(name)
    order = {verdict: rank for rank, verdict in enumerate(CALLED)}
    points = sorted(strip.points, key=lambda one: (order[one.result.verdict], one.ratio or 0.0, one.student))
    chosen = _chosen(call, strip)
    return page(
        call,
        "marked_part.html",
        one=place.one,
        build=place.build,
        shown=strip_shown(strip, _HIGH),
        rows=[(point, ratio_words(point.ratio) if point.ratio is not None else "") for point in points],
        shapes=SHAPES,
        called=CALLED,
        points_number=points_number,
        before=names[here - 1] if here else "",
        behind=names[here + 1] if here + 1 < len(names) else "",
        everybody=ALL,
        several=seen.marked.head.attempts.several,
        chosen=chosen,
        steps=steps_shown(place),
        decided=[line for line in decision_lines(place.built) if line.part == strip.label],
        **(_answer(place, seen, strip, chosen) if chosen else {}),
    )


def _chosen(call: Call, strip: Strip) -> StripPoint | None:
    """The answer that is asked for; None where none is, or the student has none in this part."""
    student, attempt = call.asked("student"), call.asked("attempt") or "1"
    return next((one for one in strip.points if (one.student, str(one.attempt)) == (student, attempt)), None)


def _answer(place: MarkingPlace, seen: Overview, strip: Strip, chosen: StripPoint) -> Mapping[str, Any]:
    """A student's answer to a part, with all that leads to its verdict."""
    result = seen.by_entry[chosen.student, chosen.attempt]
    mine = [one for one in result.parts if one.problem == chosen.result.problem]
    found = explanation_of(place, chosen.student, chosen.attempt, strip.label)
    alike = [one for one in strip.points if one.result.verdict == chosen.result.verdict]
    here = alike.index(chosen)
    return {
        "way": mine[: mine.index(chosen.result) + 1],
        "why": _html(explanation_blocks(found.template_of(found.parts[0]), found.parts[0]), found.head),
        "told": _html(_told(found, result, strip.label), found.head),
        "following": alike[(here + 1) % len(alike)] if len(alike) > 1 else None,
        "alike": len(alike),
    }


def _told(found: Explained, result: StudentResult, label: str) -> list[Block]:
    """What the student is told of a part, with the worked steps."""
    with speaking(found.head.language):
        blocks = feedback_document(found.head, found.key, result, solutions=True).blocks
    return [block for block in blocks if isinstance(block, Judged) and block.label == label]


def _html(blocks: Any, head: KeyHead) -> Markup:
    """Blocks as a piece of the page. The printer escapes every text in them."""
    with speaking(head.language):
        return Markup(printed([*blocks], layouts()))  # noqa: S704


def _cell(call: Call, place: MarkingPlace) -> Response:
    """A text that cells have: where, by whom, how it is read, and a meaning for it."""
    seen, key = _seen(place), cell_key(call.asked("cell"))
    found = [
        (result, part)
        for _key, result in seen.marked.results
        for part in result.parts
        if part.wrote.strip() and cell_key(part.wrote) == key
    ]
    if not found:
        raise NotThereError(key)
    labels = list(dict.fromkeys(part.label for _result, part in found))
    written = " ".join(without_guards(found[0][1].wrote).split())
    return page(call, "marked_cell.html", one=place.one, build=place.build, written=written, found=found, labels=labels,
                called=CALLED, steps=steps_shown(place))  # fmt: skip


def _results(call: Call, place: MarkingPlace) -> Response:
    """Each student with their points."""
    seen = _seen(place)
    return page(
        call,
        "marked_results.html",
        one=place.one,
        results=[result for _key, result in seen.marked.results],
        several=seen.marked.head.attempts.several,
        points_number=points_number,
    )


def _report(_call: Call, place: MarkingPlace) -> Response:
    """The report on the class as it is marked just now, which a marking would write."""
    seen = _seen(place)
    head, record = seen.marked.head, ClassRecord(seen.marked.head)
    for key, result in seen.marked.results:
        if result.first:
            record.take(key, result)
    with speaking(head.language):
        return boxed(class_report(head, class_statistics(record), layouts()))


def _feedback(call: Call, place: MarkingPlace) -> Response:
    """What a student will be told."""
    seen, student, attempt = _seen(place), call.asked("feedback"), call.asked("attempt") or "1"
    entry = next((one for one in seen.marked.results if _is_of(one, student, attempt)), None)
    if entry is None:
        raise NotThereError(student)
    key, result = entry
    head = seen.marked.head.in_language(key.language)
    with speaking(head.language):
        document = feedback_document(head, key, result, solutions=head.worked_solution)
    return page(call, "marked_feedback.html", one=place.one, result=result, title=document.title,
                told=_html(document.blocks, head))  # fmt: skip


def _is_of(one: tuple[StudentKey, StudentResult], student: str, attempt: str) -> bool:
    return (one[1].student, str(one[1].attempt)) == (student, attempt)


LOOKS: Mapping[str, Callable[[Call, MarkingPlace], Response]] = {
    "part": _part,
    "cell": _cell,
    "results": _results,
    "report": _report,
    "feedback": _feedback,
}
"""What the page of a set shows in the place of the whole, by what is asked for behind its address."""
