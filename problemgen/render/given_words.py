"""Given values in the words of the sheets: "3.10 mL of solution", "density 1.082 g/mL (20 °C)"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from problemgen.model.blocks import Block, Line, Note, Paragraph, Prose, Strong, Table
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.model.template import Template
from problemgen.model.told import Told
from problemgen.render.prompts import quantity_text

__all__ = ["notes_blocks", "numbers_blocks", "printed_value", "row_words", "told_values"]

_SAMPLE = ""
"""What belongs to no species is the sample's, or that of a mixture of gases."""

_ROWS = {
    "start": "the plate",
    "front": "the plate",
    "front_edge": "the plate",
    "isomers": "all isomers together",
    "other": "other isomers",
}
"""Roles of what is no property of the substance that the value is filed under: the row that tells it."""

_LATER = ("final", "heated", "blank")
"""Roles that are told behind the others."""

_TAKEN = ("mass", "volume", "amount", "count")
_STAGE = {
    "start": "starting line, from the edge: ",
    "front": "solvent front, from the starting line: ",
    "front_edge": "solvent front, from the edge: ",
    "initial": "before diluting: ",
    "final": "after diluting: ",
    "theoretical": "wanted: ",
    "actual": "wanted: ",
    "flask": "volumetric flask: ",
    "aliquot": "aliquot: ",
    "serving": "each portion: ",
    "solvent": "solvent: ",
    "onward": "taken on: ",
    "heated": "after heating: ",
    "blank": "blank: ",
    "with_sample": "with the sample: ",
}
_TOLD_BY_KIND = (
    "equivalents",
    "excess",
    "distribution_ratio",
    "recovery",
    "share",
    "product_ratio",
    "peak_area",
    "distance",
    "retention_factor",
    "rotation",
    "specific_rotation",
    "path_length",
    "enantiomeric_excess",
    "conversion",
    "selectivity",
)
"""Kinds whose words in the list of kinds stand in front of the value."""

_DATA_WORDS = {
    "density": "density",
    "pressure": "pressure",
    "temperature": "temperature",
    "percent_yield": "expected yield",
    "molar_mass": "molar mass",
    "molar_volume": "molar volume",
    "mole_fraction": "mole fraction",
    **{kind: KINDS[kind].words for kind in _TOLD_BY_KIND},
}
_STAGED_BY_ROLE = frozenset(
    {
        "crude",
        "purified",
        "pure",
        "recovered",
        "input",
        "auxiliaries",
        "organic",
        "aqueous",
        "portion",
        "edge",
        "major",
        "minor",
    }
)
"""Roles whose words in the list of roles stand in front of the value."""

_BEHIND = {
    "volume_fraction": " by volume",
    "trace_fraction": " by mass",
    "mass_volume_percent": " (grams in 100 mL)",
}
_GAS_STATE = {"initial": "before: ", "final": "afterwards: "}
_VAPOUR = {"total": "total pressure", "vapour": "vapour pressure of water"}


def _stage(template: Template, quantity: Quantity) -> str:
    """The words in front of a value that tell when it holds; a gas is not diluted, its state changes."""
    if quantity.role == "theoretical" and any(q.role in ("impure", "sample") for q in template.scene.given):
        return "obtained: "  # from a sample that is analysed
    is_gas = any(q.of == quantity.of and q.kind in ("pressure", "temperature") for q in template.scene.given)
    if quantity.role == "actual" and Quantity("percent_yield", quantity.of) not in template.scene.given:
        return "obtained: "
    if quantity.kind == "specific_rotation" and quantity.role == "pure":
        return "pure enantiomer: "
    words = f"{quantity.role.words}: " if quantity.role in _STAGED_BY_ROLE else ""
    return (_GAS_STATE if is_gas else {}).get(quantity.role, _STAGE.get(quantity.role, words))


def told_values(template: Template) -> tuple[Told, ...]:
    """How each given value of a template is told, in the order of the sheet."""
    names = [_SAMPLE, *template.scene.species]
    obtained = [one.quantity for one in template.obtained]
    tabled = sorted(template.scene.given - {*obtained}, key=lambda q: (names.index(q.of), q.role in _LATER, q))
    return tuple(_told_value(template, quantity) for quantity in (*tabled, *obtained))


def _told_value(template: Template, quantity: Quantity) -> Told:
    if quantity in {obtained.quantity for obtained in template.obtained}:
        return Told(quantity, "obtained", f"{_obtained_words(quantity)}: ", "", template.sessions)
    column = "taken" if quantity.kind in _TAKEN else "data"
    before, behind = (_taken_words if column == "taken" else _data_words)(template, quantity)
    return Told(quantity, column, before, behind, template.session_of.get(quantity.of, 1))


def _obtained_words(quantity: Quantity) -> str:
    words = quantity.role.words
    return "Obtained, dry" if quantity.role == "actual" else words[0].upper() + words[1:]


def printed_value(template: Template, quantity: Quantity, datum: Datum) -> str:
    """A given value with the words that the sheet has for it, fit for the middle of a sentence."""
    told = _told_value(template, quantity)
    text = _text(told, datum)
    return text[0].lower() + text[1:] if told.column == "obtained" else text


def _text(told: Told, datum: Datum) -> str:
    return f"{told.before}{quantity_text(datum)}{told.behind}"


def _taken_words(template: Template, quantity: Quantity) -> tuple[str, str]:
    """The words in front of what is measured out, and behind it."""
    if quantity.role in ("solution", "impure"):
        return "", " of solution" if quantity.role == "solution" else " of the impure substance"
    return _stage(template, quantity), ""


def _data_words(template: Template, quantity: Quantity) -> tuple[str, str]:
    """The words in front of what is known of a substance, and behind it."""
    words = _VAPOUR.get(quantity.role) or _DATA_WORDS.get(quantity.kind, "")
    before = _stage(template, quantity) + (f"{words} " if words else "")
    return before, _behind(template, quantity)


def _behind(template: Template, quantity: Quantity) -> str:
    text = _BEHIND.get(quantity.kind, "")
    if quantity.kind == "mass_fraction":
        text = " pure" if _impure(template, quantity) else " by mass"
    note = next((fixed.note for fixed in template.fixed if fixed.quantity == quantity), "")
    if quantity.kind == "density" and note and quantity.role == "":
        text += f" ({note})"
    if quantity.kind == "molar_volume" and note:
        text += f" (at {note})"
    return text


def _impure(template: Template, quantity: Quantity) -> bool:
    """Whether a percentage tells the purity of a solid or liquid, not the content of a solution."""
    mentioned = {*template.scene.given, *(part.asked.quantity for part in template.parts)}
    return Quantity("mass", quantity.of, Role.IMPURE) in mentioned


def numbers_blocks(species: Mapping[str, Species], told: Sequence[Told], given: Mapping[str, Datum]) -> Iterable[Block]:
    """The table of what is measured out, a row a substance; below it what was obtained, a sentence each.

    `given` holds the values by quantity id; a told value that it lacks is left out.
    """
    shown = [one for one in told if one.quantity.id in given]
    tabled = [one for one in shown if one.column != "obtained"]
    owners = sorted(dict.fromkeys(map(_owner, tabled)), key=lambda owner: owner[0])
    rows = [_row(species, [one for one in tabled if _owner(one) == owner], given) for owner in owners]
    if rows:
        header = ((Prose("Substance"),), (Prose("Taken"),), (Prose("Data"),))
        yield Table("Your numbers", header, tuple(rows), (False, False, False), shares=(4, 3, 4))
    for one in shown:
        if one.column == "obtained":
            yield _obtained(species, one, given[one.quantity.id])


def row_words(quantity: Quantity) -> str:
    """What a value belongs to where that is not its substance: the plate, a mixture of isomers; else ""."""
    return _ROWS.get(quantity.role, "")


def _owner(told: Told) -> tuple[str, str]:
    """What a row is for: the words of one for no substance (they stand last), and the substance of the others."""
    words = row_words(told.quantity)
    return words, "" if words else told.quantity.of


def _row(species: Mapping[str, Species], mine: Sequence[Told], given: Mapping[str, Datum]) -> tuple[Line, Line, Line]:
    texts = {
        column: [_text(one, given[one.quantity.id]) for one in mine if one.column == column]
        for column in ("taken", "data")
    }
    words, owner = _owner(mine[0])
    who: Line = (Prose(words or _whole(mine)),) if owner == _SAMPLE else species[owner].line
    data = "; ".join(_without_repeats(texts["data"]))
    return who, (Prose(", ".join(texts["taken"]) or "–"),), (Prose(data or "–"),)


def _obtained(species: Mapping[str, Species], told: Told, datum: Datum) -> Paragraph:
    _, of = _owner(told)
    product: Line = (Prose(" of "), *species[of].line) if of else ()
    return Paragraph((Prose(told.before), Strong(quantity_text(datum)), *product, Prose(f"{told.behind}.")))


def _without_repeats(told: Iterable[str]) -> list[str]:
    """Values, each with the words that tell when it holds; what is said in front of one goes for the next."""
    shown: list[str] = []
    said = ""
    for text in told:
        stage, colon, value = text.rpartition(": ")
        shown.append(value if colon and stage == said else text)
        said = stage
    return shown


def _whole(mine: Iterable[Told]) -> str:
    return "mixture of gases" if any(told.quantity.role == "mixed" for told in mine) else "sample"


def notes_blocks(scene: Scene, plan: Plan) -> Iterable[Block]:
    """What stands in no row of data: reagents in excess, and the constants that the problem needs."""
    excess = [scene.species[name].name for name in scene.species if name in scene.in_excess]
    if excess:
        yield Note((Prose(f"In excess: {', '.join(excess)}."),))
    needed = {constant.quantity.kind for constant in plan.constants}
    constants = [text for kind, text in _CONSTANTS.items() if kind in needed]
    if constants:
        yield Note((Prose(f"{'; '.join(constants)}."),))


_CONSTANTS = {
    "gas_constant": "R = 8.3145 kPa·L/(mol·K), and 0 °C is 273.15 K",
    "avogadro": "N_A = 6.0221 × 10²³ per mole",
}
"""The constants as a sheet prints them: SI Brochure, 9th edition, 2019, rounded."""
