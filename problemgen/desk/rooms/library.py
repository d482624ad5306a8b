"""The templates that a set is put together from: those of the course and those that come with the program."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from problemgen.desk.desk import Desk
from problemgen.errors import FaultsError
from problemgen.language.messages import _, spoken
from problemgen.load.documents import read_document
from problemgen.load.sets.own_values import own_values_of
from problemgen.load.templates.document import TemplateDocument
from problemgen.load.templates.template import load_template
from problemgen.load.templates.translated import translated
from problemgen.model.banks import Banks
from problemgen.model.blocks import Paragraph
from problemgen.model.template import Template, label_of
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.own_data import own_words
from problemgen.render.words.prompts import prompt_of

__all__ = ["Listed", "OwnShown", "PartShown", "TemplateShown", "library", "shown"]


@dataclass(frozen=True)
class Listed:
    """A template as it is looked for: `words` are all that a search may find. `own`: of the course.

    `topic` is as the file has it, by which the topic is named everywhere; `topic_told` in the language spoken.
    """

    id: str
    title: str
    topic: str
    topic_told: str
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
class OwnShown:
    """A value that students can measure themselves: its name in set.toml, and what it is called."""

    name: str
    words: str


@dataclass(frozen=True)
class TemplateShown:
    """A template in a set; `fault` says why it cannot be read, and there are no parts then."""

    id: str
    title: str
    parts: Sequence[PartShown] = ()
    own: Sequence[OwnShown] = ()
    fault: str = ""


def library(desk: Desk) -> list[Listed]:
    """All templates, by topic and level, those of the course first, titles in the language spoken.

    One that cannot be read is left out: `check` tells its faults.
    """
    course = desk.course()
    own = course.course_templates
    found = []
    for name, path in course.templates.items():
        state = path.stat()
        document = _document(path, state.st_mtime_ns, state.st_size)
        if document is not None:
            title, topic = _(document.title), _(document.topic)
            texts = (name, title, topic, document.title, document.topic, document.trains)
            words = " ".join((*texts, *_of_reaction(desk, document))).casefold()
            found.append(Listed(name, title, document.topic, topic, document.difficulty, words, name in own))
    return sorted(found, key=lambda one: (not one.own, one.topic, one.level, one.title))


def _of_reaction(desk: Desk, document: TemplateDocument) -> tuple[str, ...]:
    """What the reaction of a template is called, and of which kind it is."""
    reaction = desk.banks().reactions.get(document.reaction or "")
    return (reaction.id, reaction.name, reaction.kind) if reaction is not None else ()


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
        return TemplateShown(name, name, fault=_("no such template"))
    banks = desk.banks()
    state = path.stat()
    key = (path, state.st_mtime_ns, state.st_size, id(banks), spoken())
    kept = _KEPT.get(key)
    if kept is None:
        if len(_KEPT) > _MOST_KEPT:
            _KEPT.clear()
        kept = _KEPT[key] = (banks, _read(path, name, banks))
    return kept[1]


_KEPT: dict[tuple[Path, int, int, int, str], tuple[Banks, TemplateShown]] = {}
"""Templates that were shown, with the banks that they were read with, which keeps another from having their id."""

_MOST_KEPT = 500  # each language has 160 or so


def _read(path: Path, name: str, banks: Banks) -> TemplateShown:
    try:
        template = translated(load_template(path, name, banks), spoken(), banks)
    except FaultsError as error:
        return TemplateShown(name, name, fault=str(error.faults[0]))
    return TemplateShown(name, template.title, tuple(_parts(template)), tuple(_own(template, banks)))


def _own(template: Template, banks: Banks) -> Iterator[OwnShown]:
    """What students can measure of what the parts need."""
    needed = {quantity.id for quantity in template.plan.given}
    for value in own_values_of(template, banks).values():
        if value.quantity.id in needed:
            yield OwnShown(value.name, own_words(template.scene, value))


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
