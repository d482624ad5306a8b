"""Files of one run: written aside, then moved into place together, or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from types import TracebackType
from typing import BinaryIO, Self

from problemgen.errors import OutputError

__all__ = ["Staging"]

SHOWN = 5  # names in a message: enough to know which folder is meant, on one or two lines
PRIVATE_MODE = 0o600
PREFIX = ".problemgen-unfinished-"


class Staging:
    """The output folder of one run, as a context: `write` puts files aside, a clean exit moves them in.

    An exception (an interruption by the keyboard too) discards everything. The place aside is a hidden
    folder on the same file system: beside the output folder, or inside it when that exists already. A run
    that is killed outright leaves that hidden folder at most. A new output folder appears in one step;
    in one that exists, each file does, in the order of writing, and files of other names are left alone, but for
    those that are said to be superseded.
    """

    def __init__(self, folder: Path | str, *, replace: bool = False) -> None:
        """Take the output folder; existing files are overwritten only with `replace`."""
        self.folder = Path(folder).resolve()
        self._replace = replace
        self._aside = Path()
        self._names: dict[str, str] = {}  # folded name: some file systems do not tell A from a
        self._superseded: list[str] = []

    def __enter__(self) -> Self:
        """Make the place aside. Raises OutputError for a folder that cannot be written."""
        if self.folder.exists() and not self.folder.is_dir():
            raise OutputError(f"{self.folder} is a file; a folder is needed")
        base = self.folder if self.folder.is_dir() else self.folder.parent
        with self._readable_errors():
            base.mkdir(parents=True, exist_ok=True)
            self._aside = Path(tempfile.mkdtemp(prefix=PREFIX, dir=base))
        return self

    def __exit__(self, kind: type[BaseException] | None, _: BaseException | None, __: TracebackType | None) -> None:
        """Move everything into place, or discard it after an exception."""
        try:
            if kind is None:
                self.expect(self._names.values())
                with self._readable_errors():
                    self._commit()
        finally:
            shutil.rmtree(self._aside, ignore_errors=True)

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
            _check_inside(name)
            self._superseded.append(name)

    def write(self, name: str, content: bytes, *, private: bool = False) -> None:
        """Put one file aside: `name` is relative to the folder, "sheets/a.pdf"; private for the owner only.

        Raises OutputError for a name that leaves the folder or was written before, and for a full disk.
        """
        with self.stream(name, private=private) as file:
            file.write(content)

    @contextmanager
    def stream(self, name: str, *, private: bool = False) -> Iterator[BinaryIO]:
        """A file put aside piece by piece, as `write` does in one; it stands when the context closes.

        Raises OutputError as `write` does.
        """
        self._claim(name)
        target = self._aside / name
        with self._readable_errors():
            target.parent.mkdir(parents=True, exist_ok=True)
            mode = PRIVATE_MODE if private else 0o666
            with open(target, "xb", opener=lambda path, flags: os.open(path, flags, mode)) as file:
                yield file

    def _claim(self, name: str) -> None:
        _check_inside(name)
        earlier = self._names.setdefault(name.casefold(), name)
        if earlier != name:
            raise OutputError(f"{name!r} and {earlier!r} are one file on some computers; choose another name")
        if os.path.lexists(self._aside / name):
            raise OutputError(f"{name!r} would be written twice in one run")

    def _commit(self) -> None:
        if not self.folder.exists():
            self._aside.chmod(0o777 & ~_umask())
            self._aside.rename(self.folder)
            return
        for name in self._names.values():
            target = self.folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            (self._aside / name).replace(target)
        if self._replace:
            for name in self._superseded:
                if name.casefold() not in self._names:
                    (self.folder / name).unlink(missing_ok=True)

    @contextmanager
    def _readable_errors(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise OutputError(f"cannot write into {self.folder}: {error.strerror or error}") from error


def _check_inside(name: str) -> None:
    path = PurePosixPath(name)
    if not path.parts or path.is_absolute() or ".." in path.parts or "\\" in name or "\0" in name:
        raise OutputError(f"{name!r} is not a file name inside the output folder")


def _umask() -> int:
    """The process's umask, which can only be read by setting it."""
    umask = os.umask(0)
    os.umask(umask)
    return umask
