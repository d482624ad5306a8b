"""What stands at a reaction's arrow, and what is in the flask beside its reagents."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from problemgen.load.fault_log import FaultLog

__all__ = ["arrow_notes", "arrow_values", "check_arrow", "listed_names", "without_arrow_notes"]

_LONGEST = 60
"""Letters at an arrow: half as many again as any that comes with the program has, so that a scheme stays one."""

_NOTES: Mapping[str, str] = {
    "above": 'above = "H2SO4 (catalyst)"',
    "below": 'below = "reflux"',
    "auxiliaries": 'auxiliaries = ["sulfuric-acid"]',
}
_HEAD = "What stands at the arrow, and the ids of the solvents and catalysts, so that sheets warn of them:"


def listed_names(text: str) -> tuple[str, ...]:
    """The names of a text, each once; a comma may be part of a name.

    >>> listed_names("sodium hydroxide; ethanol")
    ('sodium hydroxide', 'ethanol')
    """
    return tuple(dict.fromkeys(filter(None, (one.strip() for one in re.split(r"[;\n]", text)))))


def check_arrow(faults: FaultLog, texts: Mapping[str, str]) -> None:
    """Keep a fault for each text that is too long to stand at an arrow."""
    for key, text in texts.items():
        if len(text) > _LONGEST:
            faults.add(key, f"{len(text)} letters", f"{_LONGEST} at most, as they stand at the arrow")


def arrow_values(texts: Mapping[str, str], auxiliaries: Sequence[str]) -> Mapping[str, Any]:
    """The keys of an entry for what is said: words in one line, and ids."""
    said = {key: " ".join(text.split()) for key, text in texts.items()}
    return {key: value for key, value in {**said, "auxiliaries": list(auxiliaries)}.items() if value}


def arrow_notes(said: Mapping[str, Any]) -> Iterator[str]:
    """The lines of an entry for what is not said, ready to be filled in."""
    left = [line for key, line in _NOTES.items() if key not in said]
    if left:
        yield from (_HEAD, *left)


def without_arrow_notes(entry: str) -> str:
    """An entry without these lines: something is said now, and what stays open is meant so."""
    lines = {f"# {one}" for one in (_HEAD, *_NOTES.values())}
    return "".join(line for line in entry.splitlines(keepends=True) if line.rstrip() not in lines)
