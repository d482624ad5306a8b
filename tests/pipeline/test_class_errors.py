"""The commonest errors of a class, made again with numbers of nobody, and told on a page."""

from __future__ import annotations

from functools import cache

from problemgen.model.answers import KeyHead
from problemgen.model.policy import Policy
from problemgen.pipeline.class_errors import MadeMistake, shown_errors
from problemgen.plan.ideas import Idea, idea_of_mistake
from problemgen.render.classes.follow_up_page import ShownError, class_page
from problemgen.render.key.answers import template_key
from problemgen.render.printers.terminal import text_lines
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

SILVER, FOUR = "limiting-reagent/recovered-silver", "amounts/four-ways"
TEMPLATES = {name: shipped(name) for name in (SILVER, FOUR)}
DENSITY, LITRES = Idea("density", "density-divided"), Idea("concentration", "millilitres-as-litres")


def made(idea: Idea, template: str, mistake: str, *students: str) -> list[MadeMistake]:
    return [MadeMistake(idea, template, mistake, student) for student in students]


LEAST = made(Idea("limiting", "least-amount-taken"), SILVER, "least-amount-taken:extent()", "s1", "s2", "s3")
UPSIDE_DOWN = made(DENSITY, FOUR, "density-divided:mass(acetic-anhydride)", "s1", "s4", "s4")
ALONE = made(LITRES, FOUR, "millilitres-as-litres:amount(sodium-hydroxide)", "s5", "s5")


@cache
def head() -> KeyHead:
    templates = {name: template_key(one, name) for name, one in TEMPLATES.items()}
    return KeyHead("w", "Week", "Laboratory", "en", ".", policy=Policy(), templates=templates, columns=(), inputs={})


def text_of(errors: tuple[ShownError, ...]) -> str:
    return "\n".join(text_lines(class_page(head(), errors, 9).blocks))


def test_errors_of_most_students_go_first_and_those_of_one_are_not_shown() -> None:
    found = shown_errors([*UPSIDE_DOWN, *ALONE, *LEAST], TEMPLATES)
    assert [(one.title, one.students) for one in found] == [
        ("the least amount taken as limiting, without the coefficients", 3),
        ("density used upside down", 2),
    ]


def test_three_at_most_and_none_twice() -> None:
    others = [
        *made(Idea("amount", "molar-mass-inverted"), FOUR, "molar-mass-inverted:amount(salicylic-acid)", "s1", "s2"),
        *made(Idea("mass", "molar-mass-inverted"), FOUR, "molar-mass-inverted:amount(salicylic-acid)", "s1", "s2"),
        *made(LITRES, FOUR, "millilitres-as-litres:amount(sodium-hydroxide)", "s1", "s2"),
    ]
    found = shown_errors([*UPSIDE_DOWN, *LEAST, *others], TEMPLATES)
    assert len(found) == 3
    assert len({one.title for one in found}) == 3


def test_what_is_not_there_any_more_is_left_out() -> None:
    assert shown_errors(LEAST, {}) == ()
    assert shown_errors(made(DENSITY, FOUR, "no such mistake", "s1", "s2"), TEMPLATES) == ()
    assert "No usual error was made by several students." in text_of(())


def test_the_reagent_is_told_as_the_student_tells_it() -> None:
    text = text_of(shown_errors(LEAST, TEMPLATES))
    assert "3 of 9 students." in text
    assert "Copper is the limiting reagent." in text
    assert "Done rightly, the same numbers make silver nitrate the limiting reagent." in text
    assert "The smallest amount need not be the limiting one: how much of each does the equation ask for?" in text


def test_a_unit_that_is_not_converted_shows_in_the_result_alone() -> None:
    text = text_of(shown_errors([*ALONE, *made(LITRES, FOUR, ALONE[0].mistake, "s6")], TEMPLATES))
    assert "1000" not in text
    (wrong,) = [line for line in text.splitlines() if line.strip().startswith("n(NaOH)")]
    (right,) = [line for line in text.splitlines() if line.startswith("Done rightly")]
    assert wrong.endswith("37.5 mL = 4.688e4 mmol")
    assert right.endswith("n(NaOH) = 46.88 mmol.")


@for_every(NAMES[::30])
def test_every_listed_mistake_of_a_template_can_be_told(name: str) -> None:
    template = shipped(name)
    for mistake in template.plan.mistakes:
        idea = idea_of_mistake(template.plan, mistake)
        found = shown_errors(made(idea, name, mistake.id, "s1", "s2"), {name: template})
        for error in found:
            assert "An invented student writes:" in text_of((error,))
