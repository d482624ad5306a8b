"""A small set with numbers known beforehand: answers.json without printing a sheet.

Every given value is a choice of one, so that the numbers are those written here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.banks.banks import load_banks
from problemgen.load.sets.courses import template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.draws import fingerprint, sheet_code
from problemgen.make.tolerances import Tolerances
from problemgen.make.variants import variant_from
from problemgen.model.banks import Banks
from problemgen.model.problem_set import Issued, ProblemSet, Student
from problemgen.model.variant import Variant
from problemgen.pipeline.built import SECRET_FILE
from problemgen.render.key.answers import AnswerLines

__all__ = ["CHROMATE", "ESTER", "STUDENTS", "banks", "made", "small_set", "write_answers"]

ROOT = Path(__file__).resolve().parents[2]
SECRET = b"three glass beads"

CHROMATE = """title = "Silver chromate"
topic = "t"
difficulty = 2
reaction = "silver-chromate"
[given.silver-nitrate]
volume = { choose = [25.00], unit = "mL" }
concentration = { choose = [0.1000], unit = "mol/L" }
[given.potassium-chromate]
volume = { choose = [20.00], unit = "mL" }
concentration = { choose = [0.1000], unit = "mol/L" }
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "amount"
from = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
unit = "mg"
points = 2
[[part]]
quantity = "amount"
of = "potassium-chromate"
role = "left"
unit = "mmol"
"""
"""2 AgNO3 + K2CrO4: 2.500 and 2.000 mmol, so 1.250 and 2.000 mmol of product; 414.7 mg; 0.750 mmol left."""

ESTER = """title = "Isopentyl acetate"
topic = "t"
difficulty = 2
reaction = "isopentyl-acetate"
[given.isopentyl-alcohol]
volume = { choose = [5.00], unit = "mL" }
[given.acetic-acid]
in_excess = true
[given.isopentyl-acetate.actual]
mass = { choose = [4.20], unit = "g" }
[[part]]
quantity = "mass"
of = "isopentyl-alcohol"
[[part]]
quantity = "amount"
of = "isopentyl-alcohol"
[[part]]
quantity = "mass"
unit = "g"
points = 2
[[part]]
quantity = "percent_yield"
points = 2
"""
"""One to one: 5.00 mL of the alcohol, its theoretical yield of the ester, 4.20 g obtained."""

HEAD = """title = "Small"
course = "C"
[[sheet]]
session = 1
title = "One"
[[problem]]
template = "chromate"
[[problem]]
template = "ester"
"""
STUDENTS = (Student("s1", "Ada", "A"), Student("s2", "Bea", "B"))


@cache
def banks() -> Banks:
    return load_banks(ROOT / "banks")


def small_set(folder: Path, more: str = "", templates: Mapping[str, str] | None = None, head: str = HEAD) -> ProblemSet:
    """The set of the two templates above, or of others; `more` is added to set.toml, for a policy."""
    (folder / "templates").mkdir(parents=True, exist_ok=True)
    for name, text in (templates or {"chromate": CHROMATE, "ester": ESTER}).items():
        (folder / "templates" / f"{name}.toml").write_text(text, encoding="utf-8")
    (folder / "small").mkdir(exist_ok=True)
    (folder / "small" / "set.toml").write_text(head + more, encoding="utf-8")
    return load_set(folder / "small", template_ids(folder / "templates"), banks())


def made(problem_set: ProblemSet, student: str) -> tuple[Variant, ...]:
    """A student's variants: the first candidate of each problem, admissible or not."""
    variants = []
    for problem in problem_set.problems:
        (template,) = problem.templates
        stream = Stream(SECRET, problem_set.id, problem.id)
        candidates = draw_candidates(template, stream, [student], 0, 1)
        variant = replace(variant_from(template, candidates, 0, student, problem.id), own=problem.own)
        variants.append(Tolerances().applied(variant, problem.policies))
    return tuple(variants)


def write_answers(
    folder: Path,
    problem_set: ProblemSet,
    students: Iterable[Student] = STUDENTS,
    made_from: str = "",
    roster_columns: Sequence[str] = (),
) -> Path:
    """answers.json of a set, with its secret beside it; `made_from` is the set's folder as seen from there."""
    numbers = {one.name: int(one.id.removeprefix("p")) for one in problem_set.problems}
    issued = Issued(fingerprint(SECRET), problem_set.term, numbers)
    lines = AnswerLines(SECRET)
    (folder / SECRET_FILE).write_bytes(SECRET)
    path = folder / ANSWERS_FILE
    with path.open("wb") as file:
        file.write(lines.opening(problem_set, {"set.toml": "0" * 64}, made_from, roster_columns, issued))
        for student in students:
            code = sheet_code(SECRET, "", problem_set.id, student.id)
            file.write(lines.student(student, code, made(problem_set, student.id)))
        file.write(lines.closing())
    return path
