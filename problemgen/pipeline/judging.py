"""Judging the papers of a class, on several processors where there are many of them."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future
from itertools import islice
from typing import TypeAlias

from problemgen.grade.judging.meant import judge_meant
from problemgen.grade.judging.own_data import with_own_data
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.means import Means
from problemgen.model.verdict import StudentResult
from problemgen.write.processes import helpers, packed_once, unpacked

__all__ = ["judged_papers", "processors"]

_Paper: TypeAlias = tuple[StudentKey, Mapping[str, str]]
_Judged: TypeAlias = tuple[StudentKey, StudentResult]

_POOL_FROM = 2000
"""Fewer papers are judged sooner by this process alone.

Worked out from processor time, for two processes on two processors: they take 1.6 s each to load the program and see
each problem once, and with what is handed to and fro 5.6 ms a paper of 25 answers, where one process takes 3.6 ms.
"""

_PIECE = 20
"""Papers handed to a process at once: a tenth of a second's work or more, so that handing over costs little."""


def processors() -> int:
    """How many processes share the work where nobody says."""
    return os.cpu_count() or 1


def judged_papers(head: KeyHead, means: Means, papers: Iterable[_Paper], count: int, workers: int) -> Iterator[_Judged]:
    """Judge papers, in their order: each student's key, with own data read, and the result.

    `count` is how many there are. They are taken as they are needed, so that memory stays flat; which process judges
    one makes no difference.
    """
    if workers < 2 or count < _POOL_FROM:
        yield from (_judged(head, means, paper) for paper in papers)
        return
    ahead, packed = iter(papers), packed_once((head, means))
    running: deque[Future[list[_Judged]]] = deque()
    with helpers(workers) as pool:
        while piece := list(islice(ahead, _PIECE)):
            running.append(pool.submit(_judged_piece, packed, piece))
            if len(running) > 2 * workers:
                yield from running.popleft().result()
        while running:
            yield from running.popleft().result()


def _judged_piece(packed: bytes, papers: Sequence[_Paper]) -> list[_Judged]:
    """Judge some papers in another process."""
    head, means = unpacked(packed)
    return [_judged(head, means, paper) for paper in papers]


def _judged(head: KeyHead, means: Means, paper: _Paper) -> _Judged:
    key, cells = paper
    key = with_own_data(head, key, means.in_parts(cells))
    return key, judge_meant(head, key, cells, means)
