"""Names that come with a request, as paths inside a folder, and nowhere else."""

from __future__ import annotations

from pathlib import Path

from problemgen.pipeline.built import SECRET_FILE

__all__ = ["NotThereError", "file_inside", "inside"]


class NotThereError(Exception):
    """A name that leads to nothing that the desk shows; why is nobody's business."""


def inside(folder: Path, name: str) -> Path:
    """A path below a folder, by its name there ("sets/week-1"); it need not be there.

    Raises NotThereError for a name that leads out of it, in whatever way a system reads it; that is hidden; that goes
    through a link; and for the secret of a build.
    """
    parts = name.split("/")
    if any(not part or part.startswith(".") or set(part) & set("\\:\0") for part in parts):
        raise NotThereError(name)
    if parts[-1].casefold() == SECRET_FILE or any(part.rstrip(". ") != part for part in parts):
        raise NotThereError(name)  # Windows leaves dots and blanks at an end out
    path = folder
    for part in parts:
        path = path / part
        try:
            if path.is_symlink():
                raise NotThereError(name)
        except OSError as error:  # a name that is too long
            raise NotThereError(name) from error
    if not path.resolve().is_relative_to(folder.resolve()):
        raise NotThereError(name)
    return path


def file_inside(folder: Path, name: str) -> Path:
    """A file that is there, below a folder. Raises NotThereError, as `inside` does."""
    path = inside(folder, name)
    if not path.is_file():
        raise NotThereError(name)
    return path
