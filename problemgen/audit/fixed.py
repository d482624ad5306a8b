"""What fixed tolerances around the exact answers would do, with numbers drawn blindly: for comparison."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np

from problemgen.audit.acceptance import Acceptance, Masks, by_tolerances
from problemgen.audit.records import FixedTolerance
from problemgen.audit.students import Group
from problemgen.audit.ways import Way

__all__ = ["TOLERANCES", "fixed_tolerances"]

TOLERANCES = (0.01, 0.02, 0.05)
"""The shares of the exact answer that are compared: what courses set by hand, common practice, no source."""


def fixed_tolerances(groups: Iterable[Group], ways: Sequence[Way]) -> tuple[FixedTolerance, ...]:
    """The same students at work on numbers as they are drawn, marked by fixed tolerances."""
    tallies: list[Counter[str]] = [Counter() for _ in TOLERANCES]
    for group in groups:
        with np.errstate(all="ignore"):
            _count(group, ways, tallies)
    return tuple(FixedTolerance(share, **tally) for share, tally in zip(TOLERANCES, tallies, strict=True))


def _count(group: Group, ways: Sequence[Way], tallies: Sequence[Counter[str]]) -> None:
    acceptance = by_tolerances(group.template, group.kept, TOLERANCES)
    honest = acceptance.of_all(group.worker, group.worker.workings)
    _add(tallies, "students", [group.students] * len(TOLERANCES))
    _add(tallies, "refused", np.count_nonzero(~honest, axis=1))
    _add(tallies, "lucky", np.count_nonzero(_mistaken(group, acceptance, ways, tallies), axis=1))


def _mistaken(group: Group, acceptance: Acceptance, ways: Sequence[Way], tallies: Sequence[Counter[str]]) -> Masks:
    """Count who makes which mistake and is rewarded; returns whose numbers reward any, by tolerance."""
    honest = acceptance.honest(group.worker)
    lucky = np.zeros((len(TOLERANCES), group.students), dtype=np.bool_)
    for way in ways:
        accepted, made = acceptance.of_mistaken(group.worker, way.rewrites, way.steps, honest)
        _add(tallies, "mistakes", [int(np.count_nonzero(made))] * len(TOLERANCES))
        _add(tallies, "rewarded", np.count_nonzero(accepted & made, axis=1))
        lucky |= accepted & made
    return lucky


def _add(tallies: Sequence[Counter[str]], name: str, numbers: Iterable[int]) -> None:
    for tally, number in zip(tallies, numbers, strict=True):
        tally[name] += int(number)
