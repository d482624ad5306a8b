"""Print: the sheets of a set built, what was written, and what helps where a build is refused."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.responses import Response

from problemgen.desk.answers import go, page
from problemgen.desk.build_choices import keep_layout, last_choices
from problemgen.desk.calls import Call, get, post
from problemgen.desk.jobs import Job, JobTitle
from problemgen.desk.places import NotThereError
from problemgen.desk.room import Room
from problemgen.desk.rooms.class_lists import classes
from problemgen.desk.rooms.written import written_in
from problemgen.desk.standing import Standing, built_folder, standing_of, standings
from problemgen.errors import FaultsError, ProblemgenError
from problemgen.language.messages import N_, _
from problemgen.load.documents import read_document
from problemgen.load.people.rosters import rosters_of
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.documents import SetDocument, problem_names
from problemgen.pipeline.build import BuildReport, build
from problemgen.pipeline.progress import Progress

__all__ = ["ROOM"]

_TRIAL = 10
"""Variants of a trial: enough to see the ranges, and few enough to look through."""


@dataclass(frozen=True)
class Remedy:
    """What would help where a build was refused: what a button says, and the field that it sends along."""

    label: str
    field: str
    value: str


def _list(call: Call) -> Response:
    return page(call, "print.html", found=standings(call.desk), needs_sheets=False)


def _standing(call: Call) -> Standing:
    """The set, by the address. Raises NotThereError for none, and why it cannot be read."""
    found = standing_of(call.desk, call.named("name"))
    if found is None:
        raise NotThereError(call.named("name"))
    if found.error is not None:
        raise found.error
    return found


def _shown(call: Call) -> Response:
    found = _standing(call)
    name = found.name
    document = read_document(found.folder / SET_FILE, SetDocument)
    job, trial = call.desk.jobs.about(f"build/{name}"), call.desk.jobs.about(f"trial/{name}")
    return page(
        call,
        "printing.html",
        one=found,
        classes=classes(call.desk, found.folder),
        sheets=document.sheet,
        sections=_sections(call, found.folder),
        layout=document.layout,
        problems=problem_names(document.problem),
        last=last_choices(built_folder(call.desk, name)),
        job=job,
        trial=trial,
        remedies=[*_remedies(job.error)] if job is not None and job.error is not None else [],
        written=written_in(call.desk.place(), built_folder(call.desk, name)),
        tried=written_in(call.desk.place(), _trial_folder(call, name)),
        trial_count=_TRIAL,
    )


def _sections(call: Call, folder: Path) -> list[str]:
    """The sections of the set's class; none where its lists cannot be read, which the build tells."""
    try:
        roster = rosters_of(folder, call.desk.course())
    except FaultsError:
        return []
    return sorted({student.section for student in roster.students if student.section})


_HELP: tuple[tuple[re.Pattern[str], str, str], ...] = (
    (re.compile(r"--redraw ([^\s.,]+(?:\.[^\s.,]+)*)"), "redraw", N_("Build, and draw {name} anew on purpose")),
    (re.compile("--(new-secret)"), "new_secret", N_("Build with another secret: what is printed stays")),
    (re.compile("--(demonstration)"), "demonstration", N_("Build all the same, for a demonstration")),
)
"""What the hints of a refusal name as options of the command line, as fields of the page."""


def _remedies(error: ProblemgenError) -> Iterator[Remedy]:
    hints = [fault.hint for fault in error.faults] if isinstance(error, FaultsError) else []
    for pattern, field, label in _HELP:
        for value in dict.fromkeys(found[1] for hint in hints if (found := pattern.search(hint))):
            yield Remedy(_(label).format(name=value), field, value)


def _build(call: Call) -> Response:
    found = _standing(call)
    out = built_folder(call.desk, found.name)
    options: dict[str, Any] = {one: bool(call.said(one)) for one in _FLAGS}
    options |= {
        "session": int(call.said("session")) if call.said("session") in ("1", "2", "3") else None,
        "section": call.said("section") or None,
        "layout": call.said("layout") or None,
        "redraw": tuple(one for one in call.every("redraw") if one),
    }
    title = JobTitle(N_("Sheets of {title}"), found.title)
    _start(call, title, f"build/{found.name}", found, out, options)
    return go("")


_FLAGS = ("worked_key", "fill_in", "workbook", "slip", "new_secret", "demonstration")


def _try(call: Call) -> Response:
    found = _standing(call)
    title = JobTitle(N_("Trial of {title}"), found.title)
    _start(call, title, f"trial/{found.name}", found, _trial_folder(call, found.name), {"count": _TRIAL})
    return go("")


def _trial_folder(call: Call, name: str) -> Path:
    folder = built_folder(call.desk, name)
    return folder.with_name(f"{folder.name}-trial")


def _start(call: Call, title: JobTitle, about: str, found: Standing, out: Path, options: Mapping[str, Any]) -> Job:
    options = {**options, "replace": out.is_dir() and any(out.iterdir())}
    return call.desk.start(title, about, f"/print/{quote(found.name)}", _built, str(found.folder), str(out), options)


def _built(folder: str, out: str, options: Mapping[str, Any], progress: Progress) -> BuildReport:
    """The build itself, in its process. Raises what `build` does."""
    report = build(folder, out, **options, progress=progress)
    keep_layout(report.out, options.get("layout") or "")
    return report


ROOM = Room(
    "print",
    "/print",
    N_("Print"),
    N_("Build the sheets, the key and all that is handed out."),
    (
        get("/print", _list),
        get("/print/{name:path}", _shown),
        post("/print/{name:path}", _build),
        post("/trial/{name:path}", _try),
    ),
)
