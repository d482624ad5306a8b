"""Reading a TOML file into a strict document; every fault of the file is collected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from problemgen.errors import FaultsError
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.plain_data import read_toml
from problemgen.model.document import Document

__all__ = ["as_document", "keep_faults", "read_document", "shown"]

D = TypeVar("D", bound=Document)

_TABLE, _LIST = "a table of keys and values", "a list"
_SHAPES = {"model_type": _TABLE, "dataclass_type": _TABLE, "dict_type": _TABLE, "tuple_type": _LIST, "list_type": _LIST}
"""What is expected instead of a wrong shape: pydantic would name classes of this program."""


def read_document(path: Path, shape: type[D]) -> D:
    """The file at `path` as a document of a shape.

    Raises:
        FaultsError: for a file that is missing, is not TOML, or does not fit the shape: all faults at once.
    """
    faults = FaultLog(str(path))
    data = read_toml(path, faults)
    return as_document(data, shape, faults)


def as_document(data: Any, shape: type[D], faults: FaultLog) -> D:
    """Data as a document of a shape. Raises FaultsError with all faults, which the log keeps too."""
    try:
        return shape.model_validate(data)
    except ValidationError as error:
        keep_faults(faults, error, shape, data=data)
    raise FaultsError(faults.faults)


def keep_faults(
    faults: FaultLog, error: ValidationError, shape: type[BaseModel] | None = None, hint: str = "", data: Any = None
) -> None:
    """Keep what pydantic found wrong.

    `shape`: for its keys where one is not known; `hint`: what to do, if the same; `data`: what was read, for the ids of
    entries in lists.
    """
    for one in _told(error):
        _keep(faults, shape, one, hint, data)


def _told(error: ValidationError) -> list[dict[str, Any]]:
    """Pydantic's errors, without those that only count what is left of a list with a faulty entry."""
    errors = [dict(one) for one in error.errors()]
    places = [one["loc"] for one in error.errors()]
    return [
        one
        for one, place in zip(errors, places, strict=True)
        if one["type"] != "too_short" or not any(p != place and p[: len(place)] == place for p in places)
    ]


def _keep(faults: FaultLog, shape: type[BaseModel] | None, error: dict[str, Any], hint: str, data: Any) -> None:
    location = tuple(part for part in error["loc"] if part != "[key]")  # pydantic's mark of a key that is refused
    key = ".".join(_steps(location, data))
    if error["type"] in ("extra_forbidden", "unexpected_keyword_argument"):
        known = _known_keys(shape, location[:-1])
        expected = f"one of {', '.join(sorted(known))}" if known else "no such key"
        faults.add(key, "an unknown key", expected, hint or nearest(str(location[-1]), known))
    elif error["type"] == "missing":
        faults.add(key, "nothing", "a value for this key", hint)
    elif error["type"] == "too_short":
        faults.add(key, "an empty list", "one entry or more", hint)
    elif error["type"] in _SHAPES:
        faults.add(key, shown(error["input"]), _SHAPES[error["type"]], hint)
    else:
        message = str(error["msg"]).removeprefix("Value error, ").removeprefix("Input should be ")
        faults.add(key, shown(error["input"]), message, hint)


def _steps(location: Iterable[Any], data: Any) -> Iterator[str]:
    """The keys that lead to a place: an entry of a list by its id, or by its number where it has none."""
    for part in location:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):  # the place is one that is missing
            data = None
        name = data.get("id") if isinstance(part, int) and isinstance(data, dict) else None
        yield name if isinstance(name, str) and name else str(part + 1) if isinstance(part, int) else str(part)


def _known_keys(shape: Any, location: Iterable[Any]) -> list[str]:
    """The keys of the part of a document at a location."""
    for part in location:
        fields = getattr(shape, "model_fields", None)
        if fields is not None and part in fields:
            shape = fields[part].annotation
        while not hasattr(shape, "model_fields") and getattr(shape, "__args__", None):
            shape = next((a for a in reversed(shape.__args__) if a not in (type(None), ...)), None)
    fields = getattr(shape, "model_fields", None) or getattr(shape, "__dataclass_fields__", {})
    return [getattr(field, "alias", None) or key for key, field in fields.items()]


def shown(value: Any) -> str:
    """A value as a message shows it, cut to 60 letters: a fault stays on one or two lines of a terminal."""
    text = str(value) if isinstance(value, Decimal | int) and not isinstance(value, bool) else repr(value)
    return text if len(text) <= 60 else text[:57] + "..."
