"""The bank files of a folder, and over them those of a course: an entry of the later file stands for an earlier one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from problemgen.load.banks.documents import BankDocument, SourcesDocument
from problemgen.load.banks.sources import check_document
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Source

__all__ = ["BANK_NAMES", "NAMES", "BankFiles", "Entry", "records_of"]

D = TypeVar("D", bound=BankDocument)
T = TypeVar("T")

BANK_NAMES = ("substances", "bottles", "reactions", "glassware", "hazards", "sources")
"""The banks that a course may add to. What nature fixes, atomic weights and the vapour of water, is not among them."""


NAMES = "names"
"""The folder of the names in other languages, a file each."""


@dataclass(frozen=True)
class Entry(Generic[T]):
    """An entry of a bank, with the log of the file that it stands in, below its id."""

    record: T
    faults: FaultLog
    is_own: bool  # a course's


class BankFiles:
    """The files of the banks, read with their faults kept; what they cite is checked while they are."""

    def __init__(self, faults: FaultLog, folder: Path, own: Path | None) -> None:
        """Read the sources; without them no citation is a fault. `own` is the folder of a course's banks."""
        self._faults = faults
        self._folders = (folder,) if own is None or not own.is_dir() else (folder, own)
        self.replaced: list[str] = []
        self.sources: Mapping[str, Source] = {}
        self._check_names()
        documents = self.read("sources", SourcesDocument)
        if documents:
            found = self.entries(documents, lambda one: (*one.publication, *one.package, *one.statement), _id)
            self.sources = {name: entry.record for name, entry in found.items()}
            for log, _, document in documents:
                check_document(log, document, self.sources)

    def read(self, name: str, shape: type[D]) -> list[tuple[FaultLog, bool, D]]:
        """A bank's files, each with its log and whether it is a course's; none where one of them cannot be read."""
        found = []
        for folder in self._folders:
            path, is_own = folder / f"{name}.toml", folder is not self._folders[0]
            if is_own and not (name in BANK_NAMES or name.startswith(f"{NAMES}/")):
                continue
            if not path.is_file() and (is_own or name.startswith(f"{NAMES}/")):
                continue
            log = self._faults.of(str(path))
            document = self._faults.tried(lambda path=path: read_document(path, shape))  # type: ignore[misc]
            if document is None:
                return []
            if document.about is None and not is_own:
                log.add("about", "nothing", "a value for this key")
            if self.sources:
                check_document(log, document, self.sources)
            found.append((log, is_own, document))
        return found

    def languages(self) -> tuple[str, ...]:
        """The languages that a folder has names in."""
        return tuple(sorted({path.stem for folder in self._folders for path in (folder / NAMES).glob("*.toml")}))

    def entries(
        self,
        documents: Iterable[tuple[FaultLog, bool, D]],
        records: Callable[[D], Iterable[T]],
        key: Callable[[T], str],
    ) -> dict[str, Entry[T]]:
        """The records of a bank's files by key; one that stands twice in a file is a fault."""
        found: dict[str, Entry[T]] = {}
        for log, is_own, document in documents:
            here: set[str] = set()
            for record in records(document):
                name = key(record)
                if name in here:
                    log.add(name, "the same id twice", "an id of its own for each entry")
                elif name in found:
                    self.replaced.append(f"{log.file}: {name}")
                here.add(name)
                found[name] = Entry(record, log.at(name), is_own)
        return found

    def _check_names(self) -> None:
        """Refuse files of a course's banks that no bank goes by: they would be left out without a word."""
        for folder in self._folders[1:]:
            for path in sorted(folder.glob("*.toml")):
                if path.stem not in BANK_NAMES:
                    names = [f"{name}.toml" for name in BANK_NAMES]
                    self._faults.of(str(folder)).unknown("", path.name, names, f"one of {', '.join(names)}")


def records_of(entries: Mapping[str, Entry[T]]) -> dict[str, T]:
    """The records alone, by key."""
    return {name: entry.record for name, entry in entries.items()}


def _id(source: Source) -> str:
    return source.id
