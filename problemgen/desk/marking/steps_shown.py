"""What was done last, in words, so that it can be undone."""

from __future__ import annotations

from collections.abc import Sequence

from problemgen.desk.marking.place import MarkingPlace
from problemgen.language.messages import N_, _
from problemgen.write.steps import Step

__all__ = ["steps_shown"]

_LAST = 5
"""Steps that are listed: as many as are remembered without looking them up."""

_DONE = {
    "files": N_("{names} dropped"),
    "columns": N_("columns of {names} told"),
    "removed": N_("{name} removed"),
    "collected": N_("answers of {count} students collected"),
    "meaning": N_("“{written}” means “{means}”"),
    "no-meaning": N_("taken back: “{written}” means “{means}”"),
    "decision": N_("{who}, {where}: {points}"),
    "no-decision": N_("taken back: {who}, {where}: {points}"),
}
"""What was done, by the kind of its step."""

_LONGEST = 80  # letters of what was written in a cell that are shown


def steps_shown(place: MarkingPlace) -> Sequence[tuple[Step, str]]:
    """The last steps of a marking, the last first, each with what was done."""
    return [(step, _words(step)) for step in place.steps.last(_LAST)]


def _words(step: Step) -> str:
    return _(_DONE.get(step.kind, "…")).format_map(_Said(step.about))


class _Said(dict[str, str]):
    """What a step tells, not too long; what a journal does not tell is left open."""

    def __getitem__(self, key: str) -> str:
        told = self.get(key, "…")
        return told if len(told) <= _LONGEST else f"{told[:_LONGEST]}…"
