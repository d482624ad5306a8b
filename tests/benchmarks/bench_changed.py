"""From a template's changed file to its sheet on a screen, in a process that has made others before."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from bench_table import note, print_table

from problemgen.load.banks.banks import load_banks
from problemgen.load.resources import banks_folder, layouts, templates_folder
from problemgen.load.sets.courses import template_ids
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.banks import Banks
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, SetProblem, Sheet, Student
from problemgen.model.template import Template
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import sheet_document
from problemgen.write.pdf import Job, Press

__all__ = ["changed_template"]

TEMPLATES = (
    *("gases/weighing-a-gas", "titrations/borax", "yield/cyclohexene", "isomers/methylcyclohexenes"),
    *("limiting-reagent/silver-chromate", "preparations/aspirin", "sequences/benzil-from-benzaldehyde"),
    "preparations/triphenylmethanol",
)
RUNS = 3
STEPS = ("load", "make", "document and data", "Typst, as SVG")


def changed_template() -> None:
    """Print the processor time of each step, for several templates."""
    banks, press, ids = load_banks(banks_folder()), Press(layouts()), template_ids(templates_folder())
    rows = []
    with TemporaryDirectory() as folder:
        for name in TEMPLATES:
            runs = [list(_steps(ids[name], Path(folder), run, banks, press)) for run in range(RUNS + 1)]
            first, least = sum(runs[0]), [min(step) for step in zip(*runs[1:], strict=True)]
            rows.append((name, *map(_milliseconds, (*least, sum(least), first))))
    print_table("A changed template on a screen (processor time)", ("", *STEPS, "all", "the first time"), rows)
    note("One student's sheet. The first time, laws are solved that no template before had; banks are loaded already.")


def _milliseconds(seconds: float) -> str:
    return f"{seconds * 1e3:.0f} ms"


def _steps(path: Path, folder: Path, run: int, banks: Banks, press: Press) -> Iterator[float]:
    """Seconds that each of `STEPS` takes."""
    changed = folder / f"{run}.toml"
    changed.write_text(path.read_text("utf-8").replace('title = "', f'title = "{"Once more " * run}', 1), "utf-8")
    start = time.process_time()
    template = load_template(changed, path.stem, banks)
    yield time.process_time() - start
    start = time.process_time()
    (variant,) = Maker(template, Stream(b"a secret for benchmarks", "changed", "p1")).variants([f"s{run}"])
    yield time.process_time() - start
    start = time.process_time()
    student = Student(f"s{run}", "Ada", "")
    data = sheet_data(sheet_document(_set_of(template), student, student.name, student.id, (variant,)))
    yield time.process_time() - start
    start = time.process_time()
    press.pictures(Job(student.id, data))
    yield time.process_time() - start


def _set_of(template: Template) -> ProblemSet:
    sheets = tuple(Sheet(number, f"Sheet {number}") for number in range(1, template.sessions + 1))
    problems = (SetProblem("p1", template.id, (template,)),)
    return ProblemSet("changed", "S", "C", "", "en", "a4", ".", sheets, problems, Policy(), None)
