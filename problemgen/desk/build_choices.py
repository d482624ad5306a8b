"""What the last build of a set was asked for, so that it is offered again; and which files go where it is not wanted.

What lies in the built folder tells it, whoever has built; of the layout nothing does, and the desk keeps it beside.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.write.files import Staging

__all__ = ["BuildChoices", "keep_layout", "last_choices"]

_FILES = {
    "fill_in": ("fill-in/*.pdf",),
    "workbook": ("workbooks/*.xlsx",),
    "slip": ("slips*.pdf", "slips/*.pdf"),
    "worked_key": ("worked-key*.pdf",),
}
"""What is written beside the printed sheets, by the choice that it is asked for with."""

_KEPT = ".choices"
"""The folder beside the built ones in which the desk keeps what no file tells: hidden, so that no page shows it."""

_LAYOUTS = ("roomy", "compact")


@dataclass(frozen=True)
class BuildChoices:
    """What the last build was asked for; `going` has by each choice the files, or folders, that go without it."""

    wanted: frozenset[str] = frozenset()
    layout: str = ""
    going: Mapping[str, Sequence[str]] = field(default_factory=dict)


def last_choices(built: Path) -> BuildChoices:
    """What the build that lies in a folder was asked for; nothing where there is none."""
    going = {choice: going for choice in _FILES if (going := [*_going(built, choice)])}
    return BuildChoices(frozenset(going), _layout(built), going)


def _going(built: Path, choice: str) -> Sequence[str]:
    """The bound files by their names, and the folders with a file a student by theirs."""
    found = (path for pattern in _FILES[choice] for path in sorted(built.glob(pattern)))
    names = (path.relative_to(built) for path in found)
    return list(dict.fromkeys(f"{name.parts[0]}/" if len(name.parts) > 1 else name.name for name in names))


def keep_layout(built: Path, layout: str) -> None:
    """Keep with which layout a set was built just now; "" is that of the set. Raises OutputError."""
    place = _place(built)
    text = json.dumps({"layout": layout, "of": _of(built)})
    with Staging(place.parent, only=place.name, replace=True) as staging:
        staging.write(place.name, text.encode())


def _layout(built: Path) -> str:
    """The layout of the last build; "" for the set's, and where somebody else has built since."""
    try:
        kept = json.loads(_place(built).read_text(encoding="utf-8"))
        return kept["layout"] if kept["of"] == _of(built) and kept["layout"] in _LAYOUTS else ""
    except (OSError, ValueError, KeyError, TypeError):
        return ""


def _place(built: Path) -> Path:
    return built.parent / _KEPT / f"{built.name}.json"


def _of(built: Path) -> list[int]:
    """Which build it is: when its answers.json was written, and how long that is."""
    state = (built / ANSWERS_FILE).stat()
    return [state.st_mtime_ns, state.st_size]
