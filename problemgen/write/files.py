"""Files of one run: written aside, then moved into place together, or not at all."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryFile
from types import TracebackType
from typing import BinaryIO, Self

from filelock import FileLock, Timeout

from problemgen.errors import OutputError
from problemgen.write.endings import HEARD, WRITTEN, undisturbed
from problemgen.write.switch import JOURNAL, NEW, check_inside, finish_switch, switch

__all__ = ["PREFIX", "Staging", "give_up", "settle"]

SHOWN = 5  # names in a message: enough to know which folder is meant, on one or two lines
PRIVATE_MODE = 0o600
PREFIX = ".problemgen-unfinished"
_LOCK = "lock"

_OPEN: list[Staging] = []  # those of this process that are at work


class Staging:
    """The output folder of one run, as a context: `write` puts files aside, a clean exit moves them in.

    An exception (an interruption by the keyboard too) discards everything. The place aside is a hidden folder on the
    same file system: beside the output folder, or inside it when that exists already. It is locked while the run
    lasts; the next run clears what one that was killed has left there. A new output folder appears in one step; in one
    that exists, all files change or none does (`switch`), and files of other names are left alone, but for those that
    are said to be superseded.
    """

    def __init__(self, folder: Path | str, *, only: str = "", replace: bool = False) -> None:
        """Take the output folder; existing files are overwritten only with `replace`.

        `only` names the one file that is written, where the folder may be written by somebody else at the same time.
        """
        self.folder = _resolved(Path(folder))
        self._only = only
        self._replace = replace
        self._aside: Path | None = None
        self._lock: FileLock | None = None
        self._made: list[Path] = []  # folders above the place aside, inner ones first
        self._names: dict[str, str] = {}  # folded name: some file systems do not tell A from a
        self._superseded: list[str] = []

    def __enter__(self) -> Self:
        """Make the place aside. Raises OutputError for a folder that cannot be written, or that another run writes."""
        if self.folder.exists() and not self.folder.is_dir():
            raise OutputError(f"{self.folder} is a file; a folder is needed")
        try:
            with undisturbed(), self._readable_errors():
                _OPEN.append(self)
                self._begin()
        except BaseException:
            self.discard()
            raise
        return self

    def _begin(self) -> None:
        exists = self.folder.is_dir()
        base = self.folder if exists else self.folder.parent
        self._made = [place for place in (base, *base.parents) if not place.exists()]
        base.mkdir(parents=True, exist_ok=True)
        settle(base)
        if exists:
            _clear(self.folder, self.folder.parent / f"{PREFIX}-{self.folder.name}")
        parts = (PREFIX, "" if exists else self.folder.name, self._only)
        aside = base / "-".join(filter(None, parts))
        aside.mkdir(mode=0o700, exist_ok=True)
        self._lock = _locked(aside)
        if self._lock is None:
            raise OutputError(
                f"{self.folder} is being written by another run; nothing was written. Wait until it is done, or choose "
                "another output folder"
            )
        self._aside = aside
        (aside / NEW).mkdir()

    def __exit__(self, kind: type[BaseException] | None, _: BaseException | None, __: TracebackType | None) -> None:
        """Move everything into place, or discard it after an exception."""
        with undisturbed():
            try:
                if kind is None and HEARD:
                    raise KeyboardInterrupt(HEARD[0])
                if kind is None:
                    self.expect(self._names.values())
                    with self._readable_errors():
                        self._commit()
                    WRITTEN.append(self.folder)
            finally:
                self.discard()

    def discard(self) -> None:
        """Remove what is aside, and the folders that were made for it. What has been moved into place stays."""
        with undisturbed():
            if self._aside is not None and not (self._aside / JOURNAL).exists():  # one that stays needs a next run
                shutil.rmtree(self._aside, ignore_errors=True)
            self._aside = None
            if self._lock is not None:
                self._lock.release(force=True)
            for folder in self._made:
                with suppress(OSError):  # it holds what was written
                    folder.rmdir()
            if self in _OPEN:
                _OPEN.remove(self)

    def expect(self, names: Iterable[str]) -> None:
        """Check early, before the work is done, that no file of these names would be overwritten.

        Raises OutputError with the first names, unless the run replaces files.
        """
        there = sorted(name for name in names if os.path.lexists(self.folder / name))
        if there and not self._replace:
            shown = ", ".join(there[:SHOWN])
            more = f" and {len(there) - SHOWN} more" if len(there) > SHOWN else ""
            raise OutputError(
                f"{self.folder} already holds {shown}{more}; nothing was written. --replace replaces them"
            )

    def supersede(self, names: Iterable[str]) -> None:
        """Name files of an earlier run: with `replace`, those that this run does not write are removed at the end.

        Raises OutputError for a name that leaves the folder.
        """
        for name in names:
            check_inside(name)
            self._superseded.append(name)

    def write(self, name: str, content: bytes, *, private: bool = False, program: bool = False) -> None:
        """Put one file aside: `name` is relative to the folder, "sheets/a.pdf"; private for the owner only.

        A program may be run.

        Raises OutputError for a name that leaves the folder or was written before, and for a full disk.
        """
        with self.stream(name, private=private, program=program) as file:
            file.write(content)

    @contextmanager
    def stream(self, name: str, *, private: bool = False, program: bool = False) -> Iterator[BinaryIO]:
        """A file put aside piece by piece, as `write` does in one; it stands when the context closes.

        Raises OutputError as `write` does.
        """
        self._claim(name)
        target = self._place / name
        with self._readable_errors():
            target.parent.mkdir(parents=True, exist_ok=True)
            mode = PRIVATE_MODE if private else 0o777 if program else 0o666
            with open(target, "xb", opener=lambda path, flags: os.open(path, flags, mode)) as file:
                yield file

    def aside(self, name: str) -> Path:
        """Where a file lies that was put aside, to be read."""
        return self._place / name

    def shelf(self) -> BinaryIO:
        """An empty file without a name, for what a run needs on the disk; when it is closed, it is gone."""
        with self._readable_errors():
            return TemporaryFile(dir=self._place.parent)

    def _claim(self, name: str) -> None:
        check_inside(name)
        earlier = self._names.setdefault(name.casefold(), name)
        if earlier != name:
            raise OutputError(f"{name!r} and {earlier!r} are one file on some computers; choose another name")
        if os.path.lexists(self._place / name):
            raise OutputError(f"{name!r} would be written twice in one run")

    @property
    def _place(self) -> Path:
        """Where new files are put."""
        assert self._aside is not None, "a staging is used as a context"
        return self._aside / NEW

    def _commit(self) -> None:
        if not self.folder.exists():
            self._place.chmod(0o777 & ~_umask())
            self._place.rename(self.folder)
            return
        gone = [name for name in self._superseded if name.casefold() not in self._names] if self._replace else []
        switch(self.folder, self._place.parent, list(self._names.values()), gone)

    @contextmanager
    def _readable_errors(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise OutputError(f"cannot write into {self.folder}: {error.strerror or error}") from error


def settle(folder: Path) -> None:
    """Finish what a killed run has begun to move within a folder, and clear what it has left aside.

    Whoever reads a folder in which runs replace files does this first. Raises OutputError for what cannot be finished.
    """
    for aside in sorted(folder.glob(f"{PREFIX}*")):
        _clear(folder, aside)


def give_up() -> None:
    """Discard what runs of this process have aside, as it ends."""
    for staging in tuple(_OPEN):
        staging.discard()


def _resolved(folder: Path) -> Path:
    """Where a folder really is. Raises OutputError for one that cannot be, and for the place aside of a run."""
    try:
        real = folder.resolve()
    except (OSError, RuntimeError) as error:  # links in a circle; a name too long; a current folder that is gone
        raise OutputError(f"{folder} is no place for files: {error}; nothing was written") from error
    if any(part.startswith(PREFIX) for part in real.parts):
        raise OutputError(f"{folder} has the name of what an unfinished run leaves; nothing was written")
    return real


def _clear(folder: Path, aside: Path) -> None:
    if aside.is_symlink() or not aside.is_dir() or not os.access(aside, os.R_OK | os.W_OK | os.X_OK):
        return  # a link, a file, somebody else's
    with undisturbed():
        try:
            lock = _locked(aside)
        except FileNotFoundError:  # its run has ended just now
            return
        if lock is None:  # a run is at work
            return
        try:
            finish_switch(folder, aside)
            shutil.rmtree(aside, ignore_errors=True)
        except OSError as error:
            reason = f"a run that was ended has left {aside}, which cannot be finished: {error.strerror or error}"
            raise OutputError(reason) from error
        finally:
            lock.release(force=True)


def _locked(aside: Path) -> FileLock | None:
    """The lock on a place aside; None where a run that is at work has it. The system takes it from one that ends."""
    lock = FileLock(aside / _LOCK, timeout=0)
    try:
        lock.acquire()
    except Timeout:
        return None
    return lock


def _umask() -> int:
    """The process's umask, which can only be read by setting it."""
    umask = os.umask(0)
    os.umask(umask)
    return umask
