"""Sentences of commands, as the desk says them: what would be typed there is a button or a field here."""

from __future__ import annotations

import re
from collections.abc import Mapping

from problemgen.language.messages import N_, _
from problemgen.pipeline.outlets.marking.unread import UNREAD_FILE

__all__ = ["on_desk"]

_SENTENCES = re.compile(r"(?<=[.!?])\s+(?=[A-Z“\"'-])")
_OPTION = re.compile(r"(?<!\S)--[a-z][a-z-]+")
_FILED = f"{UNREAD_FILE}: "
"""What a marking notes of cells that could not be read begins so: the desk has a list of them, and a link to it."""

_INSTEAD: Mapping[str, str] = {
    "--new-secret": N_("Put the file back from a copy, or build with another secret: what is printed stays."),
    "--redraw": N_("Put it back, or draw the problem anew on purpose."),
    "--demonstration": N_(
        "Take the line out, and the set gets a secret of its own; or build all the same, for a demonstration."
    ),
    "--session": N_("Choose “all” for session and section: what is printed now would not agree with the other sheets."),
    "--columns": N_("Say what each column is, with “Columns” beside the table."),
    "--set": N_("Build its sheets again to mark by the set as it is now."),
}
"""What the desk says in the place of a sentence with an option, by the first one in it; without one here, nothing."""


_KNOWN = frozenset((*_INSTEAD, "--section", "--out", "--replace"))
"""The options that such sentences name: a student may write two hyphens too."""


def on_desk(text: str) -> str:
    """A text of a command without what would be typed: sentences with an option are said otherwise, or left out.

    >>> on_desk("Read twice. If 'number' has the ids, name it in --columns: a CSV file.")
    'Read twice. Say what each column is, with “Columns” beside the table.'
    """
    if text.startswith(_FILED):
        return ""
    said = (_said(sentence) for sentence in _SENTENCES.split(text))
    return " ".join(dict.fromkeys(filter(None, said)))


def _said(sentence: str) -> str:
    option = next((found[0] for found in _OPTION.finditer(sentence) if found[0] in _KNOWN), "")
    if not option:
        return sentence
    instead = _INSTEAD.get(option, "")
    return _(instead) if instead else ""
