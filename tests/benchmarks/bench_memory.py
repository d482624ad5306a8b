"""Peak memory of making answers.json and of marking, for a small and a large class, each in a process of its own."""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench_class import write_answers, write_responses
from bench_table import note, print_table, times

from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices

__all__ = ["memory"]

SMALL, LARGE = 200, 4_000
"""Students: 5,200 and 104,000 student-parts."""

RESPONSES_FILE = "responses.csv"


def memory() -> None:
    """Print the peaks of both classes."""
    with tempfile.TemporaryDirectory() as name:
        folders = {count: Path(name) / str(count) for count in (SMALL, LARGE)}
        making = {count: _measured("make", folder, count) for count, folder in folders.items()}
        for folder in folders.values():
            write_responses(folder / ANSWERS_FILE, folder / RESPONSES_FILE)
        marking = {count: _measured("mark", folder, count) for count, folder in folders.items()}
    rows = []
    for what, measured in (("answers.json, no sheets", making), ("marking, all tables and a page a student", marking)):
        (small, small_time), (large, large_time) = measured[SMALL], measured[LARGE]
        spent = f"{small_time / SMALL * 1e3:.1f} and {large_time / LARGE * 1e3:.1f} ms a student"
        rows.append((what, f"{small:.0f} MB", f"{large:.0f} MB", times(large / small), spent))
    header = ("peak memory", f"{SMALL} students", f"{LARGE:,} students", "ratio", "time")
    print_table("Memory", header, rows)
    note("Resident set of the whole process, interpreter and libraries included.")


def _measured(what: str, folder: Path, count: int) -> tuple[float, float]:
    """Megabytes and seconds of one run in a new process."""
    folder.mkdir(exist_ok=True)
    command = [sys.executable, __file__, what, str(folder), str(count)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)  # noqa: S603 - our own interpreter and file
    megabytes, seconds = done.stdout.split()
    return float(megabytes), float(seconds)


def _run(what: str, folder: Path, count: int) -> None:
    start = time.perf_counter()
    if what == "make":
        write_answers(folder, count)
    else:
        choices = FeedbackChoices(pdf=False)
        request = MarkingRequest(folder, (folder / RESPONSES_FILE,), folder / "grades", feedback=choices)
        mark_set(request, lambda *_: None)
    seconds = time.perf_counter() - start
    kilobytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    sys.stdout.write(f"{kilobytes / 1024} {seconds}\n")


if __name__ == "__main__":
    _run(sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]))
