"""The words of a part that its author left to the engine, and how given values are told."""

from __future__ import annotations

from problemgen.chemistry.units import unit_text
from problemgen.exact.digits import Written, number_text
from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.template import Part, Template, label_of
from problemgen.plan.forms import form_of

__all__ = [
    "label_of",
    "points_text",
    "prompt_of",
    "quantity_text",
]


def points_text(points: Written) -> str:
    """ "1 point", "2 points"."""
    return f"{points.text} point" if points.value == 1 else f"{points.text} points"


def quantity_text(datum: Datum) -> str:
    """A given value as it is printed: "2.60 mL", "37 %", "9.2 × 10⁻⁴ mol"."""
    number = number_text(datum.written.text)
    unit = unit_text(datum.unit)
    return f"{number}\u00a0{unit}" if unit else number


def prompt_of(template: Template, part: Part) -> Line:
    """The prompt of a part: the author's, or the engine's."""
    if part.prompt:
        return (Prose(part.prompt),)
    return form_of(part.asked).prompt(part.asked) or _asked_for(template, part.asked.quantity)


def _asked_for(template: Template, quantity: Quantity) -> Line:
    name = template.scene.species[quantity.of].name if quantity.of else ""
    if quantity.source:
        other = template.scene.species[quantity.source].name
        kind = KINDS[quantity.kind].words
        if quantity.kind == "equivalents":
            return (Prose(f"The {kind} of {name}: its amount over that of "), Strong(other))
        return (Prose(f"The {kind} of {name} that could form if "), Strong(other), Prose(" were used up completely"))
    words = _WORDS.get((quantity.kind, quantity.role), _plain_words(quantity))
    needed = " that is needed" if _is_needed(template, quantity) else ""
    line: Line = (Prose(words.format(name, **quantity.counts)),)
    species = template.scene.species.get(quantity.of)
    if species is not None and species.formula is not None and _shows_formula(quantity):
        line = (*line, Prose(" ("), Chemical(species.formula.text), Prose(")"))
    return (*line, Prose(needed)) if needed else line


def _plain_words(quantity: Quantity) -> str:
    """The words of a quantity that has none of its own here: its kind, and what its role says."""
    role = f" {quantity.role.words}" if quantity.role in _TOLD_BY_ROLE else ""
    return f"The {KINDS[quantity.kind].words} of {{}}{role}"


def _is_needed(template: Template, quantity: Quantity) -> bool:
    """Whether it is asked how much of a reagent to take, backwards from what is wanted."""
    species = template.scene.species.get(quantity.of)
    measured = {*template.plan.sources, *(q.of for q in template.plan.given if q.kind in ("amount", "mass", "volume"))}
    is_reagent = species is not None and species.coefficient < 0 and quantity.role not in _TOLD_BY_ROLE
    return is_reagent and quantity.kind in ("amount", "mass", "volume") and quantity.of not in measured


def _shows_formula(quantity: Quantity) -> bool:
    return quantity.role in ("", "theoretical") and quantity.kind in ("amount", "mass", "molar_mass")


_TOLD_BY_ROLE = frozenset(
    {
        "needed",
        "surplus",
        "recovered",
        "converted",
        "crude",
        "purified",
        "pure",
        "lost",
        "organic",
        "aqueous",
        "first",
        "second",
        "isomers",
        "other",
        "input",
        "waste",
        "unextracted",
        "extracted",
        "major",
        "minor",
        "front",
        "taken",
    }
)
"""Roles whose words in the list of roles complete the prompt."""

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
    ("mole_fraction", ""): "The mole fraction of {}",
    ("molality", ""): "The molality of the solution of {}",
    ("volume_fraction", ""): "The volume percent of {}",
    ("trace_fraction", ""): "The mass fraction of {}",
    ("mass_volume_percent", ""): "The grams of {} in 100 mL of the solution",
    ("mass", "flask"): "The mass of {} in the volumetric flask",
    ("amount", "flask"): "The amount of {} in the volumetric flask",
    ("mass", "sample"): "The mass of the sample",
    ("amount", "serving"): "The amount of {} in each portion",
    ("mass", "serving"): "The mass of {} in each portion",
    ("volume", "serving"): "The volume of {} in each portion",
    ("portions", ""): "The number of portions of {}",
    ("concentration", "diluted"): "The amount concentration of {} after the {nth} dilution",
    ("amount", "taken"): "The amount of {} to take",
    ("mass", "taken"): "The mass of {} to take",
    ("volume", "taken"): "The volume of {} to take",
    ("equivalents", ""): "The equivalents of {}: its amount over that of the other reagent",
    ("excess", ""): "The percent excess of {} over what the equation asks for",
    ("atom_economy", ""): "The atom economy of making {}",
    ("e_factor", ""): "The E-factor of making {}: waste over product",
    ("mass_intensity", ""): "The process mass intensity of making {}: all that was put in over product",
    ("mass", "input"): "The mass of all that was put in to make {}",
    ("mass", "waste"): "The mass of waste from making {}",
    ("recovery", "first"): "The percent recovery of {} in the first purification",
    ("recovery", "second"): "The percent recovery of {} in the second purification",
    ("distance", "front"): "The distance that the solvent front travelled",
    ("share", "major"): "The share of the main enantiomer of {}",
    ("share", "minor"): "The share of the other enantiomer of {}",
    ("mass", "isomers"): "The mass of all isomers together",
    ("mass", "other"): "The mass of the isomers other than {}",
    ("share", "other"): "The share of the isomers other than {}",
    ("fraction_left", "unextracted"): "The percent of {} left in the water after {n} portion{s}",
    ("fraction_extracted", "extracted"): "The percent of {} extracted by {n} portion{s}",
    ("recovery", ""): "The percent recovery of {} from crude to pure product",
    ("distribution_ratio", ""): "The distribution ratio of {}, organic over aqueous layer",
    ("distance", ""): "The distance that {} travelled",
    ("share", ""): "The share of {} among the isomers",
    ("percent_yield", "isomers"): "The percent yield of all isomers together",
    ("mass", "actual"): "The mass of {} that is obtained",
    ("pressure", "total"): "The total pressure of {} and water vapour",
    ("pressure", "vapour"): "The pressure of the water vapour in {}",
    ("pressure", "initial"): "The pressure of {} before the change",
    ("pressure", "final"): "The pressure of {} after the change",
    ("temperature", "initial"): "The temperature of {} before the change",
    ("temperature", "final"): "The temperature of {} after the change",
    ("volume", "dry"): "The volume of {} when dried, at the same total pressure",
    ("pressure", "mixed"): "The total pressure of the mixture",
    ("volume", "mixed"): "The volume of the mixture",
    ("amount", "mixed"): "The amount of all gases together",
    ("temperature", "mixed"): "The temperature of the mixture",
    ("percent_yield", "overall"): "The percent yield of {} over all steps",
    ("amount", "onward"): "The amount of {} that is taken on to the next step",
    ("volume", "net"): "The difference of blank and sample in the titration with {}",
    ("amount", "net"): "The amount of {} that the sample accounts for in the titration",
    ("amount", "whole"): "The amount of {} that the sample would hold if it were nothing else",
    ("mass", "driven_off"): "The mass that heating drives off",
    ("waters", ""): "The number of waters in one formula unit of the hydrate of {}",
}
