"""Checking one template: reading it and trying it out, or what an earlier run has found of the same files."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from problemgen.errors import Fault
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import digest_of_files, templates_folder
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.model.banks import Banks
from problemgen.model.template import Template
from problemgen.pipeline.template_trial import tried
from problemgen.remembered import Table

__all__ = ["CheckedTemplate", "TemplateCheck"]


@dataclass(frozen=True)
class CheckedTemplate:
    """What there is to say of a template, and which substances it has.

    `template` is None where it could not be read, and where an earlier run has checked it.
    """

    faults: tuple[Fault, ...]
    remarks: tuple[Fault, ...] = ()
    substances: tuple[str, ...] = ()
    template: Template | None = None


@dataclass(frozen=True)
class TemplateCheck:
    """The check of a template by its file, as it goes by in a course."""

    name: str
    path: Path
    of_banks: str  # the digest of the banks' files; "" where nothing is to be remembered

    def is_remembered(self) -> bool:
        """Whether an earlier run has checked the same files."""
        return _CHECKED.has(self._key)

    def result(self, banks: Banks) -> CheckedTemplate:
        """What is found; the banks are those that the digest is of."""
        return _CHECKED.found(self._key, lambda: self._made(banks), self._key_now)

    @cached_property
    def _key(self) -> str:
        return self._key_now()

    def _key_now(self) -> str:
        """A digest of all that the result hangs on: the banks, the template, and those whose story it may have."""
        beside = (self.path.parent, (templates_folder() / self.name).parent)
        digest = digest_of_files(*(one for folder in beside for one in (folder, *sorted(folder.glob("*.toml")))))
        if not digest or not self.of_banks:
            return ""
        return f"{digest} {self.of_banks} {self.name} {self.path.as_posix()!r}"

    def _made(self, banks: Banks) -> CheckedTemplate:
        faults = FaultLog(str(self.path))
        template = faults.tried(lambda: load_template(self.path, self.name, banks))
        if template is None:
            return CheckedTemplate(faults.faults)
        check_drawn(faults, template)
        substances = tuple(template.substances)
        if faults.faults:
            return CheckedTemplate(faults.faults, (), substances, template)
        trial = tried(template, self.path)
        return CheckedTemplate(trial.faults, trial.remarks, substances, template)


def _plain(checked: CheckedTemplate) -> Any:
    return [[*map(astuple, checked.faults)], [*map(astuple, checked.remarks)], checked.substances]


def _again(data: Any) -> CheckedTemplate:
    faults, remarks, substances = data
    return CheckedTemplate(_faults(faults), _faults(remarks), tuple(map(str, substances)))


def _faults(data: Sequence[Sequence[Any]]) -> tuple[Fault, ...]:
    return tuple(Fault(*map(str, one)) for one in data)


_CHECKED: Table[CheckedTemplate] = Table("checked", _plain, _again, most=4096)
