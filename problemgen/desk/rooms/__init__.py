"""The rooms of the desk, in the order of the job: one module and one line each."""

from __future__ import annotations

from problemgen.desk.room import Room
from problemgen.desk.rooms import marking, practice, printing, problems, sets

__all__ = ["ROOMS"]

ROOMS: tuple[Room, ...] = (
    problems.ROOM,
    sets.ROOM,
    printing.ROOM,
    practice.ROOM,
    marking.ROOM,
)
"""All rooms, as the desk shows them."""
