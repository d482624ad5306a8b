"""Where banks, templates and layouts lie: beside the package in a checkout, inside it in an installed copy; and which
folder is a course's.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

__all__ = [
    "COURSE_FILE",
    "SET_FILE",
    "banks_folder",
    "course_folder",
    "digest_of",
    "digest_of_files",
    "layouts",
    "templates_folder",
]

SET_FILE = "set.toml"

COURSE_FILE = "course.toml"

_LARGEST = 1 << 22
"""Bytes of a file: twice what is read of one."""

_PACKAGE = Path(__file__).resolve().parent.parent


def _data_folder() -> Path:
    inside = _PACKAGE / "_data"
    return inside if inside.is_dir() else _PACKAGE.parent


def banks_folder() -> Path:
    """The folder of the chemistry banks."""
    return _data_folder() / "banks"


def templates_folder() -> Path:
    """The folder of the problem templates, sets and layouts."""
    return _data_folder() / "templates"


def course_folder(place: Path) -> Path | None:
    """The folder of the course that a file or folder lies in; None where it is none's."""
    start = place.resolve()
    return next((folder for folder in (start, *start.parents) if (folder / COURSE_FILE).is_file()), None)


def digest_of(*folders: Path | None) -> str:
    """A digest of the TOML files in and below some folders; "" where one of them cannot be read."""
    try:
        paths = [path for folder in folders if folder is not None for path in (folder, *_toml(folder))]
    except OSError:
        return ""
    return digest_of_files(*paths)


def _toml(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.toml"))


def digest_of_files(*paths: Path) -> str:
    """A digest of what files hold, and of their names; what is no file has a name alone.

    "" where one cannot be read, or is too large to be one of ours: nothing is remembered of it.
    """
    try:
        return _digest_of_files(paths)
    except OSError:
        return ""


def _digest_of_files(paths: Sequence[Path]) -> str:
    digest = hashlib.sha256()
    for path in paths:
        content = b""
        if path.is_file():
            with path.open("rb") as file:
                content = file.read(_LARGEST + 1)
        if len(content) > _LARGEST:
            raise OSError(f"{path} has more than {_LARGEST} bytes")
        digest.update(f"{path}\n{len(content)}\n".encode(errors="surrogateescape"))
        digest.update(content)
    return digest.hexdigest()


def layouts() -> dict[str, str]:
    """The texts of the sheet and page layouts, by file name."""
    folder = templates_folder() / "layouts"
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.iterdir()) if path.is_file()}
