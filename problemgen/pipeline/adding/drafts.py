"""What is to be added to a course, tried in a copy of its banks before anything is written."""

from __future__ import annotations

import shutil
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import Any

import tomlkit

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import COURSE_FILE, banks_folder
from problemgen.load.sets.courses import Course
from problemgen.model.banks import Banks
from problemgen.scratch import scratch
from problemgen.write.files import Staging, settle

__all__ = ["Draft", "draft_of", "entry_text", "item_of"]


@dataclass(frozen=True)
class Draft:
    """A course and the new texts of some of its files, by their names in its folder."""

    course: Course
    folder: Path
    texts: Mapping[str, str] = field(default_factory=dict)
    before: Mapping[str, str] = field(default_factory=dict)  # the same files as they were read

    @cached_property
    def banks(self) -> Banks:
        """The banks as they will be. Raises FaultsError."""
        own = {name: text for name, text in self.texts.items() if name.startswith("banks/")}
        if not own:
            return self.course.banks()
        with scratch() as aside:
            there = self.folder / "banks"
            trial = aside / "banks"
            if there.is_dir():
                shutil.copytree(there, trial)
            for name, text in own.items():
                path = aside / name
                path.parent.mkdir(exist_ok=True)
                path.write_text(text, encoding="utf-8")
            try:
                return load_banks(banks_folder(), trial)
            except FaultsError as error:
                kept = [replace(one, file=one.file.replace(str(trial), str(there))) for one in error.faults]
                raise FaultsError(kept) from None

    def text(self, name: str) -> str:
        """A file's text as it will be; "" for one that there is not yet."""
        return self.texts.get(name, self._on_disk(name))

    def _on_disk(self, name: str) -> str:
        path = self.folder / name
        return path.read_text(encoding="utf-8") if path.is_file() else ""

    def with_entry(self, bank: str, entry: str) -> Draft:
        """The same with an entry at the end of a bank's file. Raises FaultsError where the file cannot take it."""
        return self.with_entries(f"banks/{bank}.toml", entry)

    def with_entries(self, name: str, entries: str) -> Draft:
        """The same with entries at the end of a file, all that it holds left as it is.

        Raises FaultsError for a file that then is none: it has its entries in another notation.
        """
        before = self.text(name).rstrip()
        text = f"{before}\n\n{entries}" if before else entries
        try:
            tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            found = f"a file to which no entry can be added: {error}"
            raise FaultsError([Fault(str(self.folder / name), "", found, "entries as tables in [[ ]]")]) from None
        return self.with_text(name, text)

    def with_text(self, name: str, text: str) -> Draft:
        """The same with a file's whole text."""
        before = {name: self._on_disk(name), **self.before}
        return Draft(self.course, self.folder, {**self.texts, name: text}, before)

    def write(self) -> None:
        """Write all files, together or not at all.

        Raises OutputError, also where somebody else has changed one of them since it was read: that would be lost.
        """
        with Staging(self.folder, replace=True) as staging:
            changed = sorted(name for name, text in self.before.items() if self._on_disk(name) != text)
            if changed:
                told = f"{self.folder / changed[0]} was changed meanwhile by another run"
                raise OutputError(f"{told}; nothing was written. Say the same again")
            for name, text in self.texts.items():
                staging.write(name, text.encode())


def draft_of(course: Course, place: Path) -> Draft:
    """A draft with nothing in it. Raises FaultsError where a place lies in no course."""
    if course.folder is None:
        hint = "`problemgen new FOLDER` makes one; go into it, and say the same again."
        expected = f"a folder with {COURSE_FILE}, or one inside it"
        raise FaultsError([Fault(str(place.resolve()), "", "no course", expected, hint)])
    settle(course.folder)
    return Draft(course, course.folder)


def entry_text(
    head: str, values: Mapping[str, Any], remarks: Mapping[str, str] | None = None, notes: Sequence[str] = ()
) -> str:
    """A table of a file, or what stands above all tables: its head, its values, and lines of notes below.

    `remarks` stand behind values, by their keys. A Decimal is written with all its digits.
    """
    entry = tomlkit.document()
    for key, value in values.items():
        item = item_of(value)
        remark = (remarks or {}).get(key)
        if remark:
            item.comment(remark)
        entry.add(key, item)
    for note in notes:
        entry.add(tomlkit.comment(note))
    return "\n".join(filter(None, (head, tomlkit.dumps(entry)))).rstrip() + "\n"


def item_of(value: Any) -> Any:
    """A value as an item of tomlkit, a Decimal with all its digits, a table within braces."""
    if isinstance(value, Decimal):
        return tomlkit.value(format(value, "f"))
    if isinstance(value, Mapping):
        inline = tomlkit.inline_table()
        for key, one in value.items():
            inline.add(key, item_of(one))
        return inline
    if isinstance(value, Sequence) and not isinstance(value, str):
        listed = tomlkit.array()
        for one in value:
            listed.append(item_of(one))
        return listed
    return tomlkit.item(value)
