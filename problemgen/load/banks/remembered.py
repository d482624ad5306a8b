"""Banks that an earlier run has read and checked, by the digest of their files: as data, and again as records.

Only banks without a fault are remembered. A record is made again when it is first asked for: a template needs a few.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, Generic, TypeVar

from problemgen.exact.digits import Written
from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import digest_of
from problemgen.model.banks import (
    Banks,
    Bottle,
    Glassware,
    Measured,
    Names,
    Package,
    Publication,
    Reaction,
    Source,
    Statement,
    Substance,
    Tolerance,
)
from problemgen.model.citation import Citation
from problemgen.model.document import Document
from problemgen.model.hazards import Hazard, WaterySolution
from problemgen.model.problem import Constant
from problemgen.model.quantity import Quantity, Role
from problemgen.remembered import Table

__all__ = ["remembered_banks"]

K = TypeVar("K")

_DOCUMENTS: Mapping[str, type[Document]] = {
    one.__name__: one
    for one in (
        *(Bottle, Glassware, Hazard, Measured, Package, Publication, Reaction, Source, Statement),
        *(Substance, Tolerance, WaterySolution),
    )
}
_RECORDS: Mapping[str, type[Any]] = {one.__name__: one for one in (Banks, Citation, Constant, Names, Quantity, Written)}
"""What banks are made of; nothing else is made of data."""

_MOST = 4
"""The program's banks, and those of courses that take turns."""


def remembered_banks(folder: Path, own: Path | None = None) -> Banks:
    """The banks as `load_banks` reads them. Raises FaultsError, as it does."""

    def digest() -> str:
        return digest_of(folder, own)

    return _BANKS.found(digest(), lambda: load_banks(folder, own), digest)


class _Later(Mapping[K, Any], Generic[K]):
    """Records by name, each made of its data when it is first asked for."""

    def __init__(self, data: Mapping[K, Any]) -> None:
        self._data, self._made = data, dict[K, Any]()

    def __getitem__(self, name: K) -> Any:
        if name not in self._made:
            self._made[name] = _again(self._data[name])
        return self._made[name]

    def __iter__(self) -> Iterator[K]:
        return iter(self._data)

    def __len__(self) -> int:
        return len(self._data)


def _plain(value: Any) -> Any:
    """A value as data: a list with what it is in front, or an object for a mapping."""
    if isinstance(value, Role):
        return ["Role", value.name]
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, tuple):
        return ["tuple", *map(_plain, value)]
    if isinstance(value, Mapping):
        if all(isinstance(key, str) for key in value):
            return {key: _plain(one) for key, one in value.items()}
        return ["by number", *([key, _plain(one)] for key, one in value.items())]
    if isinstance(value, Fraction):
        return ["Fraction", value.numerator, value.denominator]
    return [type(value).__name__, *_parts(value)]


def _parts(value: Any) -> Iterator[Any]:
    name = type(value).__name__
    if isinstance(value, Document) and name in _DOCUMENTS:
        said = {key: getattr(value, key) for key in type(value).model_fields if key in value.model_fields_set}
        yield {type(value).model_fields[key].alias or key: _plain(one) for key, one in said.items()}
    elif is_dataclass(value) and name in _RECORDS:
        yield from (_plain(getattr(value, one.name)) for one in fields(value))
    else:
        raise TypeError(f"no data for {name}")


def _again(data: Any) -> Any:
    """The value that some data stand for."""
    if isinstance(data, dict):
        return {key: _again(one) for key, one in data.items()}
    if not isinstance(data, list):
        return data
    kind, *parts = data
    if kind in _DOCUMENTS:
        return _DOCUMENTS[kind].model_construct(**_again(parts[0]))
    if kind in _RECORDS:
        return _RECORDS[kind](*map(_again, parts))
    return _SIMPLE[kind](parts)


_SIMPLE: Mapping[str, Callable[[list[Any]], Any]] = {
    "tuple": lambda parts: tuple(map(_again, parts)),
    "by number": lambda parts: {int(key): _again(one) for key, one in parts},
    "Fraction": lambda parts: Fraction(*parts),
    "Role": lambda parts: Role[parts[0]],
}


def _banks_again(data: Any) -> Banks:
    """The banks, their records still to be made."""
    kind, *parts = data
    if kind != Banks.__name__:
        raise ValueError(f"{kind} in place of banks")
    made: list[Any] = [_Later(part) if isinstance(part, dict) else _again(part) for part in parts]
    return Banks(*made)


_BANKS: Table[Banks] = Table("banks", _plain, _banks_again, most=_MOST)
