"""answers.json of a large class in a moment: five weighings, each with a part of its own, drawn and not judged."""

from __future__ import annotations

from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.draws import fingerprint, sheet_code
from problemgen.make.variants import variant_from
from problemgen.model.answers import KeyHead, StudentKey
from problemgen.model.problem_set import Issued, Student
from problemgen.pipeline.built import SECRET_FILE
from problemgen.plan.forms import form_of
from problemgen.render.key.answers import AnswerLines
from tests.support.small_set import SECRET, small_set

__all__ = ["WEIGHINGS", "many_answers", "many_students", "right_cells"]

_SUBSTANCES = ("salicylic-acid", "sodium-chloride", "copper-ii-sulfate", "potassium-chromate", "silver-nitrate")

WEIGHINGS = "\n".join(
    [
        'title = "Weighings"\ntopic = "t"\ndifficulty = 1',
        *(
            f'[given.{name}]\nmass = {{ from = 1.000, to = 3.000, unit = "g", read = "balance-0.001" }}'
            for name in _SUBSTANCES
        ),
        *(f'[[part]]\nquantity = "amount"\nof = "{name}"\nunit = "mmol"' for name in _SUBSTANCES),
    ]
)

_HEAD = """title = "Many"
course = "C"
[[sheet]]
session = 1
title = "One"
[[problem]]
template = "weighings"
"""


def many_students(count: int) -> tuple[Student, ...]:
    """So many students, with ids and names that occur nowhere else: roster-0001, Quillon Ferrant 1, …"""
    return tuple(Student(f"roster-{n:04d}", f"Quillon Ferrant {n}", "A") for n in range(1, count + 1))


def many_answers(folder: Path, count: int) -> Path:
    """The folder with the answers.json of so many students."""
    problem_set = small_set(folder, templates={"weighings": WEIGHINGS}, head=_HEAD)
    ((template,),) = (problem.templates for problem in problem_set.problems)
    students = many_students(count)
    candidates = draw_candidates(
        template, Stream(SECRET, problem_set.id, "p1"), [student.id for student in students], 0, 1
    )
    built = folder / "built"
    built.mkdir()
    lines = AnswerLines(SECRET)
    (built / SECRET_FILE).write_bytes(SECRET)
    with (built / ANSWERS_FILE).open("wb") as file:
        file.write(lines.opening(problem_set, {"set.toml": "0" * 64}, issued=Issued(fingerprint(SECRET))))
        for row, student in enumerate(students):
            variant = variant_from(template, candidates, row, student.id, "p1")
            file.write(lines.student(student, sheet_code(SECRET, "", problem_set.id, student.id), (variant,)))
        file.write(lines.closing())
    return built


def right_cells(head: KeyHead, key: StudentKey) -> dict[str, str]:
    """A student's right answers by column, as the key prints them."""
    return {
        f"{problem.problem.removeprefix('p')}{part.label}": form_of(part.asked).text(
            template.scene, part.asked, problem.truths[part.id]
        )
        for problem in key.problems
        for template in (head.templates[problem.template],)
        for part in template.parts
    }
