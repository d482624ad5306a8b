"""Many files of a folder replaced as one: all of them or none, also where the run is ended in the middle of it.

Before the first file moves, a journal says what is going to. Who finds one finishes the work: the new files that are
still aside go to their places. Where that cannot be, the old ones go back.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from problemgen.errors import OutputError

__all__ = ["JOURNAL", "NEW", "check_inside", "finish_switch", "switch"]

JOURNAL, NEW, OLD = "journal.json", "new", "old"
_ON, _BACK = "on", "back"


class _Plan(NamedTuple):
    """Names below the folder: what is written, what of it was there before, what is removed, and the folders that there
    were not; and whether all goes on to the new files or back to the old ones."""

    write: tuple[str, ...]
    before: tuple[str, ...]
    remove: tuple[str, ...]
    folders: tuple[str, ...]
    goes: tuple[str, ...] = (_ON,)


def check_inside(name: str) -> None:
    """Refuse a name that leaves the folder. Raises OutputError."""
    path = PurePosixPath(name)
    if not path.parts or path.is_absolute() or ".." in path.parts or "\\" in name or "\0" in name:
        raise OutputError(f"{name!r} is not a file name inside the output folder")


def switch(folder: Path, aside: Path, write: Sequence[str], remove: Iterable[str]) -> None:
    """Move the files `write` from "new" in the folder `aside` to their places in `folder`, and `remove` others.

    Raises:
        OutputError: where a folder stands in the place of a file. Nothing has changed then.
        OSError: where one cannot be replaced. All are as they were then.
    """
    gone = [name for name in remove if os.path.lexists(folder / name)]
    for name in sorted((*write, *gone)):
        check_inside(name)
        if _is_folder(folder / name):
            raise OutputError(
                f"{folder / name} is a folder, and a file goes there; nothing was written. Move it away, or choose "
                "another output folder"
            )
        if not _stays_inside(folder, name):
            raise OutputError(
                f"{folder / name} leads out of {folder} by a link; nothing was written. Put a folder in its place, or "
                "choose another output folder"
            )
    before = tuple(name for name in write if os.path.lexists(folder / name))
    plan = _Plan(tuple(write), before, tuple(gone), tuple(_missing_folders(folder, write)))
    _note(aside, plan)
    _carry_out(folder, aside, plan)


def _note(aside: Path, plan: _Plan) -> None:
    """Write the journal: from now on whoever finds it goes by it."""
    planned = aside / f"{JOURNAL}.part"
    with planned.open("wb") as file:
        file.write(json.dumps(plan._asdict()).encode())
        file.flush()
        os.fsync(file.fileno())
    planned.replace(aside / JOURNAL)


def finish_switch(folder: Path, aside: Path) -> None:
    """Finish what a run that was ended has begun; a place aside without a journal has nothing to finish.

    Raises:
        OutputError: for a journal that cannot be read, or leads out of the folder.
        OSError: where a file cannot be replaced. All are as they were before that run then.
    """
    journal = aside / JOURNAL
    if not journal.is_file():
        return
    plan = _read(journal)
    for name in (*plan.write, *plan.before, *plan.remove, *plan.folders):
        check_inside(name)
        if not _stays_inside(folder, name):
            raise OutputError(f"{journal} names {name!r}, which leads out of the folder; remove {aside} by hand")
    if plan.goes == (_BACK,):
        _undo(folder, aside, plan)
    else:
        _carry_out(folder, aside, plan)


def _read(journal: Path) -> _Plan:
    try:
        found = json.loads(journal.read_bytes())
        return _Plan(*(tuple(map(_name, found[key])) for key in _Plan._fields))
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        hint = f"remove {journal.parent} by hand, and run again"
        raise OutputError(f"{journal} cannot be read: a run that was ended has left it; {hint}") from error


def _name(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _carry_out(folder: Path, aside: Path, plan: _Plan) -> None:
    try:
        for name in plan.write:
            if os.path.lexists(aside / NEW / name):
                _keep(folder / name, aside / OLD / name)
                (folder / name).parent.mkdir(parents=True, exist_ok=True)
                (aside / NEW / name).replace(folder / name)
        for name in plan.remove:
            _keep(folder / name, aside / OLD / name)
            (folder / name).unlink(missing_ok=True)
    except BaseException:
        _undo(folder, aside, plan)
        raise
    (aside / JOURNAL).unlink()


def _keep(file: Path, old: Path) -> None:
    """Keep a file that is going to be replaced: by a second link, so that it is never missing from its place."""
    if os.path.lexists(old) or not os.path.lexists(file):
        return
    old.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(file, old, follow_symlinks=False)
    except (OSError, NotImplementedError):  # a file system without links
        file.rename(old)


def _undo(folder: Path, aside: Path, plan: _Plan) -> None:
    """Go back to the old files; the journal says so first, since this may be stopped as well."""
    _note(aside, plan._replace(goes=(_BACK,)))
    for name in (*plan.before, *plan.remove):
        if os.path.lexists(aside / OLD / name):
            (aside / OLD / name).replace(folder / name)
    for name in plan.write:
        if name not in plan.before and not os.path.lexists(aside / NEW / name):
            (folder / name).unlink(missing_ok=True)
    for name in reversed(plan.folders):
        with suppress(OSError):  # somebody else has put something there
            (folder / name).rmdir()
    (aside / JOURNAL).unlink()


def _stays_inside(folder: Path, name: str) -> bool:
    return (folder / name).parent.resolve().is_relative_to(folder.resolve())


def _missing_folders(folder: Path, names: Iterable[str]) -> Iterator[str]:
    """The folders that have to be made, outer ones first."""
    wanted = {str(parent) for name in names for parent in PurePosixPath(name).parents if parent.parts}
    return (name for name in sorted(wanted) if not (folder / name).exists())


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()
