"""The files that came back, as a course platform hands them out: a folder or an archive, with whatever is in it.

Names tell nothing here and lead nowhere: what is in an archive is unpacked under names of our own.
"""

from __future__ import annotations

import errno
import os
import stat
import zipfile
from contextlib import ExitStack, suppress
from datetime import UTC, datetime
from pathlib import Path, PurePosixPath
from types import TracebackType
from typing import IO, Self

from problemgen.load.fault_log import FaultLog
from problemgen.load.returns.kinds import DAMAGED_ARCHIVE, is_archive, kind_of
from problemgen.model.returned import Returned, Unread
from problemgen.scratch import scratch

__all__ = ["Returns"]

_LARGEST = 1 << 29
"""Bytes of one file: a sheet with fields has a tenth of a megabyte, a copier's pile of a thousand pages hundreds."""
_LARGEST_TOGETHER = 1 << 32
"""Bytes of all: a class of a thousand with four megabytes each."""
_MOST_FILES = 20_000
_DEEPEST = 2
"""Archives within archives: a platform's, and in it one that a student has made."""
_LONGEST_NAME = 300  # letters of a name in a message
_CHUNK = 1 << 20
_LEFT_BY_SYSTEMS = frozenset({".ds_store", "thumbs.db", "desktop.ini"})
_OF_SYSTEMS = "__macosx"

_TOO_LARGE = f"larger than {_LARGEST >> 20} MB"
_TOO_MUCH = f"beyond {_LARGEST_TOGETHER >> 30} GB of all files together"


class Returns:
    """What came back, as a context: `files` can be read while it lasts, `refused` are those that cannot be.

    `left_out` counts files that systems put beside others, and nobody hands in.
    """

    def __init__(self, place: Path) -> None:
        """Take a folder, an archive (.zip), or one file alone."""
        self._place = place
        self._bytes = 0
        self._files: list[Returned] = []
        self._refused: list[Unread] = []
        self._names: dict[str, int] = {}
        self._stack = ExitStack()
        self.left_out = 0

    @property
    def files(self) -> tuple[Returned, ...]:
        """The files that can be opened, in the order of their names."""
        return tuple(sorted(self._files, key=lambda one: one.name))

    @property
    def refused(self) -> tuple[Unread, ...]:
        """Those that cannot be, each with its reason."""
        return tuple(sorted(self._refused, key=lambda one: one.name))

    def __enter__(self) -> Self:
        """Look at all that came back.

        Raises:
            FaultsError: for a place that is missing, that cannot be read, or that holds too many files.
        """
        with self._stack:  # what is unpacked is gone where one of these is raised
            self._unpacked = self._stack.enter_context(scratch())
            self._look_or_tell()
            self._stack = self._stack.pop_all()
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        """Remove what was unpacked."""
        self._stack.close()

    def _look_or_tell(self) -> None:
        try:
            self._look()
        except DAMAGED_ARCHIVE:
            hint = "Fetch it once more, or unpack it and give the folder."
            FaultLog(str(self._place)).refuse("", "a damaged archive", "an archive (.zip) as it was handed out", hint)
        except OSError as error:
            reason = (error.strerror or "unreadable").lower()
            FaultLog(str(self._place)).refuse("", reason, "a folder or an archive (.zip) of what came back")

    def _look(self) -> None:
        if self._place.is_dir():
            self._walk()
        elif is_archive(self._place):
            with zipfile.ZipFile(self._place) as archive:
                self._unpack(archive, "", 1)
        else:
            self._take(self._place.name, self._place, _changed(self._place))

    def _walk(self) -> None:
        for folder, inner, names in os.walk(self._place, onerror=self._closed):
            inner.sort()
            linked = [name for name in inner if Path(folder, name).is_symlink()]
            for name in sorted((*names, *linked)):
                path = Path(folder, name)
                told = path.relative_to(self._place).as_posix()
                if path.is_symlink() or not path.is_file():
                    self._refuse(told, "a link or a device, which is not followed")
                elif self._is_wanted(told):
                    self._try(told, path)

    def _try(self, name: str, path: Path) -> None:
        try:
            self._take(name, path, _changed(path))
        except OSError as error:
            self._refuse(name, f"cannot be opened: {(error.strerror or 'unreadable').lower()}")

    def _closed(self, error: OSError) -> None:
        """A folder that cannot be opened: the others are."""
        name = Path(str(error.filename)).relative_to(self._place).as_posix()
        self._refuse(name, f"cannot be opened: {(error.strerror or 'unreadable').lower()}")

    def _take(self, name: str, path: Path, when: datetime | None, depth: int = 0) -> None:
        size = path.stat().st_size
        self._bytes += size
        if size > _LARGEST and not (depth == 0 and is_archive(path)):
            self._refuse(name, _TOO_LARGE)
        elif self._bytes > _LARGEST_TOGETHER:
            self._refuse(name, _TOO_MUCH)
        elif is_archive(path):
            self._open_inner(name, path, depth + 1)
        else:
            kind = kind_of(path)
            self._keep(Returned(self._called(name), path, kind, when))

    def _open_inner(self, name: str, path: Path, depth: int) -> None:
        if depth > _DEEPEST:
            self._refuse(name, "an archive within archives; unpack it, and put its files beside the others")
            return
        try:
            with zipfile.ZipFile(path) as archive:
                self._unpack(archive, f"{name}/", depth)
        except (*DAMAGED_ARCHIVE, OSError):
            self._refuse(name, "a damaged archive")

    def _unpack(self, archive: zipfile.ZipFile, before: str, depth: int) -> None:
        found = self._count
        self._unpack_each(archive, before, depth)
        if self._count == found:
            self._refuse(before.removesuffix("/") or self._place.name, "an archive without a file that was handed in")

    def _unpack_each(self, archive: zipfile.ZipFile, before: str, depth: int) -> None:
        for part in archive.infolist():
            name = f"{before}{part.filename}"
            if part.is_dir() or not self._is_wanted(name):
                continue
            reason = _TOO_MUCH if self._bytes > _LARGEST_TOGETHER else _why_not(part)
            if reason:
                self._refuse(name, reason)
                continue
            place = f"{self._count:06}-{depth}{_ending(part.filename)}"
            target = self._unpacked / place
            try:
                with archive.open(part) as source, target.open("xb") as file:
                    whole = _copied(source, file)
            except Exception as error:  # a damaged archive makes anything of what unpacks it
                if isinstance(error, OSError) and error.errno == errno.ENOSPC:  # nothing is wrong with what came back
                    raise
                self._refuse(name, "damaged, or packed in a way that is not read")
                target.unlink(missing_ok=True)
                continue
            if whole:
                self._take(name, target, _packed(part), depth)
            else:
                self._refuse(name, _TOO_LARGE)
                target.unlink(missing_ok=True)

    def _is_wanted(self, name: str) -> bool:
        """Whether somebody may have handed a file in: systems put files of their own beside others."""
        parts = [part.casefold() for part in PurePosixPath(name.replace("\\", "/")).parts]
        if not parts or _OF_SYSTEMS in parts or parts[-1] in _LEFT_BY_SYSTEMS:
            self.left_out += 1
            return False
        return True

    def _called(self, name: str) -> str:
        """What a file is called here: as it is shown, and where an archive has that name twice, with a number."""
        shown = told = _shown(name)
        while told in self._names:
            self._names[shown] = self._names.get(shown, 1) + 1
            told = f"{shown} ({self._names[shown]})"
        self._names[told] = 1
        return told

    def _keep(self, file: Returned) -> None:
        self._files.append(file)
        self._check_count()

    def _refuse(self, name: str, reason: str) -> None:
        self._refused.append(Unread(self._called(name), reason))
        self._check_count()

    @property
    def _count(self) -> int:
        return len(self._files) + len(self._refused)

    def _check_count(self) -> None:
        if self._count > _MOST_FILES:
            hint = "Take a class at a time."
            FaultLog(str(self._place)).refuse("", f"more than {_MOST_FILES:,} files", "what one class hands in", hint)


def _copied(source: IO[bytes], target: IO[bytes]) -> bool:
    """Unpack a file; False where it grows beyond the limit, whatever the archive says of its size."""
    size = 0
    while piece := source.read(_CHUNK):
        size += len(piece)
        if size > _LARGEST:
            return False
        target.write(piece)
    return True


def _why_not(part: zipfile.ZipInfo) -> str:
    """Why a part of an archive is not unpacked; "" where it is."""
    if part.flag_bits & 1:
        return "packed with a password"
    if stat.S_ISLNK(part.external_attr >> 16):
        return "a link, which is not followed"
    return _TOO_LARGE if part.file_size > _LARGEST else ""


def _changed(path: Path) -> datetime | None:
    with suppress(OSError, OverflowError, ValueError):
        return datetime.fromtimestamp(path.stat().st_mtime, UTC)
    return None


def _packed(part: zipfile.ZipInfo) -> datetime | None:
    """When a part was changed, as the archive says; it tells no zone, and all of one archive are of the same."""
    with suppress(ValueError):
        return datetime(*part.date_time, tzinfo=UTC)
    return None


def _ending(name: str) -> str:
    """What a name ends in, where it is one of those that tell a damaged file from another."""
    ending = PurePosixPath(name).suffix.lower()
    return ending if ending in (".zip", ".xlsx") else ""


def _shown(name: str) -> str:
    """A name as messages and tables show it: without characters that do not print, and not without end."""
    told = "".join(letter if letter.isprintable() else "\ufffd" for letter in name)
    return told if len(told) <= _LONGEST_NAME else f"{told[:_LONGEST_NAME]}…"
