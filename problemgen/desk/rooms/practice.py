"""Practice page: topics are chosen, and one file is made."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from starlette.responses import Response

from problemgen.desk.answers import go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.jobs import JobTitle
from problemgen.desk.room import Room
from problemgen.desk.rooms.library import library
from problemgen.errors import Fault, FaultsError
from problemgen.language.languages import ENGLISH, LANGUAGES
from problemgen.language.messages import N_, _
from problemgen.pipeline.practice import PracticeReport, PracticeRequest, practice
from problemgen.pipeline.progress import Progress

__all__ = ["ROOM"]

_ABOUT = "practice"
_FILE = "output/practice.html"
_USUAL = 40  # what `problemgen practice` proposes; a test compares them
_MOST = 500
"""Variants of each problem: a page of all topics would have 100 MB with more."""


def _shown(call: Call) -> Response:
    there = call.desk.place() / _FILE
    return page(
        call,
        "practice.html",
        topics=sorted(Counter((one.topic, one.topic_told) for one in library(call.desk)).items()),
        usual=_USUAL,
        most=_MOST,
        job=call.desk.jobs.about(_ABOUT),
        file=_FILE,
        size=there.stat().st_size if there.is_file() else 0,
    )


def _make(call: Call) -> Response:
    chosen, count = tuple(call.every("topic")), call.said("variants")
    faults = []
    if not chosen:
        faults.append(Fault("", "topic", _("no topic"), _("one or more")))
    if not (count.isascii() and count.isdecimal() and len(count) < 5 and 0 < int(count) <= _MOST):
        expected = _("a whole number from 1 to {most}").format(most=_MOST)
        faults.append(Fault("", "variants", repr(count), expected))
    if faults:
        raise FaultsError(faults)
    every = {one.topic for one in library(call.desk)} <= set(chosen)
    language = call.said("language")
    request = PracticeRequest(
        names=() if every else chosen,
        out=Path(_FILE),
        variants=int(count),
        title=call.said("title"),
        language=language if language in LANGUAGES else ENGLISH,
        seed_words=None,
        replace=(call.desk.place() / _FILE).exists(),
    )
    call.desk.start(JobTitle(N_("Practice page")), _ABOUT, "/practice", _made, request)
    return go("")


def _made(request: PracticeRequest, progress: Progress) -> PracticeReport:
    """The page itself, made in its process. Raises what `practice` does."""
    return practice(request, progress)


ROOM = Room(
    "print",
    "/practice",
    N_("Practice page"),
    N_("One file in which students practise by themselves."),
    (get("/practice", _shown), post("/practice", _make)),
)
