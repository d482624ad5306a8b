"""Where banks, templates and layouts lie: beside the package in a checkout, inside it in an installed copy; and which
folder is a course's.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

__all__ = ["COURSE_FILE", "SET_FILE", "banks_folder", "course_folder", "digest_of", "layouts", "templates_folder"]

SET_FILE = "set.toml"

COURSE_FILE = "course.toml"

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
    """A digest of the TOML files below some folders, and of their names. Raises OSError for one that cannot be read."""
    digest = hashlib.sha256()
    for folder in folders:
        digest.update(f"{folder}\n".encode())
        for path in sorted(folder.rglob("*.toml")) if folder is not None else ():
            content = path.read_bytes() if path.is_file() else b""
            digest.update(f"{path} {len(content)}\n".encode())
            digest.update(content)
    return digest.hexdigest()


def layouts() -> dict[str, str]:
    """The texts of the sheet and page layouts, by file name."""
    folder = templates_folder() / "layouts"
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.iterdir()) if path.is_file()}
