"""What every form of part has to bring."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.grade.judging.judge import JUDGES
from problemgen.model.problem import Asked
from problemgen.model.quantity import Quantity
from problemgen.plan.forms import FORMS, form_of
from problemgen.plan.forms.form import Form
from problemgen.render.key.variant_key import numbers_of
from tests.support.shipped import shipped, variant_of

EACH = ("limiting-reagent/silver-chromate", "formulas/percent", "equations/butane-burns")
"""Templates that ask in each form."""

each_form = pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)


@each_form
def test_an_answer_that_is_written_has_a_judge_who_reads_it(form: Form[Any]) -> None:
    assert form in JUDGES or form.to_tick


def test_what_is_asked_knows_its_form() -> None:
    assert [form_of(Asked(Quantity("amount", "a"), "mol", name)) for name in FORMS] == [*FORMS.values()]


def test_another_name_is_no_form() -> None:
    with pytest.raises(KeyError, match="essay"):
        form_of(Asked(Quantity("amount", "a"), "mol", "essay"))


@each_form
def test_the_sheet_says_how_to_answer(form: Form[Any]) -> None:
    assert bool(form.to_write) != bool(form.to_tick)
    assert (form.to_write + form.to_tick).endswith(".")


@each_form
def test_a_word_of_a_template_leads_to_the_form(form: Form[Any]) -> None:
    assert all(form_of(asked) is form for asked in form.asks.values())


@pytest.mark.parametrize("name", EACH)
def test_an_answer_is_told_the_same_on_key_and_sheet(name: str) -> None:
    """The text of an answer stands in its row of the key, and it is told in words where it has no unit."""
    template, variant = shipped(name), variant_of(name)
    endings = numbers_of(variant).endings
    for part, answer in zip(template.parts, variant.answers, strict=True):
        form = form_of(part.asked)
        cells, blank = (
            form.cells(template.scene, part.asked, answer),
            form.blank(template.scene, template.plan, part.asked, 2),
        )
        assert form.text(template.scene, part.asked, answer).endswith(cells.unit)
        assert bool(blank.choices) == bool(form.to_tick)
        assert (cells.low != "–") == form.has_window == bool(endings[part.id].number)
