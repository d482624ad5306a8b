"""Simulated students: nobody is refused or rewarded with admitted numbers, and the audit sees it where they are."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

import problemgen.audit.students as students_module
from problemgen.audit.acceptance import NARROW, WIDE, Acceptance, by_windows
from problemgen.audit.exactly import exactly_accepted
from problemgen.audit.students import Found, Group, admitted_groups, drawn_groups, examined, limits, some_of
from problemgen.audit.ways import ways_of
from problemgen.make.admissible import Judgement
from problemgen.make.candidates import Candidates
from problemgen.make.mistakes import Kept
from problemgen.model.template import Template
from problemgen.plan.arithmetic import Window
from tests.support.shipped import shipped

TITRATION, CHOICE, FORMULA = "titrations/oxalic-acid", "limiting-reagent/silver-chromate", "formulas/percent"


def found_in(group: Group) -> Found:
    found = Found()
    examined(group, ways_of(group.template), found)
    return found


def narrowed(group: Group, share: float) -> Group:
    """The same students, marked by windows that are too narrow: a share of their half-widths."""

    def narrow(window: Window) -> Window:
        low, high = (window.value + share * (bound - window.value) for bound in (window.low, window.high))
        return Window(window.value, low, high, window.figures)

    kept = replace(group.kept, answers={name: narrow(window) for name, window in group.kept.answers.items()})
    return replace(group, kept=kept)


@pytest.mark.parametrize(
    "name", [TITRATION, CHOICE, FORMULA, "gases/magnesium-over-water", "sequences/nickel-salen-planned"]
)
def test_with_admitted_numbers_nobody_is_refused(simulated: Any, name: str) -> None:
    found = found_in(simulated(name, 400))
    assert (found.students, found.refused) == (400, 0)
    assert found.made.total() > 400


def test_mistakes_are_not_rewarded_with_admitted_numbers(simulated: Any) -> None:
    assert found_in(simulated(TITRATION, 400)).rewarded.total() == 0


@pytest.mark.parametrize("share", [0.0, 0.2, 0.5])
def test_windows_that_are_too_narrow_are_found_out(simulated: Any, share: float) -> None:
    found = found_in(narrowed(simulated(TITRATION, 400), share))
    assert found.refused > 0
    assert found.examples[0].startswith("an honest worker was refused: mass(oxalic-acid-dihydrate) ")


def test_windows_that_accept_everything_are_found_out(simulated: Any) -> None:
    found = found_in(narrowed(simulated(TITRATION, 100), 1e6))
    assert found.rewarded.total() > 0
    assert " was rewarded: mass(oxalic-acid-dihydrate) " in found.examples[0]


def test_every_student_has_one_limiting_reagent(simulated: Any) -> None:
    (blind,) = drawn_groups(shipped(CHOICE), 400, "three glass beads")
    found = limits(blind)
    assert found.total() == 400
    assert [*found] == ["silver-nitrate", "potassium-chromate"]
    assert limits(simulated(TITRATION, 20)) == {}


def test_students_are_the_same_each_time_and_by_their_rows() -> None:
    one = next(iter(admitted_groups(shipped(TITRATION), 50, "beads")))
    two = next(iter(admitted_groups(shipped(TITRATION), 50, "beads")))
    other = next(iter(admitted_groups(shipped(TITRATION), 50, "stones")))
    name = "amount(oxalic-acid-dihydrate)"
    assert one.worker.workings.written[name].tolist() == two.worker.workings.written[name].tolist()
    assert one.worker.workings.written[name].tolist() != other.worker.workings.written[name].tolist()
    few = some_of(one, range(10, 14))
    assert few.worker.workings.written[name].tolist() == one.worker.workings.written[name][10:14].tolist()


def test_many_students_come_in_groups() -> None:
    groups = list(admitted_groups(shipped(TITRATION), 5_000, "beads"))
    assert sum(group.students for group in groups) == 5_000
    assert len(groups) == 2
    blind = list(drawn_groups(shipped(TITRATION), 5_000, "beads"))
    assert [group.students for group in blind] == [4096, 904]


def test_a_template_that_admits_nothing_gives_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(students_module, "_MOST_BLOCKS", 1)
    monkeypatch.setattr(students_module, "Judge", lambda _template: _Nobody())
    assert list(admitted_groups(shipped(TITRATION), 10, "beads")) == []


class _Nobody:
    """Admits nobody."""

    turns = ()

    @staticmethod
    def judge(candidates: Candidates) -> Judgement:
        return Judgement(np.zeros(candidates.rows, dtype=np.int64), {})


def test_each_reagent_limits_for_as_many_as_in_a_class() -> None:
    (group,) = admitted_groups(shipped("yield/salen"), 200, "beads")
    assert limits(group) == {"salicylaldehyde": 100, "ethylenediamine": 100}


def test_an_answer_at_the_edge_of_a_window_is_worked_exactly(monkeypatch: pytest.MonkeyPatch, simulated: Any) -> None:
    """Where every answer is called near to a bound, digits decide about every student, and accept them all."""
    group = simulated(TITRATION, 20)
    asked: list[int] = []

    def unsure(template: Template, kept: Kept) -> Acceptance:
        sure = by_windows(template, kept)
        bounds = {name: (np.stack([low[0], low[0] + 1e9]), high) for name, (low, high) in sure.bounds.items()}
        return replace(sure, bounds=bounds)

    def exactly(template: Any, candidates: Any, habits: Any, row: int, *way: Any) -> bool:
        asked.append(row)
        return exactly_accepted(template, candidates, habits, row, *way)

    monkeypatch.setattr(students_module, "by_windows", unsure)
    monkeypatch.setattr(students_module, "exactly_accepted", exactly)
    found = found_in(group)
    assert asked[:20] == list(range(20))
    assert found.rechecked == 20
    assert found.refused == 0


@pytest.mark.parametrize("name", [TITRATION, CHOICE, FORMULA])
def test_digits_decide_as_columns_do(simulated: Any, name: str) -> None:
    group = simulated(name, 12)
    acceptance = by_windows(group.template, group.kept)
    honest = acceptance.honest(group.worker)
    for way in [way for way in ways_of(group.template) if way.single][::3]:
        with np.errstate(all="ignore"):
            accepted, _ = acceptance.of_mistaken(group.worker, way.rewrites, way.steps, honest)
        sure = accepted[WIDE] == accepted[NARROW]
        for row in np.flatnonzero(sure).tolist():
            exactly = exactly_accepted(
                group.template, group.candidates, group.worker.habits, row, way.rewrites, way.steps
            )
            assert exactly == accepted[WIDE][row]
