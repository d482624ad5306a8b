"""What sheets say of hazards: one box a student, a line on the other sheets."""

from __future__ import annotations

from collections.abc import Sequence

from problemgen.model.banks import Hazard
from problemgen.model.blocks import Block, Caution, Line, Note, Prose, Strong
from problemgen.model.problem_set import Sheet
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.model.template import Template
from problemgen.model.variant import Variant

__all__ = ["EXERCISE", "caution_of"]

EXERCISE = (
    "These pages are a calculation exercise, not a procedure. In the laboratory follow your instructor, the local "
    "rules and the current safety data sheet of every substance."
)
_TITLE = "A calculation exercise, not a procedure"
_OF_A_SOLUTION = (
    "The hazards listed are those of the substance itself; those of a solution depend on its concentration (UN GHS): "
    "read its label and its safety data sheet."
)


def caution_of(sheet: Sheet, sheets: Sequence[Sheet], variants: Sequence[Variant]) -> Block:
    """The caution at the foot of one of a student's `sheets`.

    The first sheet that uses a hazardous reagent has the box, with those of all sheets; the others have one line.
    """
    boxed = next((one for one in sheets if _hazards(variants, one.session)), None)
    if boxed is None:
        return Note((Prose(EXERCISE),))
    if sheet.session == boxed.session:
        last = max(one.session for one in sheets)
        told = _hazards(variants, last)
        return Caution(_TITLE, ((Prose(EXERCISE),), *told.values(), *_solutions(variants, told)))
    return Note((Prose(f"{_TITLE}. For the hazards see the box on the sheet “{boxed.title}”."),))


def _hazards(variants: Sequence[Variant], session: int) -> dict[str, Line]:
    """The hazard lines of the reagents in use up to a session, by id, in the order of the problems."""
    lines: dict[str, Line] = {}
    for variant in variants:
        template = variant.template
        for name in template.scene.species:
            hazard = template.hazards.get(name)
            used = _is_used(template, name) and max(_first(template), template.session_of.get(name, 1)) <= session
            if hazard is not None and hazard.statements and used:
                lines[name] = _hazard(template.substances[name].name, hazard)
    return lines


def _first(template: Template) -> int:
    """The session whose sheet has a problem first."""
    return min(part.session for part in template.parts)


def _is_used(template: Template, name: str) -> bool:
    """Whether a species is a reagent of an equation, or something is known of it."""
    species = template.scene.species[name]
    later = any(equation.coefficients.get(name, 0) < 0 for equation in template.scene.further)
    return species.coefficient < 0 or later or name in {quantity.of for quantity in template.scene.given}


def _hazard(name: str, hazard: Hazard) -> Line:
    signal = f"{hazard.signal}. " if hazard.signal else ""
    return (Strong(f"{name}: "), Prose(f"{signal}{'; '.join(hazard.statements)}."))


def _solutions(variants: Sequence[Variant], told: dict[str, Line]) -> tuple[Line, ...]:
    """What is to be said of reagents that are handled in solution; nothing where there are none."""
    dissolved = {
        template.substances[name].name: None
        for template in (variant.template for variant in variants)
        for name in template.scene.species
        if name in told and _is_dissolved(template, name)
    }
    return ((Strong(f"In solution here: {', '.join(dissolved)}. "), Prose(_OF_A_SOLUTION)),) if dissolved else ()


def _is_dissolved(template: Template, name: str) -> bool:
    asked = (part.asked.quantity for part in template.parts)
    return any(_of_solution(quantity) for quantity in (*template.scene.given, *asked) if quantity.of == name)


def _of_solution(quantity: Quantity) -> bool:
    return quantity.role is Role.SOLUTION or KINDS[quantity.kind].of_solution
