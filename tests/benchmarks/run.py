"""Benchmarks: ratios against a baseline stated beside them and measured in the same run.

    PYTHONPATH=. python tests/benchmarks/run.py [SECTION …]     sections as in `_SECTIONS`; all, for none

Nothing here is a test, and nothing passes or fails by the clock.
"""

from __future__ import annotations

import argparse

from bench_cells import cells
from bench_changed import changed_template
from bench_desk import desk_marking
from bench_making import making
from bench_marking import marking
from bench_memory import memory
from bench_practice import practice_page
from bench_printing import printing
from bench_returns import returns
from bench_rows import rows
from bench_scans import scans
from bench_strangers import strangers

_SECTIONS = {
    "making": making,
    "printing": printing,
    "changed": changed_template,
    "marking": marking,
    "desk": desk_marking,
    "memory": memory,
    "cells": cells,
    "rows": rows,
    "strangers": strangers,
    "practice": practice_page,
    "returns": returns,
    "scans": scans,
}


def main() -> None:
    """Run the sections named, or all."""
    parser = argparse.ArgumentParser(description="Ratios against baselines measured in the same run.")
    parser.add_argument("sections", nargs="*", metavar="SECTION", help=f"of {', '.join(_SECTIONS)}; all, for none")
    wanted = parser.parse_args().sections or list(_SECTIONS)
    unknown = sorted(set(wanted) - set(_SECTIONS))
    if unknown:
        parser.error(f"no section {', '.join(unknown)}; there are {', '.join(_SECTIONS)}")
    for section in wanted:
        _SECTIONS[section]()


if __name__ == "__main__":
    main()
