"""Practice page."""

from __future__ import annotations

from problemgen.desk.room import Room
from problemgen.language.messages import N_

__all__ = ["ROOM"]

ROOM = Room("print", "/practice", N_("Practice page"), N_("One file in which students practise by themselves."), ())
