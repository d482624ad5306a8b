"""Judging the papers of a class, on several processors where there are many of them."""

from __future__ import annotations

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
from problemgen.write.processes import helpers, packed_once, rarely_collecting, unpacked

__all__ = ["judged_papers"]

_Paper: TypeAlias = tuple[StudentKey, Mapping[str, str]]
_Judged: TypeAlias = tuple[StudentKey, StudentResult]

_POOL_FROM = 2000
"""Fewer papers are judged sooner by this process alone: the others take 1.6 s to load the program.

Measured on two quiet processors with 3,200 papers of 25 answers, one process and two: a class as it comes 12.4 and
9.0 s; all wrong 38 and 20 s; all right 4.2 and 5.5 s, since what is quickly judged costs as much to hand over.
"""

_PIECE = 40
"""Papers handed to a process at once: a tenth of a second's work of a class as it comes."""


def judged_papers(head: KeyHead, means: Means, papers: Iterable[_Paper], count: int, workers: int) -> Iterator[_Judged]:
    """Judge papers, in their order: each student's key, with own data read, and the result.

    `count` is how many there are. They are taken as they are needed, so that memory stays flat; which process judges
    one makes no difference.
    """
    ready = ((with_own_data(head, key, means.in_parts(cells)), cells) for key, cells in papers)
    if workers < 2 or count < _POOL_FROM:
        yield from ((key, judge_meant(head, key, cells, means)) for key, cells in ready)
        return
    packed = packed_once((head, means))
    running: deque[tuple[Sequence[_Paper], Future[list[StudentResult]]]] = deque()
    with helpers(workers, rarely_collecting) as pool:
        while piece := list(islice(ready, _PIECE)):
            running.append((piece, pool.submit(_judged_piece, packed, piece)))
            if len(running) > 2 * workers:
                yield from _joined(*running.popleft())
        while running:
            yield from _joined(*running.popleft())


def _joined(papers: Sequence[_Paper], results: Future[list[StudentResult]]) -> Iterator[_Judged]:
    return zip((key for key, _ in papers), results.result(), strict=True)


def _judged_piece(packed: bytes, papers: Sequence[_Paper]) -> list[StudentResult]:
    """Judge some papers in another process."""
    head, means = unpacked(packed)
    return [judge_meant(head, key, cells, means) for key, cells in papers]
