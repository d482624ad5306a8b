"""One file that came back: what it holds, or why it could not be read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from problemgen.errors import FaultsError
from problemgen.load.returns.fill_in import read_fill_in
from problemgen.load.returns.workbooks import read_workbook
from problemgen.model.returned import Filled, Returned, ReturnedKind, Unread

__all__ = ["read_returned"]

_READERS: Mapping[ReturnedKind, Callable[[Path], Filled]] = {"pdf": read_fill_in, "workbook": read_workbook}
"""What reads a kind of file; a new kind of return is one more."""
_NO_READER: Mapping[ReturnedKind, str] = {
    "picture": "a picture; answers on it are not read",
    "other": "neither a sheet with fields nor a workbook",
}
_NO_STAMP = "does not say which sheet it is: printed anew, copied, or never handed out; answers in it are not taken"


def read_returned(file: Returned) -> Filled | Unread:
    """What a file holds. No file raises an error, however damaged; one without a stamp is `is_unmarked`."""
    reader = _READERS.get(file.kind)
    if reader is None:
        return Unread(file.name, _NO_READER[file.kind], is_unmarked=True)
    try:
        filled = reader(file.path)
    except FaultsError as error:
        return Unread(file.name, error.faults[0].found)
    if filled.stamps:
        return filled
    return Unread(file.name, f"it {_NO_STAMP}", is_unmarked=True)
