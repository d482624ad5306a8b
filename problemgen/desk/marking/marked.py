"""The marking of a class as it is just now, kept as long as nothing that it hangs on has changed."""

from __future__ import annotations

import threading
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from problemgen.desk.marking.place import MarkingPlace, State
from problemgen.pipeline.explain import Explained, ExplanationRequest, explained
from problemgen.pipeline.mark import MarkingRequest
from problemgen.pipeline.overview import Overview, overview

__all__ = ["explanation_of", "overview_of", "request_of", "tried"]

_GUARD = threading.Lock()
"""Several tabs ask at once, and a class is marked for one of them only."""


def request_of(place: MarkingPlace) -> MarkingRequest:
    """What is marked: all tables that came back, by the decisions beside the answers."""
    return MarkingRequest(place.built, place.tables, place.grades, replace=True)


def overview_of(place: MarkingPlace) -> Overview | None:
    """The class as it is marked now; None where nothing came back. Raises what marking raises."""
    if not place.tables:
        return None
    with _GUARD:
        return _overview(request_of(place), place.state)


@lru_cache(maxsize=4)
def _overview(request: MarkingRequest, _state: State) -> Overview:
    return overview(request)


def tried(place: MarkingPlace, *, means: Path) -> Overview:
    """The class as it would be marked with other meanings of cells. Raises what marking raises."""
    return overview(replace(request_of(place), means=means))


def explanation_of(place: MarkingPlace, student: str, attempt: int, part: str) -> Explained:
    """Why a part of a student's was marked as it was. Raises FaultsError, also for no such student or part."""
    with _GUARD:
        return _explained(ExplanationRequest(place.built, place.tables, student, part, attempt=attempt), place.state)


@lru_cache(maxsize=32)
def _explained(request: ExplanationRequest, _state: State) -> Explained:
    return explained(request)
