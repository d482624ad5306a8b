"""The templates that a set is put together from: those of the course and those that come with the program."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from problemgen.desk.desk import Desk
from problemgen.errors import FaultsError
from problemgen.load.documents import read_document
from problemgen.load.templates.document import TemplateDocument
from problemgen.load.templates.template import load_template
from problemgen.model.blocks import Paragraph
from problemgen.model.template import Template, label_of
from problemgen.render.printers.terminal import text_lines
from problemgen.render.words.prompts import prompt_of

__all__ = ["Listed", "PartShown", "TemplateShown", "library", "shown"]


@dataclass(frozen=True)
class Listed:
    """A template as it is looked for: `words` are all that a search may find. `own`: of the course."""

    id: str
    title: str
    topic: str
    level: int
    words: str
    own: bool


@dataclass(frozen=True)
class PartShown:
    """A part: its letter, what it asks, its points in the template, its session."""

    letter: str
    prompt: str
    points: str
    session: int


@dataclass(frozen=True)
class TemplateShown:
    """A template in a set; `fault` says why it cannot be read, and there are no parts then."""

    id: str
    title: str
    parts: Sequence[PartShown] = ()
    fault: str = ""


def library(desk: Desk) -> list[Listed]:
    """All templates, by topic and title. One that cannot be read is left out: `check` tells its faults."""
    course = desk.course()
    found = []
    for name, path in course.templates.items():
        state = path.stat()
        document = _document(path, state.st_mtime_ns, state.st_size)
        if document is not None:
            words = " ".join((name, document.title, document.topic, document.trains, document.reaction or ""))
            own = name in course.course_templates
            found.append(Listed(name, document.title, document.topic, document.difficulty, words.casefold(), own))
    return sorted(found, key=lambda one: (not one.own, one.topic, one.level, one.title))


@lru_cache(maxsize=2048)
def _document(path: Path, _time: int, _size: int) -> TemplateDocument | None:
    try:
        return read_document(path, TemplateDocument)
    except FaultsError:
        return None


def shown(desk: Desk, name: str, beside: Path | None = None) -> TemplateShown:
    """A template by its name in `list`, or that of a file in the folder of the set, `beside`."""
    own = beside / f"{name}.toml" if beside is not None else None
    path = own if own is not None and own.is_file() else desk.course().templates.get(name)
    if path is None:
        return TemplateShown(name, name, fault="no such template")
    try:
        template = load_template(path, name, desk.banks())
    except FaultsError as error:
        return TemplateShown(name, name, fault=str(error.faults[0]))
    return TemplateShown(name, template.title, tuple(_parts(template)))


def _parts(template: Template) -> Sequence[PartShown]:
    return [
        PartShown(
            label_of(place),
            "".join(text_lines([Paragraph(prompt_of(template, part))])),
            part.points.text,
            part.session,
        )
        for place, part in enumerate(template.parts)
    ]
