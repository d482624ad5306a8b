"""A class of invented students at work on a built set, and the responses.csv that their instructor gets.

python tests/support/simulated_class.py OUTPUT_FOLDER RESPONSES.csv

Each student is one kind of worker, and what each meant by each cell is known: `Simulated.intentions` tells it, so
that a marking can be measured. All draws are bytes of SHAKE-256 over their names: the same set gives the same file.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import round_to_figures, round_to_place
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey
from problemgen.model.expression import Expression
from problemgen.model.plan import Mistake, Step
from problemgen.model.problem import Species
from problemgen.model.quantity import Quantity, kind_named
from problemgen.model.truths import number_in
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import evaluate, window_values
from problemgen.plan.windows import given_window
from tests.support.handwriting import bare_number, drawn, number, reagent

__all__ = ["Intention", "Simulated", "simulate", "write_responses"]

EXTENT = "extent()"
_EXACT = Exact()
_MISTAKEN = 50  # students among whom the mistakes of the plans are dealt out, two each at most
_ABSENT_EVERY = 15  # one student in so many hands nothing in

_OTHERS = (
    *("slip early", "wrong limiting", "power of ten", "slip early", "wrong limiting", "other quantity"),
    *("hurried", "talkative", "coarse", "exuberant", "one habit", "one habit", "bullets"),
)
"""What the students after those with a usual mistake are, in turn; between them stand the careful ones."""

_HABITS = ("molar-mass-inverted", "density-forgotten", "percent-left-out", "ratio-left-out", "millilitres-as-litres")
_REMARKS = (
    "see my notebook",
    "forgot calculator :(",
    "same as 1a??",
    "34.6 or 43.6",
    "0.3·12.5",
    "ask a friend",
    "<5",
)


@dataclass(frozen=True)
class Intention:
    """What a student meant by a cell.

    kind: "honest"; "mistake" (the first part that a usual mistake touches) and "consequence" (later ones);
    "own slip" and "followed"; "wrong choice"; "power of ten"; "other quantity"; "coarse"; "bullet"; "remark"; "blank".
    mistake: the id of the mistake made, "" for none. wrote: the cell.
    """

    kind: str
    mistake: str
    wrote: str


@dataclass(frozen=True)
class Simulated:
    """The rows of the file, header first, and every cell's intention by student and column."""

    rows: tuple[tuple[str, ...], ...]
    intentions: Mapping[tuple[str, str], Intention]
    workers: Mapping[str, str]


@dataclass(frozen=True)
class _Work:
    """One way to work a problem: rewritten steps, values put in, and how results are rounded."""

    extra: int | None  # figures kept beyond those of the data; None keeps all
    places: int  # decimals of molar masses and atomic weights
    earlier: bool  # atomic weights of an earlier table
    rewrites: Mapping[str, Expression] = field(default_factory=dict)
    replaced: Mapping[str, Fraction] = field(default_factory=dict)


@dataclass(frozen=True)
class _Task:
    """One problem of one student."""

    student: str
    template: TemplateKey
    problem: ProblemKey

    @property
    def number(self) -> str:
        """The problem's number in the columns."""
        return self.problem.problem.removeprefix("p")

    def chooses(self, part: PartKey) -> bool:
        """Whether a reagent is asked for, not a number."""
        return part.asked.form == "species"


# working a problem


def _worked(task: _Task, work: _Work) -> dict[str, Fraction]:
    """All values of a problem in engine units, each rounded as this worker rounds."""
    plan = task.template.plan
    given = {
        name: given_window(datum.written.value, datum.written.place, read_unit(datum.unit), _EXACT, kind_named(name))
        for name, datum in task.problem.given.items()
    }
    figures = {name: window.figures for name, window in window_values(plan, given, _EXACT).items()}
    known = {name: window.value for name, window in given.items()}
    for constant in plan.constants:
        weight = constant.low if work.earlier else constant.value
        known[constant.quantity.id] = round_to_place(weight, -work.places)
    known.update(work.replaced)
    for step in plan.steps:
        if step.quantity.id not in work.replaced:
            value = evaluate(work.rewrites.get(step.quantity.id, step.expression), known, _EXACT)
            known[step.quantity.id] = _kept(step, value, figures[step.quantity.id], work)
    return known


def _kept(step: Step, value: Fraction, figures: int, work: _Work) -> Fraction:
    if work.extra is None or step.rounding == "none":
        return value
    if step.rounding == "molar mass":
        return round_to_place(value, -work.places)
    return round_to_figures(value, max(3, figures) + work.extra)


def _chosen(task: _Task, values: Mapping[str, Fraction]) -> str:
    """The reagent whose extent this worker went on with."""
    extents = {source: values[Quantity("extent", source).id] for source in task.template.plan.sources}
    return min(extents, key=lambda source: abs(extents[source] - values[EXTENT]))


def _differs(task: _Task, part: PartKey, values: Mapping[str, Fraction], right: Mapping[str, Fraction]) -> bool:
    if task.chooses(part):
        return _chosen(task, values) != _chosen(task, right)
    mine, true = values[part.asked.quantity.id], right[part.asked.quantity.id]
    return abs(mine - true) > abs(true) / 10**9


def _touched(task: _Task, work: _Work) -> list[PartKey]:
    """The parts that a way of working changes, apart from rounding."""
    right = _worked(task, _Work(None, 9, earlier=False))
    mine = _worked(task, _Work(None, 9, earlier=False, rewrites=work.rewrites, replaced=work.replaced))
    return [part for part in task.template.parts if _differs(task, part, mine, right)]


# the workers


def _habits(student: str) -> _Work:
    """How a student rounds, within what an honest worker may do."""
    extra = (0, 1, 2, None)[drawn(4, "extra", student)]
    return _Work(extra, 2 + drawn(2, "places", student), earlier=not drawn(4, "earlier", student))


def _figures(task: _Task, part: PartKey, work: _Work) -> int:
    """The figures an answer is written with: all that the worker kept, or those of the data or one more."""
    kept = number_in(task.problem.truths[part.id]).figures
    if work.extra is None:
        return kept + drawn(2, "figures", task.student, task.number, part.id)
    return max(3, kept) + work.extra


def _number(task: _Task, part: PartKey, value: Fraction, figures: int) -> str:
    species = task.template.scene.species.get(part.asked.quantity.of)
    names = (task.student, task.number, part.id)
    engine = read_unit(part.asked.unit).from_engine(value)
    return number(engine, figures, part.asked.unit, _written(species) if species else "", names)


def _choice(task: _Task, chosen: str) -> str:
    species = task.template.scene.species[chosen]
    return reagent(species.names[0], _written(species), (task.student, task.number))


def _written(species: Species) -> str:
    return species.formula.text if species.formula is not None else ""


def _cells(task: _Task, work: _Work, kinds: Callable[[PartKey, bool], Intention]) -> Iterator[tuple[str, Intention]]:
    """A problem worked in one way; `kinds` tells what a part means, whether it was touched or not."""
    values = _worked(task, work)
    touched = _touched(task, work)
    for part in task.template.parts:
        meant = kinds(part, part in touched)
        if task.chooses(part):
            wrote = _choice(task, _chosen(task, values))
        else:
            wrote = _number(task, part, values[part.asked.quantity.id], _figures(task, part, work))
        yield f"{task.number}{part.label}", Intention(meant.kind, meant.mistake, wrote)


def _honest(task: _Task) -> dict[str, Intention]:
    return dict(_cells(task, _habits(task.student), lambda _part, _touched: Intention("honest", "", "")))


def _astray(task: _Task, work: _Work, first: str, later: str, cause: str) -> dict[str, Intention]:
    """A problem gone wrong at some step: the parts touched first, and those that build on them."""
    parts = [part.asked.quantity for part in _touched(task, work)]
    extents = {Quantity("extent", quantity.source).id for quantity in parts if quantity.source}
    touched = {quantity.id for quantity in parts} | extents

    def kind(part: PartKey, off: bool) -> Intention:
        if not off:
            return Intention("honest", "", "")
        reagent = part.asked.quantity.source
        own = {part.asked.quantity.id, *((Quantity("extent", reagent).id,) if reagent else ())}
        before = {step.quantity.id for step in task.template.plan.steps_to(part.asked.quantity.id)} - own
        return Intention(first if before.isdisjoint(touched) else later, cause, "")

    return dict(_cells(task, work, kind))


def _with(student: str, rewrites: Mapping[str, Expression], replaced: Mapping[str, Fraction] | None = None) -> _Work:
    habits = _habits(student)
    return _Work(habits.extra, habits.places, habits.earlier, rewrites, replaced or {})


def _mistaken(task: _Task, mistake: Mistake) -> dict[str, Intention]:
    return _astray(task, _with(task.student, dict(mistake.rewrites)), "mistake", "consequence", mistake.id)


def _habitual(task: _Task, habit: str) -> dict[str, Intention]:
    """The same usual mistake wherever it can be made."""
    mistakes = [m for m in task.template.plan.mistakes if m.id.partition(":")[0] == habit]
    rewrites: dict[str, Expression] = {}
    for name, expression in (rewrite for mistake in mistakes for rewrite in mistake.rewrites):
        rewrites.setdefault(name, expression)
    return _astray(task, _with(task.student, rewrites), "mistake", "consequence", habit)


def _slipped(task: _Task) -> dict[str, Intention]:
    """A slip of the calculator in the first number asked, and all the rest worked from it."""
    first = task.template.parts[0].asked.quantity.id
    wrong = round_to_figures(_worked(task, _habits(task.student))[first] * Fraction(118, 100), 3)
    return _astray(task, _with(task.student, {}, {first: wrong}), "own slip", "followed", "")


def _other_limit(task: _Task) -> dict[str, Intention]:
    """Another reagent taken as limiting, and the yield worked from it."""
    if not task.template.plan.sources:
        return _honest(task)
    values = _worked(task, _habits(task.student))
    extents = sorted(values[Quantity("extent", source).id] for source in task.template.plan.sources)
    return _astray(task, _with(task.student, {}, {EXTENT: extents[1]}), "wrong choice", "followed", "")


def _changed(task: _Task, kind: str, share: int, write: Callable[[PartKey, str], str]) -> dict[str, Intention]:
    """An honest solution of which one number in `share` is written in another way."""
    cells = _honest(task)
    for part in task.template.parts:
        column = f"{task.number}{part.label}"
        wrote = cells[column].wrote
        if not task.chooses(part) and not drawn(share, kind, task.student, column):
            changed = write(part, wrote)
            cells[column] = Intention(kind if changed != wrote else "honest", "", changed)
    return cells


def _plainly(task: _Task, part: PartKey, figures: int) -> str:
    """The right number in the unit asked for, without the unit."""
    value = _worked(task, _habits(task.student))[part.asked.quantity.id]
    return bare_number(read_unit(part.asked.unit).from_engine(value), figures)


def _in_another_way(worker: str, task: _Task) -> dict[str, Intention]:
    """The workers whose chemistry is right and whose cells are not."""
    asked = [part for part in task.template.parts if not task.chooses(part)]
    known = {part.id: number_in(task.problem.truths[part.id]).figures for part in asked}

    def thousandth(part: PartKey, wrote: str) -> str:
        if part.asked.unit not in ("mmol", "mL", "mg"):
            return wrote
        value = Fraction(_plainly(task, part, known[part.id])) / 1000
        bare = bare_number(value, known[part.id])
        return bare if drawn(2, "no unit", task.student, part.id) else f"{bare} {part.asked.unit}"

    ways: Mapping[str, tuple[str, int, Callable[[PartKey, str], str]]] = {
        "power of ten": ("power of ten", 3, thousandth),
        "other quantity": ("other quantity", 3, lambda p, _: f"{_plainly(task, p, known[p.id])} "
                           f"{'mol' if p.asked.unit in ('g', 'mg', '%') else 'g'}"),
        "hurried": ("blank", 2, lambda p, _: ("", "-", "?", "n/a")[drawn(4, "blank", task.student, p.id)]),
        "talkative": ("remark", 4, lambda p, _: _REMARKS[drawn(len(_REMARKS), "remark", task.student, p.id)]),
        "coarse": ("coarse", 2, lambda p, _: _plainly(task, p, 2)),
        "exuberant": ("honest", 1, lambda p, _: _plainly(task, p, 9)),
        "bullets": ("bullet", 3, lambda p, _: f"- {_plainly(task, p, known[p.id])} {p.asked.unit}"),
    }  # fmt: skip
    return _changed(task, *ways[worker])


def _deal(tasks: Mapping[str, list[_Task]], students: Sequence[str]) -> dict[tuple[str, str], Mistake]:
    """Every mistake that changes something, to a student whose variant shows it; two problems a student at most."""
    dealt: dict[tuple[str, str], Mistake] = {}
    covered: set[tuple[str, str]] = set()
    for student in students:
        mine = 0
        for task in reversed(tasks[student]):
            open_ones = [m for m in task.template.plan.mistakes if (task.template.id, m.id) not in covered]
            shown = next((m for m in open_ones if _touched(task, _with(student, dict(m.rewrites)))), None)
            if shown is not None and mine < 2:
                dealt[student, task.number] = shown
                covered.add((task.template.id, shown.id))
                mine += 1
    return dealt


def _solved(worker: str, task: _Task, mistake: Mistake | None) -> dict[str, Intention]:
    """One problem in one student's way."""
    if mistake is not None:
        return _mistaken(task, mistake)
    if worker.startswith("always "):
        return _habitual(task, worker.removeprefix("always "))
    if worker == "slip early":
        return _slipped(task)
    if worker == "wrong limiting":
        return _other_limit(task)
    if worker in ("careful", "one mistake"):
        return _honest(task)
    return _in_another_way(worker, task)


def _workers(students: Sequence[str], dealt: Mapping[tuple[str, str], Mistake]) -> dict[str, str]:
    workers: dict[str, str] = {}
    with_mistake = {student for student, _ in dealt}
    rest = [student for student in students if student not in with_mistake]
    habits = iter(_HABITS)
    for index, student in enumerate(rest):
        kind = _OTHERS[(index // 2) % len(_OTHERS)] if index % 2 else "careful"
        if kind == "one habit":
            habit = next(habits, "")
            kind = f"always {habit}" if habit else "careful"
        workers[student] = kind
    return {student: workers.get(student, "one mistake") for student in students}


# the file


def simulate(head: KeyHead, keys: Sequence[StudentKey]) -> Simulated:
    """The responses of a class to its keys."""
    present = [key for index, key in enumerate(keys) if index % _ABSENT_EVERY != _ABSENT_EVERY // 2]
    tasks = {key.student: [_Task(key.student, head.templates[p.template], p) for p in key.problems] for key in present}
    students = sorted(tasks, key=lambda student: drawn(1 << 60, "order", student))
    dealt = _deal(tasks, students[:_MISTAKEN])
    workers = _workers(students, dealt)
    intentions: dict[tuple[str, str], Intention] = {}
    for student in students:
        for task in tasks[student]:
            cells = _solved(workers[student], task, dealt.get((student, task.number)))
            intentions.update({(student, column): meant for column, meant in cells.items()})
    rows = _rows(head.columns, {key.student: key for key in present}, students, intentions)
    return Simulated(tuple(rows), intentions, workers)


def _rows(
    columns: Sequence[str],
    keys: Mapping[str, StudentKey],
    students: Sequence[str],
    intentions: Mapping[tuple[str, str], Intention],
) -> Iterator[tuple[str, ...]]:
    """The table as a form gives it: in the order of handing in, with what goes wrong on the way."""
    yield ("handed in", "id", "name", "section", *columns)
    for index, student in enumerate(students):
        cells = [intentions[student, c].wrote if (student, c) in intentions else "" for c in columns]
        key = keys[student]
        about = (_time(index), student.upper() if index % 9 == 4 else student, key.name, key.section)
        if index == 20:
            yield (*about, *cells[: len(cells) // 3], *("" for _ in cells[len(cells) // 3 :]))
        if index == 30:
            yield (_time(index), "s999", "Nobody Known", "", *cells)
        if index == 40:
            yield (_time(index), "", "Forgot My Id", "", *cells)
        if index == 50:
            yield tuple("" for _ in (*about, *cells))
        late = index in (20, 64)
        yield (
            _time(index + 300) if late else about[0],
            *about[1:],
            *cells,
            *(("sorry, late", "") if index == 64 else ()),
        )


def _time(index: int) -> str:
    minutes = 8 * 60 + index * 7 % 900
    return f"2026-10-{12 + index * 7 // 900:02d} {minutes // 60:02d}:{minutes % 60:02d}"


def write_responses(answers: Path, responses: Path) -> Simulated:
    """Write the responses of a simulated class as a spreadsheet saves them: UTF-8 with mark, CRLF."""
    with Answers(answers) as keys:
        simulated = simulate(keys.head, list(keys))
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(simulated.rows)
    responses.write_bytes(("\ufeff" + text.getvalue()).encode())
    return simulated


if __name__ == "__main__":
    write_responses(Path(sys.argv[1]) / ANSWERS_FILE, Path(sys.argv[2]))
