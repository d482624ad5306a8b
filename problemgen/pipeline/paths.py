"""Paths as whoever calls from a notebook writes them."""

from __future__ import annotations

from os import PathLike
from pathlib import Path
from typing import TypeAlias

__all__ = ["AnyPath", "path_or_none"]

AnyPath: TypeAlias = str | PathLike[str]
"""A path, or its text."""


def path_or_none(path: AnyPath | None) -> Path | None:
    """The path; None where there is none."""
    return None if path is None else Path(path)
