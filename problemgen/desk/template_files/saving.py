"""A template that is wanted: tried first as the reader of templates reads it, then put into the course."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import NoReturn

from problemgen.desk.desk import Desk
from problemgen.desk.places import inside
from problemgen.desk.set_files.saving import seen
from problemgen.desk.template_files.text import new_text
from problemgen.desk.template_files.wanted import WantedTemplate
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.load.templates.template import load_template
from problemgen.pipeline.adding.drafts import draft_of

__all__ = ["file_of", "save", "text_of", "tried_aside", "wanted_text"]


def file_of(desk: Desk, template_id: str) -> Path:
    """Where a template of the course stands, or would. Raises NotThereError for a name that leads out of it."""
    return inside(desk.place() / "templates", f"{template_id}.toml")


def text_of(desk: Desk, template_id: str) -> str:
    """The text of a template by its name in `list`; "" for one that there is not. Raises FaultsError."""
    path = desk.course().templates.get(template_id)
    if path is None:
        return ""
    try:
        return path.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        _refuse(path, f"what cannot be read: {error}", "a text in UTF-8")


def wanted_text(desk: Desk, wanted: WantedTemplate) -> str:
    """The text of what is wanted. Raises FaultsError, with the file's name."""
    file = str(file_of(desk, wanted.id))
    try:
        return new_text(wanted)
    except FaultsError as error:
        raise FaultsError([replace(one, file=file) for one in error.faults]) from None
    except ValueError as error:
        _refuse(Path(file), str(error), _("a template written as tables, [given.x] and [[part]]"),
                _("Change this one in an editor; it is shown here as it is."))  # fmt: skip


@contextmanager
def tried_aside(desk: Desk, template_id: str, text: str) -> Iterator[Path]:
    """A file with the text, for as long as it is looked at; faults tell the name that it will have in the course."""
    target = file_of(desk, template_id)
    with tempfile.TemporaryDirectory(dir=desk.aside) as aside:
        trial = Path(aside) / target.name
        for beside in target.parent.glob("*.toml"):  # whose story it may have
            shutil.copyfile(beside, Path(aside) / beside.name)
        trial.write_text(text, encoding="utf-8", newline="")
        try:
            yield trial
        except FaultsError as error:
            raise FaultsError([replace(one, file=one.file.replace(str(trial), str(target))) for one in error.faults]
                              ) from None  # fmt: skip


def save(desk: Desk, wanted: WantedTemplate) -> Path:
    """Write a template of the course; gives its file.

    Raises:
        FaultsError: for all faults that its reader finds; nothing is written then. For a file that has changed since
            the page has read it, and for a new one whose name is taken.
        OutputError: for a folder that cannot be written.
    """
    target = file_of(desk, wanted.id)
    if seen(text_of(desk, wanted.id)) != wanted.seen:
        if not wanted.seen:
            _refuse(target, _("a template of this name"), _("a name that is free"), _("Give it another name."))
        hint = _("It was changed meanwhile, in another tab or by an editor. Load this page again.")
        _refuse(target, _("another text"), _("the file as this page has read it"), hint)
    text = wanted_text(desk, wanted)
    with tried_aside(desk, wanted.id, text) as trial:
        load_template(trial, wanted.id, desk.banks())
    draft_of(desk.course(), desk.place()).with_text(f"templates/{wanted.id}.toml", text).write()
    return target


def _refuse(path: Path, found: str, expected: str, hint: str = "") -> NoReturn:
    raise FaultsError([Fault(str(path), "", found, expected, hint)])
