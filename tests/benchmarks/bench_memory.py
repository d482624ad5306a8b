"""Peak memory of making answers.json, of marking, of a whole build: each for two classes, in processes of their own."""

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
from problemgen.pipeline.build import build
from problemgen.pipeline.keeping import keeping
from problemgen.pipeline.mark import MarkingRequest, mark_set
from problemgen.pipeline.outlets.marking.outlet import FeedbackChoices

__all__ = ["memory"]

SMALL, LARGE = 200, 4_000
"""Students: 5,200 and 104,000 student-parts."""

BUILT = 120, 600
"""Students whose sheets are printed and bound: a class, and as many as take a minute."""

RESPONSES_FILE = "responses.csv"
_SET = "first-week"


def memory() -> None:
    """Print the peaks of both classes."""
    with tempfile.TemporaryDirectory() as name:
        folders = {count: Path(name) / str(count) for count in (SMALL, LARGE)}
        making = {count: _measured("make", folder, count) for count, folder in folders.items()}
        building = {count: _measured("build", Path(name) / f"built {count}", count) for count in BUILT}
        for folder in folders.values():
            write_responses(folder / ANSWERS_FILE, folder / RESPONSES_FILE)
        marking = {count: _measured("mark", folder, count) for count, folder in folders.items()}
    rows = []
    for what, measured in (
        ("answers.json, no sheets", making),
        ("marking, all tables and a page a student", marking),
        ("a whole build: the process that binds", building),
    ):
        (few, (small, small_time)), (many, (large, large_time)) = measured.items()
        spent = f"{small_time / few * 1e3:.1f} and {large_time / many * 1e3:.1f} ms a student"
        grown = f"{(large - small) / (many - few) * 1e3:.0f} kB"
        rows.append(
            (what, f"{few} and {many:,}", f"{small:.0f} and {large:.0f} MB", times(large / small), grown, spent)
        )
    header = ("peak memory", "students", "", "ratio", "one more", "time")
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
    elif what == "build":
        with keeping():  # as the command line does
            build(_SET, folder, count=count)
    else:
        choices = FeedbackChoices(pdf=False)
        request = MarkingRequest(folder, (folder / RESPONSES_FILE,), folder / "grades", feedback=choices)
        mark_set(request, lambda *_: None)
    seconds = time.perf_counter() - start
    kilobytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    sys.stdout.write(f"{kilobytes / 1024} {seconds}\n")


if __name__ == "__main__":
    _run(sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]))
