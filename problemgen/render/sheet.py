"""A student's sheets as a neutral document: data, scheme, parts with their blanks, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from problemgen.model.banks import Hazard, Reaction
from problemgen.model.blocks import (
    Block,
    Caution,
    Document,
    Heading,
    Line,
    NewSheet,
    Note,
    Paragraph,
    Part,
    Prose,
    Scheme,
    SchemeItem,
    Strong,
    Table,
)
from problemgen.model.fixed import Datum
from problemgen.model.problem_set import ProblemSet, Sheet, Student
from problemgen.model.quantity import KINDS, ROLES, Quantity
from problemgen.model.story import told_story
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from problemgen.render.prompts import label_of, points_text, prompt_of, quantity_text, species_words, unit_text
from problemgen.render.prose import story_blocks

__all__ = ["EXERCISE", "printed_value", "problem_blocks", "sheet_document", "sheet_of"]

EXERCISE = (
    "These pages are a calculation exercise, not a procedure. In the laboratory follow your instructor, the local "
    "rules and the current safety data sheet of every substance."
)
_WHAT_TO_WRITE = {
    "number": "Write a number in each blank; the unit stands beside it. ",
    "formula": "Write a formula where one is asked. ",
    "equation": "Write the balanced equation where one is asked. ",
    "species": "Tick one reagent where there are boxes. ",
}
FIGURES_RULE = (
    "Take molar masses to two decimals or better, keep on the way at least as many figures as your data have (never "
    "fewer than three), and round the answer to the figures that the data support."
)
"""What a student is told of rounding: whoever keeps to it arrives inside every window."""


def sheet_document(
    problem_set: ProblemSet, student: Student, name: str, code: str, variants: Sequence[Variant]
) -> Document:
    """All sheets of one student in one document; `name` is the name as it can be printed."""
    blocks: list[Block] = []
    for sheet in problem_set.sheets:
        blocks.extend(_sheet_blocks(sheet, variants))
    return Document(
        title=f"{problem_set.title}: {student.id}",
        course=problem_set.course,
        student=name,
        code=code,
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
    )


def sheet_of(problem_set: ProblemSet, session: int) -> Sheet:
    """The sheet that holds a session's parts."""
    return next(sheet for sheet in problem_set.sheets if sheet.session == session)


def _sheet_blocks(sheet: Sheet, variants: Sequence[Variant]) -> Iterable[Block]:
    yield NewSheet(sheet.title)
    shown = [variant for variant in variants if variant.template.parts_of(sheet.session)]
    yield Paragraph((Prose(_how_to(shown, sheet.session)),))
    for variant in shown:
        yield from problem_blocks(variant, sheet.session)
    hazards = _hazards(shown, sheet.session)
    yield Caution("A calculation exercise, not a procedure", ((Prose(EXERCISE),), *hazards))


def _how_to(variants: Sequence[Variant], session: int) -> str:
    """What to write where, for the kinds of answers on a sheet, and how to round."""
    forms = {part.asked.form for variant in variants for part in variant.template.parts_of(session)}
    told = "".join(words for form, words in _WHAT_TO_WRITE.items() if form in forms)
    return told + FIGURES_RULE if "number" in forms else told.rstrip()


def problem_blocks(variant: Variant, session: int) -> Iterable[Block]:
    """One problem's blocks for one session: heading, story, scheme, data, parts."""
    template = variant.template
    number = variant.problem.removeprefix("p")
    later = session > min(part.session for part in template.parts)
    heading = f"Problem {number}: {template.title}" + (" (continued)" if later else "")
    yield Heading(2, heading)
    if not later:
        printed = {quantity: quantity_text(variant.given[quantity.id]) for quantity in template.scene.given}
        yield from story_blocks(told_story(template.story, printed))
    for reaction in (template.reaction, *template.further) if template.reaction else ():
        yield _scheme(template, reaction)
    yield from _data(variant, session)
    yield from _parts(variant, session)


def _scheme(template: Template, reaction: Reaction) -> Scheme:
    """A reaction's scheme; without coefficients where they are asked for."""
    to_balance = any(part.asked.form == "equation" for part in template.parts)

    def items(sign: int) -> tuple[SchemeItem, ...]:
        return tuple(
            SchemeItem(1 if to_balance else sign * nu, s.formula.text, s.name, s.smiles)
            for name, nu in reaction.coefficients.items()
            if sign * nu > 0
            for s in (template.substances[name],)
        )

    return Scheme(items(-1), items(1), reaction.above, reaction.below, alt="", drawn=not to_balance)


def _data(variant: Variant, session: int) -> Iterable[Block]:
    """The table of what is measured out, and what was obtained once the product is there."""
    names = (_SAMPLE, *variant.template.scene.species)
    rows = [row for name in names if (row := _row(variant, name, session))]
    if rows:
        header = ((Prose("Substance"),), (Prose("Taken"),), (Prose("Data"),))
        yield Table("Your numbers", header, tuple(rows), (False, False, False), shares=(4, 3, 4))
    for obtained in variant.template.obtained:
        if session == variant.template.sessions:
            datum = variant.given[obtained.quantity.id]
            of = obtained.quantity.of
            product: Line = (Prose(" of "), *species_words(variant.template, of)) if of else ()
            words = Prose(f"{_obtained_words(obtained.quantity)}: ")
            yield Paragraph((words, Strong(quantity_text(datum)), *product, Prose(".")))
    yield from _notes(variant.template)
    if variant.flask is not None and session == 1 and _is_preparation(variant.template):
        yield Note((Prose(f"The mixture fits a {variant.flask}-mL flask (two thirds full at most)."),))


def _obtained_words(quantity: Quantity) -> str:
    words = ROLES[quantity.role]
    return "Obtained, dry" if quantity.role == "actual" else words[0].upper() + words[1:]


def _notes(template: Template) -> Iterable[Block]:
    """What stands in no row of data: reagents in excess, and the constants that the problem needs."""
    excess = [template.scene.species[name].name for name in template.scene.species if name in template.scene.in_excess]
    if excess:
        yield Note((Prose(f"In excess: {', '.join(excess)}."),))
    needed = {constant.quantity.kind for constant in template.plan.constants}
    constants = [text for kind, text in _CONSTANTS.items() if kind in needed]
    if constants:
        yield Note((Prose(f"{'; '.join(constants)}."),))


_CONSTANTS = {
    "gas_constant": "R = 8.3145 kPa·L/(mol·K), and 0 °C is 273.15 K",
    "avogadro": "N_A = 6.0221 × 10²³ per mole",
}
"""The constants as a sheet prints them: SI Brochure, 9th edition, 2019, rounded."""


def _is_preparation(template: Template) -> bool:
    """Whether a reaction is carried out to obtain something, in a reaction flask; a titration is not."""
    return template.reaction is not None and "preparation" in template.reaction.kind


def _row(variant: Variant, name: str, session: int) -> tuple[Line, Line, Line] | None:
    template = variant.template
    told_apart = {obtained.quantity for obtained in template.obtained}
    mine = {
        quantity: variant.given[quantity.id]
        for quantity in sorted(template.scene.given, key=lambda one: (one.role in _LATER, one))
        if quantity.of == name and quantity not in told_apart
    }
    if not mine or template.session_of.get(name, 1) > session:
        return None
    taken = [_taken(template, quantity, datum) for quantity, datum in mine.items() if quantity.kind in _TAKEN]
    data = _without_repeats(_told(template, q, datum) for q, datum in mine.items() if q.kind not in _TAKEN)
    who: Line = species_words(template, name) if name != _SAMPLE else (Prose(_whole(mine)),)
    return who, (Prose(", ".join(taken) or "–"),), (Prose("; ".join(data) or "–"),)


_SAMPLE = ""
"""What belongs to no species is the sample's, or that of a mixture of gases."""


def _without_repeats(told: Iterable[str]) -> list[str]:
    """Values, each with the words that tell when it holds; what is said in front of one goes for the next."""
    shown: list[str] = []
    said = ""
    for text in told:
        stage, colon, value = text.rpartition(": ")
        shown.append(value if colon and stage == said else text)
        said = stage
    return shown


def _whole(mine: Iterable[Quantity]) -> str:
    return "mixture of gases" if any(quantity.role == "mixed" for quantity in mine) else "sample"


_LATER = ("final", "heated", "blank")
"""Roles that are told behind the others."""

_TAKEN = ("mass", "volume", "amount", "count")
_STAGE = {
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
        "isomers",
        "other",
        "input",
        "auxiliaries",
        "organic",
        "aqueous",
        "portion",
        "front",
        "edge",
        "front_edge",
        "start",
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
    words = f"{ROLES[quantity.role]}: " if quantity.role in _STAGED_BY_ROLE else ""
    return (_GAS_STATE if is_gas else {}).get(quantity.role, _STAGE.get(quantity.role, words))


def printed_value(template: Template, quantity: Quantity, datum: Datum) -> str:
    """A given value with the words that the sheet has for it: "3.10 mL of solution", "density 1.082 g/mL (20 °C)"."""
    if quantity in {obtained.quantity for obtained in template.obtained}:
        words = _obtained_words(quantity)
        return f"{words[0].lower()}{words[1:]}: {quantity_text(datum)}"
    words_for = _taken if quantity.kind in _TAKEN else _told
    return words_for(template, quantity, datum)


def _taken(template: Template, quantity: Quantity, datum: Datum) -> str:
    text = quantity_text(datum)
    if quantity.role in ("solution", "impure"):
        return text + (" of solution" if quantity.role == "solution" else " of the impure substance")
    return _stage(template, quantity) + text


def _told(template: Template, quantity: Quantity, datum: Datum) -> str:
    note = next((fixed.note for fixed in template.fixed if fixed.quantity == quantity), "")
    words = _VAPOUR.get(quantity.role) or _DATA_WORDS.get(quantity.kind, "")
    text = f"{words} {quantity_text(datum)}".strip()
    if quantity.kind == "mass_fraction":
        text += " pure" if _impure(template, quantity) else " by mass"
    text += _BEHIND.get(quantity.kind, "")
    if quantity.kind == "density" and note and quantity.role == "":
        text += f" ({note})"
    if quantity.kind == "molar_volume" and note:
        text += f" (at {note})"
    return _stage(template, quantity) + text


def _impure(template: Template, quantity: Quantity) -> bool:
    """Whether a percentage tells the purity of a solid or liquid, not the content of a solution."""
    mentioned = {*template.scene.given, *(part.asked.quantity for part in template.parts)}
    return Quantity("mass", quantity.of, "impure") in mentioned


def _parts(variant: Variant, session: int) -> Iterable[Block]:
    template = variant.template
    worked: set[str] = set()
    for index, part in enumerate(template.parts):
        steps = {
            step.quantity.id
            for step in template.plan.steps_to(part.asked.quantity.id)
            if step.rounding not in ("none", "whole")
        }
        lines = min(max(len(steps - worked), _LEAST_LINES), _MOST_LINES)
        worked |= steps
        if part.session != session:
            continue
        choices: tuple[Line, ...] = ()
        if part.asked.choice:
            choices = tuple(species_words(template, source) for source in template.plan.sources)
        yield Part(
            id=f"{variant.problem}-{part.id}",
            label=label_of(index),
            prompt=prompt_of(template, part),
            points=points_text(part.points),
            unit=unit_text(part.asked.unit) if part.asked.form == "number" else "",
            choices=choices,
            work_lines=0 if part.asked.choice else lines,
            wide=part.asked.form == "equation",
        )


_LEAST_LINES, _MOST_LINES = 1, 4
"""Lines to write the working on: one a step that no earlier part asked for. The blank's own line comes on top."""


def _hazards(variants: Sequence[Variant], session: int) -> list[Line]:
    """The hazard lines of the reagents on a sheet, each once, in the order of the problems."""
    lines: dict[str, Line] = {}
    for variant in variants:
        template = variant.template
        for name, species in template.scene.species.items():
            hazard = template.hazards.get(name)
            later = any(equation.coefficients.get(name, 0) < 0 for equation in template.scene.further)
            used = species.coefficient < 0 or later or name in {q.of for q in template.scene.given}
            if hazard is not None and hazard.statements and used and template.session_of.get(name, 1) <= session:
                lines[name] = _hazard(template.substances[name].name, hazard)
    return list(lines.values())


def _hazard(name: str, hazard: Hazard) -> Line:
    signal = f"{hazard.signal}. " if hazard.signal else ""
    return (Strong(f"{name}: "), Prose(f"{signal}{'; '.join(hazard.statements)}."))
