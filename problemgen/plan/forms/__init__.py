"""The forms of part, one a file: a number, a choice of species, a formula, a balanced equation."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from problemgen.model.problem import Asked
from problemgen.plan.forms.equation import EQUATION
from problemgen.plan.forms.form import Form
from problemgen.plan.forms.formula import FORMULA
from problemgen.plan.forms.number import NUMBER
from problemgen.plan.forms.species import SPECIES

__all__ = ["FORMS", "form_of", "forms_by_word"]

FORMS: Mapping[str, Form[Any]] = {form.name: form for form in (NUMBER, SPECIES, FORMULA, EQUATION)}
"""All forms by name, in the order in which they are told."""


def form_of(asked: Asked) -> Form[Any]:
    """The form of what is asked; KeyError for a name that is none."""
    return FORMS[asked.form]


def forms_by_word() -> dict[str, Form[Any]]:
    """The forms that templates ask for in other words than a kind of quantity, by these words."""
    return {word: form for form in FORMS.values() for word in form.asks}
