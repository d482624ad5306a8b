"""The words of a part that its author left to the engine, and how given values are told."""

from __future__ import annotations

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written
from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.problem import Species
from problemgen.model.quantity import KINDS, Quantity, reagent_of
from problemgen.model.template import Part, Template

__all__ = ["label_of", "number_text", "points_text", "prompt_of", "quantity_text", "species_words", "unit_text"]

_RAISED = str.maketrans("0123456789-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


def label_of(index: int) -> str:
    """The letter of a part: a, b, … z, aa, ab, …"""
    letters = "abcdefghijklmnopqrstuvwxyz"
    return (
        letters[index] if index < len(letters) else letters[index // len(letters) - 1] + letters[index % len(letters)]
    )


def points_text(points: Written) -> str:
    """ "1 point", "2 points"."""
    return f"{points.text} point" if points.value == 1 else f"{points.text} points"


def unit_text(unit: str) -> str:
    """A unit as it is printed; nothing for a plain number."""
    return "" if unit == "1" else read_unit(unit).text


def number_text(text: str) -> str:
    """A number as it is printed in a line of words: "9.2e-4" as 9.2 × 10⁻⁴, a minus as a minus."""
    mantissa, _, power = text.partition("e")
    mantissa = mantissa.replace("-", "−")
    return f"{mantissa}\u00a0×\u00a010{power.translate(_RAISED)}" if power else mantissa


def quantity_text(datum: Datum) -> str:
    """A given value as it is printed: "2.60 mL", "37 %", "9.2 × 10⁻⁴ mol"."""
    number = number_text(datum.written.text)
    unit = unit_text(datum.unit)
    return f"{number}\u00a0{unit}" if unit else number


def species_words(template: Template, name: str) -> Line:
    """A species by name and formula: bromobenzene (C6H5Br)."""
    species: Species = template.scene.species[name]
    if species.formula is None:
        return (Prose(species.name),)
    return (Prose(f"{species.name} ("), Chemical(species.formula.text), Prose(")"))


def prompt_of(template: Template, part: Part) -> Line:
    """The prompt of a part: the author's, or the engine's."""
    if part.prompt:
        return (Prose(part.prompt),)
    if part.asked.choice:
        return (Prose("Which reagent is the limiting reagent? Tick one."),)
    return _asked_for(template, part.asked.quantity)


def _asked_for(template: Template, quantity: Quantity) -> Line:
    name = template.scene.species[quantity.of].name if quantity.of else ""
    reagent = reagent_of(quantity.role)
    if reagent:
        other = template.scene.species[reagent].name
        kind = KINDS[quantity.kind].words
        return (Prose(f"The {kind} of {name} that could form if "), Strong(other), Prose(" were used up completely"))
    words = _WORDS.get((quantity.kind, quantity.role), f"The {KINDS[quantity.kind].words} of {{}}")
    needed = " that is needed" if _is_needed(template, quantity) else ""
    line: Line = (Prose(words.format(name)),)
    species = template.scene.species.get(quantity.of)
    if species is not None and species.formula is not None and _shows_formula(quantity):
        line = (*line, Prose(" ("), Chemical(species.formula.text), Prose(")"))
    return (*line, Prose(needed)) if needed else line


def _is_needed(template: Template, quantity: Quantity) -> bool:
    """Whether it is asked how much of a reagent to take, backwards from what is wanted."""
    species = template.scene.species.get(quantity.of)
    is_reagent = species is not None and species.coefficient < 0
    return is_reagent and quantity.kind in ("amount", "mass", "volume") and quantity.of not in template.plan.sources


def _shows_formula(quantity: Quantity) -> bool:
    return quantity.role in ("", "theoretical") and quantity.kind in ("amount", "mass", "molar_mass")


_WORDS = {
    ("mass", "theoretical"): "The theoretical yield of {} as a mass",
    ("amount", "theoretical"): "The theoretical yield of {} as an amount",
    ("volume", "theoretical"): "The theoretical yield of {} as a volume",
    ("percent_yield", ""): "The percent yield of {}",
    ("amount", "left"): "The amount of {} that is left over",
    ("mass", "left"): "The mass of {} that is left over",
    ("volume", "left"): "The volume of {} that is left over",
    ("amount", "consumed"): "The amount of {} that is used up",
    ("mass", "consumed"): "The mass of {} that is used up",
    ("volume", "initial"): "The volume of the more concentrated solution of {} to take",
    ("volume", "final"): "The volume of the solution of {} after diluting",
    ("volume", "added"): "The volume of water to add to the solution of {}",
    ("concentration", "initial"): "The amount concentration of the solution of {} before diluting",
    ("concentration", "final"): "The amount concentration of the solution of {} after diluting",
    ("concentration", ""): "The amount concentration of the solution of {}",
    ("mass_concentration", ""): "The mass concentration of the solution of {}",
    ("mass_fraction", ""): "The mass percent of {}",
    ("mass", "solution"): "The mass of the solution of {}",
    ("mass", "impure"): "The mass of impure {} to weigh",
    ("mass", "solvent"): "The mass of the solvent for {}",
    ("concentration", "mixed"): "The amount concentration of {} in the mixture",
    ("extent", ""): "The extent of the reaction",
}
