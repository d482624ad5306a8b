"""Where banks, templates and layouts lie: beside the package in a checkout, inside it in an installed copy."""

from __future__ import annotations

from pathlib import Path

__all__ = ["banks_folder", "layouts", "templates_folder"]

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


def layouts() -> dict[str, str]:
    """The texts of the sheet and page layouts, by file name."""
    folder = templates_folder() / "layouts"
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.iterdir()) if path.is_file()}
