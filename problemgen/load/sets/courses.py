"""A course: what comes with the program, and over it what a folder of the instructor's adds.

    my-course/
      course.toml      title, term, and the defaults of every set
      banks/           substances.toml, reactions.toml, bottles.toml, …: their entries stand over ours of the same id
      templates/       own templates, and own copies of ours, which then count
      rosters/         class lists that several sets use
      sets/            the folders of the sets

It is found by walking up from a file or folder inside. Without one there is only what comes with the program.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from problemgen.errors import Fault, FaultsError
from problemgen.load.banks.remembered import remembered_banks
from problemgen.load.documents import read_document
from problemgen.load.fault_log import nearest
from problemgen.load.resources import COURSE_FILE, SET_FILE, banks_folder, course_folder, digest_of, templates_folder
from problemgen.load.sets.documents import CourseDocument
from problemgen.model.banks import Banks

__all__ = ["Course", "course_of", "shipped_secrets", "template_ids"]


def template_ids(folder: Path) -> dict[str, Path]:
    """All templates below a folder, by id: the path without its ending. Sets and layouts are left out."""
    return {
        path.relative_to(folder).with_suffix("").as_posix(): path
        for path in sorted(folder.rglob("*.toml"))
        if path.relative_to(folder).parts[0] not in ("sets", "layouts")
    }


def shipped_secrets() -> frozenset[bytes]:
    """The published secrets of the sets that come with the program."""
    documents = (tomllib.loads((folder / SET_FILE).read_text(encoding="utf-8")) for folder in Course().sets.values())
    return frozenset(one["demonstration_secret"].encode() for one in documents if "demonstration_secret" in one)


def course_of(place: Path) -> Course:
    """The course that a file or folder lies in. Raises FaultsError for faults of course.toml."""
    folder = course_folder(place)
    return Course() if folder is None else Course(folder, read_document(folder / COURSE_FILE, CourseDocument))


@dataclass(frozen=True)
class Course:
    """What a run reads from. Without a folder it is what comes with the program, and no more."""

    folder: Path | None = None
    document: CourseDocument | None = None

    @property
    def course_banks(self) -> Path | None:
        """The folder of the course's banks, where there is one."""
        return self._below("banks")

    @property
    def course_templates(self) -> Mapping[str, Path]:
        """The course's templates, by id."""
        folder = self._below("templates")
        return template_ids(folder) if folder is not None else {}

    @property
    def replaced_templates(self) -> tuple[str, ...]:
        """The ids of own templates that stand for ours."""
        return tuple(sorted(self.course_templates.keys() & template_ids(templates_folder()).keys()))

    @cached_property
    def templates(self) -> Mapping[str, Path]:
        """All templates, by id: the course's own stand for ours."""
        return {**template_ids(templates_folder()), **self.course_templates}

    @property
    def course_sets(self) -> Mapping[str, Path]:
        """The folders of the course's sets, by the names that `list` shows."""
        return _sets(self._below("sets"))

    @property
    def sets(self) -> Mapping[str, Path]:
        """The folders of all sets, by the names that `list` shows."""
        return {**_sets(templates_folder() / "sets"), **self.course_sets}

    @property
    def rosters(self) -> Mapping[str, Path]:
        """The course's rosters, by name: the file's, without its ending."""
        folder = self._below("rosters")
        files = sorted(path for path in folder.iterdir() if path.is_file()) if folder is not None else []
        return {path.stem: path for path in files if not path.name.startswith((".", "~"))}

    @property
    def earlier(self) -> tuple[Path, ...]:
        """The built folders of earlier terms, whose numbers are not to come again."""
        if self.folder is None or self.document is None:
            return ()
        return tuple(self.folder / name for name in self.document.earlier)

    def banks(self) -> Banks:
        """The banks. Raises FaultsError."""
        return remembered_banks(banks_folder(), self.course_banks)

    @property
    def banks_digest(self) -> str:
        """By which what is made with the banks, as their files are now, is remembered; "" for nothing."""
        return digest_of(banks_folder(), self.course_banks)

    @property
    def bank_files(self) -> tuple[Path, ...]:
        """All files of the banks, ours first."""
        folders = [banks_folder(), *filter(None, [self.course_banks])]
        return tuple(path for folder in folders for path in sorted(folder.rglob("*.toml")))

    def bank_file(self, name: str) -> Path:
        """Where a bank's entries stand: the course's file, where it has one, or ours."""
        own = self.course_banks / f"{name}.toml" if self.course_banks is not None else None
        return own if own is not None and own.is_file() else banks_folder() / f"{name}.toml"

    def set_folder(self, name: Path) -> Path:
        """The folder of a set: by its path, or by the name that `list` shows. Raises FaultsError."""
        if (name / SET_FILE).is_file():
            return name
        known, wanted = self.sets, name.as_posix().rstrip("/").removeprefix("templates/")
        found = known.get(wanted) or known.get(f"sets/{wanted}")
        if found is not None:
            return found
        hint = nearest(wanted, known) or "`problemgen list sets` shows those that there are."
        here = f"no {SET_FILE}" if name.is_dir() else "no such folder"
        raise FaultsError([Fault(str(name), "", here, f"the folder of a problem set, with {SET_FILE}", hint)])

    def template_file(self, name: str) -> tuple[str, Path]:
        """The id and the file of a template, by its file or by its id. Raises FaultsError."""
        path = Path(name)
        if path.is_file():
            resolved = path.resolve()
            return next((one for one, own in self.templates.items() if own.resolve() == resolved), path.stem), path
        known, wanted = self.templates, name.removesuffix(".toml").removeprefix("templates/")
        if wanted not in known:
            expected = "a file, or the name of a template that `list` shows"
            raise FaultsError([Fault(name, "", "no such template", expected, nearest(wanted, known))])
        return wanted, known[wanted]

    def _below(self, name: str) -> Path | None:
        folder = self.folder / name if self.folder is not None else None
        return folder if folder is not None and folder.is_dir() else None


def _sets(folder: Path | None) -> dict[str, Path]:
    paths = sorted(folder.rglob(SET_FILE)) if folder is not None else []
    return {f"sets/{path.parent.relative_to(folder).as_posix()}": path.parent for path in paths if folder is not None}
