"""Problem sets: policies, sheets and templates, with the faults of all of them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.sets.courses import template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.model.banks import Banks
from problemgen.model.policy import Policy
from problemgen.model.problem_set import Printing, ProblemSet

ROOT = Path(__file__).parents[3]
HEAD = 'title = "S"\ncourse = "C"\n'
SHEET = '[[sheet]]\nsession = 1\ntitle = "One"\n'
PROBLEM = '[[problem]]\ntemplate = "good"\n'
GOOD = """title = "G"
topic = "t"
difficulty = 1
[given.glucose]
mass = { from = 1.00, to = 9.00, unit = "g", read = "balance-0.01" }
[[part]]
quantity = "amount"
"""

Load = Callable[[str], ProblemSet]
FaultsOf = Callable[[str], list[str]]


@pytest.fixture
def load(written: Callable[[str, str], Path], banks: Banks, tmp_path: Path) -> Load:
    templates = {
        "good": GOOD,
        "deep/late": GOOD + "session = 2\n",
        "bad": GOOD.replace("glucose", "glucos"),
        "worse": GOOD.replace("difficulty = 1", "difficulty = 7"),
        "fixed": GOOD.replace('from = 1.00, to = 9.00, unit = "g", read = "balance-0.01"', 'value = 1.00, unit = "g"'),
    }
    for name, text in templates.items():
        written(f"templates/{name}.toml", text)

    def loaded(text: str) -> ProblemSet:
        folder = written("week/set.toml", text).parent
        return load_set(folder, template_ids(tmp_path / "templates"), banks)

    return loaded


@pytest.fixture
def faults_of(load: Load, tmp_path: Path) -> FaultsOf:
    def faults(text: str) -> list[str]:
        with pytest.raises(FaultsError) as caught:
            load(text)
        return [str(fault).replace(f"{tmp_path}/", "") for fault in caught.value.faults]

    return faults


def test_a_set_is_named_by_its_folder_and_has_defaults(load: Load) -> None:
    loaded = load(HEAD + SHEET + PROBLEM)
    assert (loaded.id, loaded.paper, loaded.decimal_mark, loaded.language) == ("week", "a4", ".", "en")
    assert loaded.demonstration_secret is None
    assert [(one.id, [t.id for t in one.templates]) for one in loaded.problems] == [("p1", ["good"])]
    assert loaded.policy == Policy(
        figures="remark",
        missing_unit="accept",
        follow_through=Fraction(1),
        unit_slip=Fraction(1, 2),
        named_mistake=Fraction(0),
        deduction=Fraction(1, 4),
    )


def test_a_policy_is_read_exactly(load: Load) -> None:
    policy = (
        '[policy]\nfigures = "deduct"\nmissing_unit = "remark"\nfollow_through = 0.75\nunit_slip = 1\n'
        "named_mistake = 0.05\ndeduction = 0.333\n"
    )
    loaded = load(HEAD + SHEET + PROBLEM + policy).policy
    assert (loaded.figures, loaded.missing_unit) == ("deduct", "remark")
    shares = (loaded.follow_through, loaded.unit_slip, loaded.named_mistake, loaded.deduction)
    assert shares == (Fraction(3, 4), Fraction(1), Fraction(1, 20), Fraction(333, 1000))


def test_the_way_of_teaching_and_the_feedback_are_the_set_s_choice(load: Load) -> None:
    usual = load(HEAD + SHEET + PROBLEM)
    assert (usual.method, usual.worked_solution) == ("product", True)
    chosen = load('method = "extent"\n' + HEAD + SHEET + PROBLEM + "[feedback]\nworked_solution = false\n")
    assert (chosen.method, chosen.worked_solution) == ("extent", False)


def test_how_a_set_is_printed_is_the_sets_choice(load: Load) -> None:
    assert load(HEAD + SHEET + PROBLEM).printing == Printing("roomy", "name", "beside", worked_key=False)
    text = 'layout = "compact"\nhead = "code"\nanswers = "box"\nworked_key = true\n'
    assert load(HEAD + text + SHEET + PROBLEM).printing == Printing("compact", "code", "box", worked_key=True)


@pytest.mark.parametrize(
    ("key", "expected"),
    [("layout", "'roomy' or 'compact'"), ("head", "'name' or 'code'"), ("answers", "'beside' or 'box'")],
)
def test_another_way_of_printing_is_a_fault(faults_of: FaultsOf, key: str, expected: str) -> None:
    (fault,) = faults_of(f'{HEAD}{key} = "narrow"\n{SHEET}{PROBLEM}')
    assert fault == f"week/set.toml: {key}: found 'narrow'; expected {expected}"


def test_a_template_that_stands_twice_is_loaded_once(load: Load) -> None:
    loaded = load(HEAD + SHEET + PROBLEM + PROBLEM)
    assert loaded.problems[0].templates[0] is loaded.problems[1].templates[0]
    assert [one.id for one in loaded.problems] == ["p1", "p2"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (HEAD + SHEET, "problem: found nothing; expected a value for this key"),
        (HEAD + PROBLEM, "sheet: found nothing; expected a value for this key"),
        ("problem = []\n" + HEAD + SHEET, "problem: found an empty list; expected one entry or more"),
        ('paper = "a5"\n' + HEAD + SHEET + PROBLEM, "paper: found 'a5'; expected 'a4' or 'us-letter'"),
        ('decimal_mark = ";"\n' + HEAD + SHEET + PROBLEM, "decimal_mark: found ';'; expected '.' or ','"),
        (
            'method = "guess"\n' + HEAD + SHEET + PROBLEM,
            "method: found 'guess'; expected 'product', 'extent' or 'ratios'",
        ),
        (
            HEAD + SHEET + PROBLEM + '[feedback]\nworked_solution = "yes"\n',
            "feedback.worked_solution: found 'yes'; expected true or false",
        ),
        (
            HEAD + SHEET + PROBLEM + "[feedback]\nworked_solutions = true\n",
            (
                "feedback.worked_solutions: found an unknown key; expected one of worked_solution. "
                "Did you mean 'worked_solution'?"
            ),
        ),
        (
            'demonstration_secret = ""\n' + HEAD + SHEET + PROBLEM,
            "demonstration_secret: found ''; expected text that is not empty",
        ),
        (
            HEAD + SHEET + '[[problem]]\ntemplate = "goood"\n',
            (
                "problem.1.template: found 'goood'; expected a template that `list` shows, or the name of a file "
                "beside set.toml. Did you mean 'good'?"
            ),
        ),
        (
            HEAD + SHEET + "[[problem]]\n",
            "problem.1: found no single way to get a template; expected either `template` or `choose`",
        ),
        (
            HEAD + SHEET + PROBLEM + 'choose = ["good"]\n',
            "problem.1: found no single way to get a template; expected either `template` or `choose`",
        ),
        (
            HEAD + SHEET + PROBLEM + "points = 3\n",
            "problem.1.points: found an unknown key; expected one of choose, for, id, own, part, policy, template",
        ),
        (
            HEAD + SHEET + '[[problem]]\ntemplate = "deep/late"\n',
            "sheet: found no sheet for session 2; expected a sheet for every session that has parts",
        ),
        (
            HEAD + SHEET + SHEET + PROBLEM,
            "sheet: found several sheets for session 1; expected one sheet for each session",
        ),
        (
            HEAD + SHEET + PROBLEM + "[policy]\nfollow_through = 1.5\n",
            "policy.follow_through: found 1.5; expected a share from 0 to 1",
        ),
        (
            HEAD + SHEET + PROBLEM + "[policy]\nunit_slip = -0.1\n",
            "policy.unit_slip: found -0.1; expected a share from 0 to 1",
        ),
        (
            HEAD + SHEET + PROBLEM + '[policy]\nfigures = "strict"\n',
            "policy.figures: found 'strict'; expected 'ignore', 'remark' or 'deduct'",
        ),
        (
            HEAD + SHEET + PROBLEM + "[policy]\nfollow_trough = 1\n",
            (
                f"policy.follow_trough: found an unknown key; expected one of "
                f"{', '.join(sorted(Policy.model_fields))}. Did you mean 'follow_through'?"
            ),
        ),
    ],
)
def test_a_fault_of_a_set(faults_of: FaultsOf, text: str, expected: str) -> None:
    assert faults_of(text) == [f"week/set.toml: {expected}"]


def test_faults_of_the_set_and_of_all_its_templates_come_at_once(faults_of: FaultsOf) -> None:
    several = HEAD + SHEET + '[[problem]]\nchoose = ["bad", "worse", "none"]\n[[problem]]\ntemplate = "fixed"\n'
    assert faults_of(several) == [
        (
            "templates/bad.toml: given.glucos: found 'glucos'; expected the id of a substance in "
            "banks/substances.toml. Did you mean 'glucose'?"
        ),
        (
            "templates/fixed.toml: given: found no value that is drawn; expected a value with a range or a choice, so "
            "that every student gets numbers of their own"
        ),
        "templates/worse.toml: difficulty: found 7; expected less than or equal to 5",
        (
            "week/set.toml: problem.1.template: found 'none'; expected a template that `list` shows, or the name of a "
            "file beside set.toml"
        ),
    ]


def test_a_missing_folder_and_a_missing_file_are_told_apart(banks: Banks, tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        load_set(tmp_path / "none", {}, banks)
    expected = "found no such folder; expected the folder of a problem set, with set.toml"
    assert str(caught.value) == f"{tmp_path / 'none'}: {expected}"
    with pytest.raises(FaultsError) as caught:
        load_set(tmp_path, {}, banks)
    expected = "found no such file or directory; expected a readable TOML file"
    assert str(caught.value) == f"{tmp_path / 'set.toml'}: {expected}"


def test_sets_and_layouts_are_no_templates(written: Callable[[str, str], Path], tmp_path: Path) -> None:
    for name in ("a", "topic/b", "sets/week/set", "layouts/c"):
        written(f"{name}.toml", "")
    assert list(template_ids(tmp_path)) == ["a", "topic/b"]


def test_the_shipped_set_loads(banks: Banks) -> None:
    loaded = load_set(ROOT / "templates" / "sets" / "first-week", template_ids(ROOT / "templates"), banks)
    assert loaded.id == "first-week"
    assert {sheet.session for sheet in loaded.sheets} == {1, 2}
    assert len(loaded.problems) == 4
