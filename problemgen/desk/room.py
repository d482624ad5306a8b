"""What a room is to the frame."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from starlette.routing import Route

__all__ = ["Room", "Step"]

Step: TypeAlias = Literal["prepare", "print", "mark"]
"""The steps of the job, in their order."""


@dataclass(frozen=True)
class Room:
    """A part of the desk: `path` is the address of its first page, `title` and `about` are messages (`N_`).

    `uploads` are the bytes that a request may have, by the beginning of its address, where files are dropped.
    """

    step: Step
    path: str
    title: str
    about: str
    routes: tuple[Route, ...]
    uploads: Mapping[str, int] = field(default_factory=dict)
