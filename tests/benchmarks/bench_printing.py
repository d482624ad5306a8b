"""Sheets as PDF, against bare Typst on the same sources: one compiler, and one in each of two processes."""

from __future__ import annotations

import json
import multiprocessing
import os
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from tempfile import TemporaryDirectory
from typing import Any

import typst
from bench_class import Made, example_set, made
from bench_table import best_of, note, print_table, times

from problemgen.load.resources import layouts
from problemgen.model.problem_set import ProblemSet
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import sheet_document
from problemgen.write.fonts import font_families, fonts
from problemgen.write.pdf import Job, compile_all

__all__ = ["printing"]

STUDENTS = 120
RUNS = 2

Sources = Mapping[str, bytes]


def printing() -> None:
    """Print the figures of one class's sheets."""
    problem_set = example_set()
    seconds, students = best_of(lambda: list(made(problem_set, STUDENTS)), 2)
    documents, jobs = best_of(lambda: [_job(problem_set, one) for one in students], 2)
    texts = layouts()
    data = [json.dumps(job.data).encode() for job in jobs]
    with TemporaryDirectory() as root:
        measured = _in_turn(
            lambda: _bare(_sources(texts), data, root),
            lambda: _bare_pair(_sources(texts), data, root),
            lambda: sum(1 for _ in compile_all(jobs, texts)),
            lambda: sum(1 for _ in compile_all((_job(problem_set, one) for one in students), texts)),
        )
    names = (
        "bare Typst, one compiler",
        "bare Typst, two processes",
        "compile_all, data at hand",
        "compile_all, data made meanwhile",
    )
    (alone, alone_cpu), (pair, _), *_ = measured
    rows = [
        (
            name,
            _rate(wall),
            times(alone / wall),
            times(pair / wall),
            f"{cpu / STUDENTS * 1e3:.1f} ms",
            times(alone_cpu / cpu),
        )
        for name, (wall, cpu) in zip(names, measured, strict=True)
    ]
    header = ("", "sheets/s", "of one", "of two", "processor time a sheet", "of one")
    print_table("Sheets as PDF", header, rows)
    note(f"{STUDENTS} sheets; the start of processes counts. Before Typst, a sheet takes: variants of all problems")
    note(f"{seconds / STUDENTS * 1e3:.2f} ms, the document and its data {documents / STUDENTS * 1e3:.2f} ms.")
    note("On a machine that is busy with other things, the processor time tells more than the rate.")


def _rate(seconds: float) -> str:
    return f"{STUDENTS / seconds:.1f}"


def _in_turn(*works: Callable[[], int]) -> list[tuple[float, float]]:
    """The least time and processor time of each, in seconds; each round runs all: a busy machine slows all alike."""
    rounds = [[_measured(work) for work in works] for _ in range(RUNS)]
    return [(min(wall for wall, _ in one), min(cpu for _, cpu in one)) for one in zip(*rounds, strict=True)]


def _measured(work: Callable[[], int]) -> tuple[float, float]:
    """Seconds on the clock, and of the processors in this process and those it waited for."""
    wall, cpu = time.perf_counter(), _processor()
    work()
    return time.perf_counter() - wall, _processor() - cpu


def _processor() -> float:
    spent = os.times()
    return spent.user + spent.system + spent.children_user + spent.children_system


def _job(problem_set: ProblemSet, one: Made) -> Job:
    student, variants = one
    return Job(student.id, sheet_data(sheet_document(problem_set, student, student.name, student.id, variants)))


def _sources(texts: Mapping[str, str]) -> Sources:
    sources = {name: text.encode() for name, text in texts.items() if name.endswith(".typ")}
    sources["main.typ"] = sources.pop("sheet.typ")
    sources["fonts.json"] = json.dumps(font_families()).encode()
    return sources


def _bare(sources: Sources, data: Sequence[bytes], root: str) -> int:
    """All sheets with one compiler; the bytes of them."""
    compiler = typst.Compiler(root=root, font_paths=fonts())
    size = 0
    for one in data:
        files: Any = {**sources, "data.json": one}
        pdf = compiler.compile(input=files, pdf_standards=["ua-1"])
        size += len(pdf) if isinstance(pdf, bytes) else 0
    return size


def _bare_pair(sources: Sources, data: Sequence[bytes], root: str) -> int:
    """The same, half of the sheets in each of two new processes."""
    with ProcessPoolExecutor(2, multiprocessing.get_context("spawn")) as pool:
        halves = [pool.submit(_bare, sources, data[turn::2], root) for turn in range(2)]
        return sum(half.result() for half in halves)
