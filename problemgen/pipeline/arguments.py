"""What a notebook or a script hands over: paths or their text, and arguments that are held against their types."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import wraps
from inspect import signature
from os import PathLike
from pathlib import Path
from typing import Annotated, Any, ParamSpec, TypeAlias, TypeVar, get_type_hints

from pydantic import BeforeValidator, ConfigDict, Field, PlainValidator, create_model

from problemgen.load.documents import as_document
from problemgen.load.fault_log import FaultLog
from problemgen.model.document import Document

__all__ = ["AnyPath", "HowMany", "Paths", "as_paths", "checked", "path_or_none"]

P = ParamSpec("P")
R = TypeVar("R")


def _path(value: Any) -> Any:
    if not isinstance(value, str | PathLike):
        raise ValueError("the path of a file or folder")  # noqa: TRY004 - pydantic collects ValueError only
    return value


AnyPath: TypeAlias = Annotated[str | PathLike[str], BeforeValidator(_path)]
"""A path, or its text."""


def _paths(value: Any) -> Any:
    several = value if isinstance(value, list | tuple) else (value,)
    if not several or not all(isinstance(one, str | PathLike) for one in several):
        raise ValueError("the path of a file, or a list of paths")
    return value


Paths: TypeAlias = Annotated[str | PathLike[str] | Sequence[str | PathLike[str]], PlainValidator(_paths)]
"""A path, or its text; or a list of these."""

HowMany: TypeAlias = Annotated[int, Field(ge=1)]
"""How many are to be made: one or more."""


def path_or_none(path: AnyPath | None) -> Path | None:
    """The path; None where there is none."""
    return None if path is None else Path(path)


class _Arguments(Document):
    """The arguments of a call: "3" is no number, and b"3" no text."""

    model_config = ConfigDict(strict=True)


def as_paths(paths: Paths) -> tuple[Path, ...]:
    """One path or several as a tuple of paths."""
    return (Path(paths),) if isinstance(paths, str | PathLike) else tuple(map(Path, paths))


def checked(function: Callable[P, R]) -> Callable[P, R]:
    """A function that raises FaultsError, before it does anything, for all arguments that are not of their types.

    Arguments that are missing, or that it does not have, raise TypeError, as with any function.
    """
    arguments, types = signature(function), get_type_hints(function, include_extras=True)
    fields: dict[str, Any] = {name: (types[name], one.default) for name, one in arguments.parameters.items()}
    shape = create_model(function.__name__, __base__=_Arguments, **fields)

    @wraps(function)
    def held(*args: P.args, **keywords: P.kwargs) -> R:
        as_document(arguments.bind(*args, **keywords).arguments, shape, FaultLog(function.__name__))
        return function(*args, **keywords)

    return held
