"""Auto-graded stoichiometry problem sets for the chemistry laboratory.

>>> import problemgen
>>> problemgen.read_answer("39,5 g", unit="mg").number
'39.5'

A name is loaded when it is used first: `problemgen.pipeline.front` has the functions, `problemgen.errors` the errors.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_FRONT = ("build", "mark", "open_answers", "read_answer", "sample", "solve")

__all__ = [
    "Fault",
    "FaultsError",
    "NoRoomError",
    "OutputError",
    "ProblemgenError",
    "UnitError",
    "build",
    "mark",
    "open_answers",
    "read_answer",
    "sample",
    "solve",
]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module = "problemgen.pipeline.front" if name in _FRONT else "problemgen.errors"
    return getattr(import_module(module), name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
