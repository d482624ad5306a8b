"""Sets."""

from __future__ import annotations

from problemgen.desk.room import Room
from problemgen.language.messages import N_

__all__ = ["ROOM"]

ROOM = Room("prepare", "/sets", N_("Sets"), N_("Which problems, in which order, for which class, marked how."), ())
