"""The words of a part that its author left to the engine, and how given values are told."""

from __future__ import annotations

from problemgen.chemistry.units import unit_text
from problemgen.exact.digits import Written, number_text
from problemgen.language.letters import opening_a_sentence
from problemgen.language.messages import _, ngettext
from problemgen.language.numbers import in_digits, left_to_right
from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.lines import filled
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import KINDS, TAKEN_ROLES, Quantity, Role
from problemgen.model.template import Part, Template
from problemgen.plan.forms import form_of
from problemgen.render.words.symbols import spoken_unit

__all__ = [
    "points_text",
    "problem_heading",
    "prompt_of",
    "quantity_text",
    "ratio_text",
    "ratio_words",
    "short_prompt_of",
]


def points_text(points: Written) -> str:
    """ "1 point", "2 points"."""
    several = 1 if points.value == 1 else 2
    return ngettext("{n} point", "{n} points", several).format(n=in_digits(points.text))


def problem_heading(problem: str, title: str) -> str:
    """What stands above a problem, by its id: "Problem 2: Iodoform from acetone"."""
    return _("Problem {number}: {title}").format(number=problem.removeprefix("p"), title=title)


def quantity_text(datum: Datum) -> str:
    """A given value as it is printed: "2.60 mL", "37 %", "9.2 × 10⁻⁴ mol", "3.345°"."""
    number = number_text(datum.written.text)
    unit = unit_text(datum.unit)
    gap = "" if not unit or unit.split(" ")[0] == "°" else "\u00a0"
    return left_to_right(f"{number}{gap}{unit}")


def ratio_text(first: Datum, second: Datum) -> str:
    """Two given values as a ratio is printed: "86 : 14"."""
    return left_to_right("\u00a0:\u00a0".join(number_text(one.written.text) for one in (first, second)))


def ratio_words(scene: Scene, first: Quantity, second: Quantity) -> str:
    """What a ratio is of, as it is read aloud: "product ratio of geraniol to nerol, by amount"."""
    one, other = (scene.species[quantity.of].name for quantity in (first, second))
    return _("product ratio of {first} to {second}, by amount").format(first=one, second=other)


def prompt_of(template: Template, part: Part) -> Line:
    """The prompt of a part: the author's, or the engine's."""
    if part.prompt:
        return (Prose(part.prompt),)
    return form_of(part.asked).prompt(part.asked) or _asked_for(template, part.asked)


def short_prompt_of(template: Template, part: Part) -> Line:
    """The prompt as the key's table has it, where its form has a shorter one than on the sheet."""
    return form_of(part.asked).short_prompt(part.asked) or prompt_of(template, part)


def _asked_for(template: Template, asked: Asked) -> Line:
    species, quantity = template.scene.species, asked.quantity
    if quantity.role == Role.LEFT and any(part.asked.form == "species" for part in template.parts):
        quantity = Quantity(quantity.kind, "", Role.UNUSED)  # its name would tell which reagent does not limit
    name = species[quantity.of].name if quantity.of else ""
    source = (Strong(species[quantity.source].name),) if quantity.source else ()
    words = opening_a_sentence(quantity.said(KINDS[quantity.kind].asked_in(quantity.role), _NAME, _SOURCE))
    line = filled(words, name=name, source=source)
    formula = species[quantity.of].formula if quantity.of in species and _shows_formula(quantity) else None
    if formula is not None:
        line = (*line, Prose(" ("), Chemical(formula.text), Prose(")"))
    if quantity.role is Role.THEORETICAL and quantity.role not in KINDS[quantity.kind].prompts:
        # Translators: stands behind what is asked: "The theoretical yield of aspirin, in grams".
        line = filled(_("{asked}, in {unit}"), asked=line, unit=spoken_unit(asked.unit))
    if not _is_needed(template, quantity):
        return line
    # Translators: what is asked of a reagent: "The mass of aniline that is needed".
    return filled(_("{asked} that is needed"), asked=line)


_NAME, _SOURCE = "{name}", "{source}"
"""Places that stay open in a prompt, for what is set in its own way."""


def _is_needed(template: Template, quantity: Quantity) -> bool:
    """Whether it is asked how much of a reagent to take, backwards from what is wanted."""
    species = template.scene.species.get(quantity.of)
    if species is None or species.coefficient >= 0 or quantity.role not in TAKEN_ROLES:
        return False
    measured = {*template.plan.sources, *(q.of for q in template.plan.given if KINDS[q.kind].extensive)}
    return KINDS[quantity.kind].extensive and quantity.of not in measured


def _shows_formula(quantity: Quantity) -> bool:
    return quantity.role in (Role.PLAIN, Role.THEORETICAL) and KINDS[quantity.kind].by_formula
