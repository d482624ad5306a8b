"""Print."""

from __future__ import annotations

from problemgen.desk.room import Room
from problemgen.language.messages import N_

__all__ = ["ROOM"]

ROOM = Room("print", "/print", N_("Print"), N_("The sheets, the key and all that is handed out."), ())
