"""Auto-graded stoichiometry problem sets for the chemistry laboratory.

>>> import problemgen
>>> problemgen.read_answer("39,5 g", unit="mg").number
'39.5'

Paths may be text, all that may be left out goes by keyword, and what a user can get wrong raises an error that says
so. A name is loaded when it is used first.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_HOMES = {
    "build": "problemgen.pipeline.build",
    "collect": "problemgen.pipeline.collect",
    "mark": "problemgen.pipeline.mark",
    "open_answers": "problemgen.pipeline.answer_book",
    "read_answer": "problemgen.pipeline.reading",
    "sample": "problemgen.pipeline.sample",
    "solve": "problemgen.pipeline.solve",
}
"""The module of each function; those of the errors are all in one."""

__all__ = [
    "Fault",
    "FaultsError",
    "NoRoomError",
    "OutputError",
    "ProblemgenError",
    "UnitError",
    "build",
    "collect",
    "mark",
    "open_answers",
    "read_answer",
    "sample",
    "solve",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES.get(name, "problemgen.errors")), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
