"""Malformed cells by the million through every reader of answers: nothing raises, nothing hangs, all have a reason.

    PYTHONPATH=. python tests/benchmarks/fuzz.py [--cells 1000000] [--seed 1] [--processes 2]

Prints what became of the cells and the longest that a single one took. Stops at the first cell that raises or
lacks a reason, and shows it.
"""

from __future__ import annotations

import argparse
import multiprocessing
import time
from collections import Counter
from typing import NamedTuple

from bench_table import note, print_table

from tests.support.malformed_cells import READERS, malformed_cells

_CHUNK = 10_000


class _Chunk(NamedTuple):
    """What became of one chunk: status counts, and seconds with the cell that took them, by reader."""

    statuses: dict[str, Counter[str]]
    longest: dict[str, tuple[float, str]]
    characters: int


def _read_chunk(task: tuple[int, int]) -> _Chunk:
    """Read one chunk with every reader; an exception names the cell."""
    seed, count = task
    statuses = {asked: Counter[str]() for asked in READERS}
    longest = dict.fromkeys(READERS, (0.0, ""))
    characters = 0
    for turn, cell in enumerate(malformed_cells(seed, count)):
        characters += len(cell)
        for asked, read in READERS.items():
            start = time.process_time()
            try:
                statuses[asked][read(cell, turn)] += 1
            except Exception as error:
                error.add_note(f"{asked}: {cell[:300]!r}")
                raise
            longest[asked] = max(longest[asked], (time.process_time() - start, cell))
    return _Chunk(statuses, longest, characters)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Malformed cells through every reader of answers.")
    parser.add_argument("--cells", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    return parser.parse_args()


def _print(chunks: list[_Chunk], cells: int, seconds: float) -> None:
    rows = []
    for asked in READERS:
        total = sum((chunk.statuses[asked] for chunk in chunks), Counter[str]())
        spent, cell = max(chunk.longest[asked] for chunk in chunks)
        told = ", ".join(f"{status} {count:,}" for status, count in total.most_common())
        rows.append((asked, f"{total.total():,}", told, f"{1000 * spent:.1f} ms", ascii(cell[:24])))
    print_table("Malformed cells", ("read as", "cells", "what became of them", "longest", "cell"), rows)
    characters = sum(chunk.characters for chunk in chunks)
    note(f"{cells:,} cells, {characters:,} characters, in {seconds:.0f} s: {cells / seconds:,.0f} cells/s.")
    note("Each cell was read in every way. No exception; a reason for each that was not read.")


def main() -> None:
    """Run it and print the figures."""
    options = _options()
    first = options.seed * 1_000_000
    tasks = [(first + at, min(_CHUNK, options.cells - at)) for at in range(0, options.cells, _CHUNK)]
    start = time.perf_counter()
    with multiprocessing.Pool(options.processes) as pool:
        chunks = list(pool.imap_unordered(_read_chunk, tasks))
    _print(chunks, options.cells, time.perf_counter() - start)


if __name__ == "__main__":
    main()
