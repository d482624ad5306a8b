"""Sets of drawn numbers and post-session sets: which values are the student's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.sets.courses import template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.model.banks import Banks
from problemgen.model.problem_set import ProblemSet

ZINC = """title = "Zinc iodide"
topic = "t"
difficulty = 2
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.400, to = 1.000, unit = "g", read = "balance-0.001" }
[given.iodine]
mass = { from = 1.500, to = 2.500, unit = "g", read = "balance-0.001" }
[given.zinc-iodide]
obtained = { percent_yield = [60, 95], unit = "g", read = "balance-0.001" }
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
unit = "g"
[[part]]
quantity = "percent_yield"
session = 2
"""
BALANCE = ', unit = "g", read = "balance-0.001" }'
FIXED = (
    ZINC.replace("{ from = 0.400, to = 1.000" + BALANCE, '{ value = 0.700, unit = "g" }')
    .replace("{ from = 1.500, to = 2.500" + BALANCE, '{ value = 2.000, unit = "g" }')
    .replace("[given.zinc-iodide]\nobtained = { percent_yield = [60, 95]" + BALANCE,
             '[given.zinc-iodide.actual]\nmass = { value = 1.900, unit = "g" }')
)  # fmt: skip
HEAD = 'title = "S"\ncourse = "C"\nkind = "post-session"\n'
ONE = '[[sheet]]\nsession = 1\ntitle = "One"\n'
TWO = ONE + '[[sheet]]\nsession = 2\ntitle = "Two"\n'
ALL = 'own = ["zinc.mass", "iodine.mass", "zinc-iodide.obtained"]\n'


def problem(own: str, template: str = "zinc") -> str:
    return f'[[problem]]\ntemplate = "{template}"\n{own}'


@pytest.fixture
def load(written: Callable[[str, str], Path], banks: Banks, tmp_path: Path) -> Callable[[str], ProblemSet]:
    written("templates/zinc.toml", ZINC)
    written("templates/fixed.toml", FIXED)

    def loaded(text: str) -> ProblemSet:
        return load_set(written("week/set.toml", text).parent, template_ids(tmp_path / "templates"), banks)

    return loaded


def test_own_values_are_kept_with_their_problem(load: Callable[[str], ProblemSet]) -> None:
    loaded = load(HEAD + TWO + problem('own = ["zinc-iodide.obtained"]\n'))
    (one,) = loaded.problems
    assert [value.name for value in one.own] == ["zinc-iodide.obtained"]
    assert not one.same_for_all
    assert {part.session for part in one.templates[0].parts} == {1, 2}


def test_a_set_says_nothing_about_its_kind_and_is_drawn(load: Callable[[str], ProblemSet]) -> None:
    loaded = load(HEAD.replace('kind = "post-session"\n', "") + TWO + problem(""))
    assert loaded.problems[0].own == ()
    assert not loaded.same_for_all


def test_a_report_on_one_sheet_holds_the_parts_of_all_sessions(load: Callable[[str], ProblemSet]) -> None:
    loaded = load(HEAD + ONE + problem(ALL))
    assert {part.session for part in loaded.problems[0].templates[0].parts} == {1}
    assert loaded.same_for_all


def test_one_template_may_be_drawn_in_one_problem_and_own_in_another(load: Callable[[str], ProblemSet]) -> None:
    loaded = load(HEAD + TWO + problem("") + problem(ALL))
    assert [len(one.own) for one in loaded.problems] == [0, 3]
    assert loaded.problems[0].templates[0] is loaded.problems[1].templates[0]


def test_a_template_without_draws_will_do_where_the_students_bring_the_numbers(
    load: Callable[[str], ProblemSet],
) -> None:
    own = 'own = ["zinc.mass", "zinc-iodide.actual.mass"]\n'
    assert load(HEAD + TWO + problem(own, "fixed")).same_for_all


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            HEAD.replace("post-session", "report") + TWO + problem(ALL),
            "kind: found 'report'; expected 'drawn' or 'post-session'",
        ),
        (
            HEAD.replace("post-session", "drawn") + TWO + problem(ALL),
            "kind: found own values in a set of drawn numbers; expected 'post-session'",
        ),
        (
            HEAD + TWO + problem(""),
            (
                "kind: found 'post-session' without own values; expected a problem with `own`. "
                'For example own = ["aspirin.obtained"], the substance and the key of the template.'
            ),
        ),
        (
            HEAD + TWO + '[[problem]]\nchoose = ["zinc", "zinc"]\n' + ALL,
            "problem.1.own: found own values beside a choice of templates; expected a single `template`",
        ),
        (
            HEAD + TWO + problem('own = ["zinc.volume"]\n'),
            (
                "problem.1.own: found 'zinc.volume'; expected one of zinc.mass, iodine.mass, zinc-iodide.obtained. "
                "Did you mean 'zinc.mass'?"
            ),
        ),
        (
            HEAD + TWO + problem('own = ["zinc.mass"]\n'),
            (
                "problem.1.own: found mass(zinc-iodide,theoretical), a value that mass(zinc-iodide,actual) is drawn "
                "from; expected the other value among the student's own too. Add 'zinc-iodide.obtained'."
            ),
        ),
        (
            HEAD + TWO + problem('own = [""]\n'),
            "problem.1.own.1: found ''; expected text that is not empty",
        ),
        (
            HEAD + TWO + problem("", "fixed") + problem(ALL),
            (
                "given: found no value that is drawn; expected a value with a range or a choice, so that every "
                "student gets numbers of their own"
            ),
        ),
    ],
)
def test_what_does_not_go_together_is_refused(load: Callable[[str], ProblemSet], text: str, expected: str) -> None:
    with pytest.raises(FaultsError) as caught:
        load(text)
    assert expected in [str(fault).partition(".toml: ")[2] for fault in caught.value.faults]
