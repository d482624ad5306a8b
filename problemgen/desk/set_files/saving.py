"""Writing a set: tried first as the reader of sets reads it, then put into its folder."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import NoReturn

from problemgen.desk.desk import Desk
from problemgen.desk.set_files.text import new_text
from problemgen.desk.set_files.wanted import WantedSet
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.problem_set import load_set
from problemgen.scratch import scratch
from problemgen.write.files import Staging

__all__ = ["save", "seen", "text_of"]


def text_of(folder: Path) -> str:
    """The text of a set's file; "" for a set that is not there yet. Raises FaultsError for one that cannot be read."""
    path = folder / SET_FILE
    try:
        return path.read_bytes().decode("utf-8") if path.exists() else ""
    except (OSError, UnicodeDecodeError) as error:
        _refuse(path, f"what cannot be read: {error}", "a text in UTF-8")


def seen(text: str) -> str:
    """By which a text is known again; "" for none."""
    return sha256(text.encode()).hexdigest() if text else ""


def save(desk: Desk, name: str, wanted: WantedSet, known: Iterable[str]) -> None:
    """Write a set below sets/, by its name; `known` are the keys of the settings that the page shows.

    Raises:
        FaultsError: for all faults that the set would have; nothing is written then. For a file that has changed since
            the page has read it: what was changed would be lost.
        OutputError: for a folder that cannot be written.
    """
    folder = desk.place() / "sets" / name
    before = text_of(folder)
    if seen(before) != wanted.seen:
        expected = _("the file as this page has read it")
        hint = _("It was changed meanwhile, in another tab or by an editor. Load this page again.")
        _refuse(folder / SET_FILE, _("another text"), expected, hint)
    try:
        text = new_text(before, wanted, known)
    except ValueError as error:
        _refuse(folder / SET_FILE, str(error), _("a set written as tables, [[problem]] and [policy]"),
                _("Change this one in an editor; it is shown here as it is."))  # fmt: skip
    _try(desk, folder, text)
    with Staging(folder, only=SET_FILE, replace=True) as staging:
        staging.write(SET_FILE, text.encode())


def _try(desk: Desk, folder: Path, text: str) -> None:
    """Read the set as it would be. Raises FaultsError, with the names of the files that are there."""
    course = desk.course()
    with scratch() as aside:
        trial = aside / folder.name
        trial.mkdir()
        for beside in folder.glob("*.toml"):
            shutil.copyfile(beside, trial / beside.name)
        (trial / SET_FILE).write_bytes(text.encode())
        try:
            load_set(trial, course.templates, desk.banks(), course=course.document)
        except FaultsError as error:
            kept = [replace(one, file=one.file.replace(str(trial), str(folder))) for one in error.faults]
            raise FaultsError(kept) from None


def _refuse(path: Path, found: str, expected: str, hint: str = "") -> NoReturn:
    raise FaultsError([Fault(str(path), "", found, expected, hint)])
