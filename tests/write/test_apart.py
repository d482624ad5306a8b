"""Work that ends its process, or never ends, loses nothing but itself."""

from __future__ import annotations

import ctypes
import os
import time

from problemgen.write.apart import apart

SECONDS = 1.0


def work(job: str) -> str:
    """Does what the job says, as a library that reads a hostile file might."""
    if job == "exit":
        os._exit(3)
    if job == "crash":
        ctypes.string_at(0)
    if job == "sleep":
        time.sleep(60)
    if job == "hold":  # on to Python, as a library does that never lets go of it
        ctypes.PyDLL(None).sleep(60)
    if job == "memory":
        bytearray(1 << 33)
    return job.upper()


def done(*jobs: str) -> list[str]:
    return list(apart(work, [(job,) for job in jobs], SECONDS, "ended"))


def test_results_come_in_the_order_of_the_jobs() -> None:
    jobs = [f"page {number}" for number in range(30)]
    assert done(*jobs) == [job.upper() for job in jobs]


def test_no_job_at_all() -> None:
    assert done() == []


def test_a_job_that_ends_its_process_is_lost_alone() -> None:
    start = time.monotonic()
    assert done("a", "exit", "b", "crash", "c") == ["A", "ended", "B", "ended", "C"]
    assert done("d", "sleep", "e", "hold") == ["D", "ended", "E", "ended"]
    assert time.monotonic() - start < 30


def test_memory_has_a_limit() -> None:
    assert done("a", "memory", "b") == ["A", "ended", "B"]
