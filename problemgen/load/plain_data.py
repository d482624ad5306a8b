"""TOML and JSON files as plain data, within limits: what nests too deep or counts too far would stall what reads it."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn

from problemgen.errors import NumberError
from problemgen.exact.digits import read_written
from problemgen.load.fault_log import FaultLog

__all__ = ["read_json", "read_toml"]

_LARGEST = 1 << 21
"""Bytes: ten times the largest file that comes with the program, a bank of 377 substances."""
_DEEPEST = 32
"""Levels of tables and lists: our own files have six."""
_LARGEST_WHOLE = 10**100
"""No whole number of a laboratory has so many digits as are read (`problemgen.exact.digits`)."""


def read_toml(path: Path, faults: FaultLog) -> Any:
    """The data of a TOML file, its decimals with their digits.

    Raises:
        FaultsError: for a file that cannot be read, is not TOML, or is beyond a limit.
    """

    def read(text: str) -> Any:
        try:
            return tomllib.loads(text, parse_float=_decimal)
        except tomllib.TOMLDecodeError as error:
            faults.refuse("", f"a slip in the notation: {error}", "valid TOML")

    return _read(path, faults, "TOML", read)


def read_json(path: Path, faults: FaultLog) -> Any:
    """The data of a JSON file, its numbers with their digits; a key that stands twice in an object is a fault.

    Raises:
        FaultsError: for a file that cannot be read, is not JSON, or is beyond a limit.
    """

    def read(text: str) -> Any:
        try:
            return json.loads(text, parse_float=_decimal, object_pairs_hook=_object)
        except json.JSONDecodeError as error:
            faults.refuse("", f"a slip in the notation: {error}", "valid JSON")

    return _read(path, faults, "JSON", read)


def _read(path: Path, faults: FaultLog, notation: str, read: Callable[[str], Any]) -> Any:
    try:
        with path.open("rb") as file:
            content = file.read(_LARGEST + 1)
        if len(content) > _LARGEST:
            faults.refuse("", f"more than {_LARGEST:,} bytes", "a file of at most so many", "Split it.")
        text = content.decode("utf-8").replace("\r\n", "\n")
    except OSError as error:
        faults.refuse("", (error.strerror or "unreadable").lower(), f"a readable {notation} file")
    except UnicodeDecodeError:
        faults.refuse("", "bytes that are not UTF-8", "text in UTF-8")
    data = _parsed(text, faults, notation, read)
    for key, value, depth in _values(data):
        if depth > _DEEPEST:
            _refuse_depth(faults)
        if isinstance(value, int) and abs(value) >= _LARGEST_WHOLE:
            faults.add(key, "a whole number of more than 100 digits", "numbers of at most 100 digits")
    faults.stop()
    return data


def _parsed(text: str, faults: FaultLog, notation: str, read: Callable[[str], Any]) -> Any:
    try:
        return read(text)
    except RecursionError:
        _refuse_depth(faults)
    except _TwiceError as error:
        faults.refuse("", f"a slip in the notation: {error}", f"valid {notation}")
    except ValueError:  # of a number with more digits than Python reads
        faults.refuse("", "a whole number of thousands of digits", "numbers of at most 100 digits")


class _TwiceError(ValueError):
    """A key that stands twice in a JSON object."""


def _refuse_depth(faults: FaultLog) -> NoReturn:
    faults.refuse("", f"tables or lists nested more than {_DEEPEST} deep", f"at most {_DEEPEST} levels")


def _decimal(text: str) -> Decimal | str:
    """A decimal with its digits; as text where it is beyond what is read, which the reader of its key refuses."""
    digits = text.replace("_", "").lower()
    if digits.lstrip("+-") in ("inf", "nan"):
        return Decimal(digits)
    try:
        read_written(digits)
    except NumberError:
        return digits
    return Decimal(digits)


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """A JSON object; raises _TwiceError for a key that stands in it twice."""
    found = dict(pairs)
    if len(found) < len(pairs):
        raise _TwiceError(f"one key twice among {', '.join(key for key, _ in pairs)}")
    return found


def _values(data: Any) -> Iterator[tuple[str, Any, int]]:
    """All values with their keys and depths, without recursion."""
    waiting: list[tuple[str, Any, int]] = [("", data, 0)]
    while waiting:
        key, value, depth = waiting.pop()
        yield key, value, depth
        inside = value.items() if isinstance(value, Mapping) else enumerate(value, 1) if isinstance(value, list) else ()
        waiting += ((f"{key}.{name}".lstrip("."), one, depth + 1) for name, one in inside)
