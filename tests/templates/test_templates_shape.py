"""The templates and sets that come with the program, together: topics, levels, who limits, two courses and a class.

What each template keeps by itself is in test_contract.py.
"""

from __future__ import annotations

import csv
import tomllib
import unicodedata
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from problemgen.load.people.roster import load_roster
from problemgen.load.sets.courses import template_ids
from problemgen.load.sets.problem_set import load_set
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.truths import ChoiceTruth
from problemgen.model.variant import Variant
from tests.support.shipped import shipped
from tests.support.small_set import banks

ROOT = Path(__file__).parents[2]
TEMPLATES = ROOT / "templates"
FIRST_WEEK = TEMPLATES / "sets" / "first-week"
PATHS = template_ids(TEMPLATES)

EQUATIONS = frozenset(n for n, path in PATHS.items() if '"balanced_equation"' in path.read_text(encoding="utf-8"))
"""Templates that ask for an equation alone, which has no numbers."""


@cache
def variants(name: str) -> tuple[Variant, ...]:
    maker = Maker(shipped(name), Stream(b"test", "shape", "p1"))
    return tuple(maker.variants([f"s{n:03d}" for n in range(1, 41)]))


def limiting(name: str) -> Counter[str]:
    return Counter(a.choice for one in variants(name) for a in one.answers if isinstance(a, ChoiceTruth))


def test_there_are_templates_on_every_topic() -> None:
    topics = {name.split("/")[0] for name in PATHS}
    assert topics >= {"amounts", "solutions", "limiting-reagent", "yield", "preparations", "titrations", "gases"}
    assert topics >= {"measures", "formulas", "equations", "mole-ratios", "dilutions", "equivalents", "separation"}


def test_equations_to_balance_get_harder() -> None:
    documents = (tomllib.loads(PATHS[name].read_text(encoding="utf-8")) for name in EQUATIONS)
    levels = Counter(document["difficulty"] for document in documents)
    assert sum(levels.values()) >= 10
    assert set(levels) >= {1, 2, 3, 4}


@pytest.mark.parametrize(
    ("name", "least"),
    [
        ("preparations/triphenylmethanol", 2),
        ("preparations/potassium-trioxalatoferrate", 2),
        ("preparations/orange-ii", 2),
        ("limiting-reagent/iodoform", 2),
        ("limiting-reagent/cobalt-ammine", 2),
    ],
)
def test_the_limiting_reagent_varies(name: str, least: int) -> None:
    often = [reagent for reagent, count in limiting(name).items() if count >= 0.15 * 40]
    assert len(often) >= least


def test_some_equations_have_unequal_coefficients_and_a_product_taken_more_than_once() -> None:
    unequal = []
    for name in PATHS:
        reaction = shipped(name).reaction
        if reaction is not None and reaction.coefficients[reaction.product] > 1:
            reagents = {-nu for nu in reaction.coefficients.values() if nu < 0}
            unequal += [name] if len(reagents) > 1 else []
    assert len(unequal) >= 3


REPORT = TEMPLATES / "sets" / "organic-post-session"
"""The set of the students' own data."""
MEASURED = TEMPLATES / "sets" / "organic-two-products"
"""The same over two sessions: two products and how much there is of each."""
READY = sorted(
    p.parent for p in (TEMPLATES / "sets").glob("*/set.toml") if p.parent not in (FIRST_WEEK, REPORT, MEASURED)
)


def test_three_courses_come_ready() -> None:
    courses = {"general": 8, "laboratory": 4, "organic": 8}
    assert [folder.name.split("-")[:2] for folder in READY] == [
        [course, str(number)] for course, sets in courses.items() for number in range(1, sets + 1)
    ]


@pytest.mark.parametrize("folder", READY, ids=lambda folder: folder.name)
def test_a_ready_set_is_fair_and_has_a_class(folder: Path) -> None:
    ready = load_set(folder, PATHS, banks())
    assert 3 <= len(ready.problems) <= 6
    assert ready.demonstration_secret is None  # each build makes a secret of its own
    for problem in ready.problems:
        shapes = {tuple((part.points.value, part.session) for part in t.parts) for t in problem.templates}
        assert len(shapes) == 1
    printed = {part.session for problem in ready.problems for t in problem.templates for part in t.parts}
    assert printed == {sheet.session for sheet in ready.sheets}
    students = load_roster(folder / "roster.csv").students
    assert len({student.id for student in students}) == len({student.name for student in students}) == 6


def test_the_report_after_the_session_has_nothing_drawn_and_a_class() -> None:
    report = load_set(REPORT, PATHS, banks())
    assert report.same_for_all
    assert report.demonstration_secret is None
    assert [one.templates[0].id.partition("/")[0] for one in report.problems] == ["preparations"] * 2
    assert len(load_roster(REPORT / "roster.csv").students) == 6


def test_two_products_are_measured_over_two_sessions() -> None:
    measured = load_set(MEASURED, PATHS, banks())
    assert measured.same_for_all
    assert {sheet.session for sheet in measured.sheets} == {1, 2}
    for problem in measured.problems:
        assert {part.session for part in problem.templates[0].parts} == {1, 2}
    assert "glucose-pentaacetate.ratio" in {value.name for problem in measured.problems for value in problem.own}
    assert len(load_roster(MEASURED / "roster.csv").students) == 6


def test_every_topic_of_a_ready_set_has_a_choice_of_templates() -> None:
    choices = [problem for folder in READY for problem in load_set(folder, PATHS, banks()).problems]
    assert sum(len(problem.templates) > 1 for problem in choices) >= 12


def test_the_first_week_is_fair() -> None:
    first_week = load_set(FIRST_WEEK, PATHS, banks())
    assert len(first_week.problems) == 4
    assert {sheet.session for sheet in first_week.sheets} == {1, 2}
    for problem in first_week.problems:
        shapes = {tuple((part.points.value, part.session) for part in t.parts) for t in problem.templates}
        assert len(shapes) == 1
    assert 25 <= sum(len(problem.templates[0].parts) for problem in first_week.problems) <= 30
    assert first_week.problems[-1].templates[0].sessions == 2
    assert first_week.demonstration_secret


def test_the_first_week_has_a_class_of_many_scripts() -> None:
    students = load_roster(FIRST_WEEK / "roster.csv").students
    names = [student.name for student in students]
    assert len(students) == len({student.id for student in students}) == len(set(names)) == 120
    assert Counter(student.section for student in students) == dict.fromkeys("ABCD", 30)
    scripts = {unicodedata.name(letter).split()[0] for name in names for letter in name if letter.isalpha()}
    assert scripts >= {"LATIN", "HEBREW", "ARABIC", "CJK", "GREEK", "CYRILLIC"}
    assert {name[0] for name in names} >= set("#=+-@")
    assert max(map(len, names)) >= 60  # longer than a line of the sheet's head
    assert any("," in name for name in names)
    assert any(" " not in name for name in names)


def test_the_roster_is_plain_csv() -> None:
    rows = list(csv.reader((FIRST_WEEK / "roster.csv").read_text(encoding="utf-8").splitlines()))
    assert rows[0] == ["id", "name", "section"]
    assert {len(row) for row in rows} == {3}
