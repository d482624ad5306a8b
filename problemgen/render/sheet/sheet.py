"""A student's sheets as a neutral document: data, scheme, parts with their blanks, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from problemgen.language.messages import N_, _, spoken
from problemgen.language.numbers import decimal_mark
from problemgen.model.banks import Reaction, Substance
from problemgen.model.blocks import (
    AnswerBox,
    Block,
    BoxRow,
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
)
from problemgen.model.problem_set import Printing, ProblemSet, Sheet, Student
from problemgen.model.story import told_story
from problemgen.model.template import Template, label_of
from problemgen.model.variant import Variant
from problemgen.plan.forms import FORMS, form_of
from problemgen.render.sheet.cautions import caution_of
from problemgen.render.sheet.own_data import sheet_blocks, story_text
from problemgen.render.words.given_words import given_text, notes_blocks, numbers_blocks, told_values
from problemgen.render.words.prompts import points_text, prompt_of, short_prompt_of
from problemgen.render.words.prose import story_blocks

__all__ = ["problem_blocks", "sheet_document"]

_USUAL = Printing()


def sheet_document(
    problem_set: ProblemSet,
    student: Student,
    name: str,
    code: str,
    variants: Sequence[Variant],
    attempt: int = 1,
    session: int | None = None,
    build: str = "",
) -> Document:
    """All sheets of one student's attempt in one document, or one session's; `name` is the name as it can be printed.

    A student without a name finds a line for it; the variant stands beside the course. Where the set says so, nothing
    but the sheet code and the section tells whose the sheets are. With the mark of a `build`, each page has its code.
    """
    told, printing = problem_set.attempts.told(attempt), problem_set.printing
    by_code = printing.head == "code"
    section = _("section {name}").format(name=student.section) if student.section else ""
    blocks: list[Block] = []
    for sheet in problem_set.sheets:
        if sheet.session == (session or sheet.session):
            blocks.append(NewSheet(f"{sheet.title} ({told})" if told else sheet.title, sheet.session))
            caution = caution_of(sheet, problem_set.sheets, variants, short=printing.layout == "compact")
            at_foot = printing.layout == "compact" and isinstance(caution, Caution)
            asked = tuple(_sheet_blocks(sheet, variants, printing))
            # A box across the foot of a page stands first: Typst finds room there for one that comes last by luck only.
            blocks.extend((caution, *asked) if at_foot else (*asked, caution))
    beside = name if student.anonymous and not by_code else ""
    return Document(
        title=", ".join(filter(None, (f"{problem_set.title}: {code if by_code else student.id}", told))),
        course=", ".join(filter(None, (problem_set.course, beside))),
        student="" if student.anonymous or by_code else name,
        code=code,
        paper=problem_set.paper,
        language=problem_set.language,
        blocks=tuple(blocks),
        about=", ".join(filter(None, (("" if by_code else student.id), section))),
        name_line=not by_code,
        compact=printing.layout == "compact",
        leaves=True,
        build=build,
    )


def _sheet_blocks(sheet: Sheet, variants: Sequence[Variant], printing: Printing) -> Iterable[Block]:
    shown = [variant for variant in variants if variant.template.parts_of(sheet.session)]
    if not shown:
        yield Paragraph((Prose(_(_NOTHING)),))
        return
    yield Paragraph((Prose(_how_to(shown, sheet.session, printing)),))
    blocks = [block for variant in shown for block in problem_blocks(variant, sheet.session, printing)]
    if printing.answers == "box":
        yield AnswerBox(tuple(_box_row(block) for block in blocks if isinstance(block, Part)))
    yield from blocks


def _box_row(part: Part) -> BoxRow:
    return BoxRow(part.column, part.unit, part.wide)


def _how_to(variants: Sequence[Variant], session: int, printing: Printing) -> str:
    """What to write and to tick, for the forms of part on a sheet, and how to round."""
    used = {form_of(part.asked) for variant in variants for part in variant.template.parts_of(session)}
    forms = [form for form in FORMS.values() if form in used]
    in_box = printing.answers == "box"
    written = [_TO_BOX] if in_box else [*(f.to_write for f in forms), *(f.to_tick for f in forms)]
    own_paper = [_OWN_PAPER] if printing.layout == "compact" else []
    numbers = any(form.how_to_round for form in forms)
    marks = [_MARKS] if numbers and decimal_mark(spoken()) == "," else []
    return " ".join(_(text) for text in (*written, *marks, *own_paper, *(f.how_to_round for f in forms)) if text)


_NOTHING = N_("Nothing is asked of you on this sheet.")
_TO_BOX = N_("Write your answers into the box, in the units that stand there; of several options, the letter.")
# Translators: on sheets in languages with a decimal comma only; 0,0500 stays as it is.
_MARKS = N_("Decimals may have a comma or a point (0,0500 or 0.0500); thousands have no mark.")
_OWN_PAPER = N_("Do the working on paper of your own.")


def problem_blocks(variant: Variant, session: int, printing: Printing = _USUAL) -> Iterable[Block]:
    """One problem's blocks for one session: heading, story, scheme, data, parts.

    On a compact sheet, a problem that is continued tells its equations in formulas and its numbers in a sentence.
    """
    template = variant.template
    number = variant.problem.removeprefix("p")
    later = session > min(part.session for part in template.parts)
    heading = _("Problem {number}: {title} (continued)") if later else _("Problem {number}: {title}")
    yield Heading(2, heading.format(number=number, title=template.title))
    if not later:
        printed = {quantity: story_text(quantity, variant.given, variant.own) for quantity in template.scene.given}
        yield from story_blocks(told_story(template.story, printed))
    in_short = later and printing.layout == "compact"
    for reaction in (template.reaction, *template.further) if template.reaction else ():
        scheme = _scheme(template, reaction)
        yield replace(scheme, above="", below="", drawn=False) if in_short else scheme
        if not scheme.drawn:
            sides = {"reagents": _names(scheme.left), "products": _names(scheme.right)}
            yield Note((Prose(_("In words: {reagents} → {products}.").format(**sides)),))
    yield from _data(variant, session, compact=printing.layout == "compact", in_short=in_short)
    yield from _parts(variant, session, blank=printing.answers == "beside")


def _scheme(template: Template, reaction: Reaction) -> Scheme:
    """A reaction's scheme; without coefficients where they are asked for."""
    to_balance = any(form_of(part.asked).hides_coefficients for part in template.parts)

    def items(sign: int) -> tuple[SchemeItem, ...]:
        return tuple(
            SchemeItem(1 if to_balance else sign * nu, s.formula.text, _under_the_drawing(s), s.smiles)
            for name, nu in reaction.coefficients.items()
            if sign * nu > 0
            for s in (template.substances[name],)
        )

    return Scheme(items(-1), items(1), reaction.above, reaction.below, alt="", drawn=not to_balance)


def _names(side: Iterable[SchemeItem]) -> str:
    """The names of one side, for a scheme that shows formulas alone."""
    return " + ".join(item.name for item in side)


def _under_the_drawing(substance: Substance) -> str:
    """Its name, and for a racemate that the drawing shows one enantiomer of two."""
    return f"(±)-{substance.name}" if substance.racemic else substance.name


def _data(variant: Variant, session: int, *, compact: bool, in_short: bool) -> Iterable[Block]:
    """The table of what is measured out, and what was obtained once the product is there.

    `in_short`: what an earlier sheet has told stands in a sentence.
    """
    template = variant.template
    told = told_values(template)
    by_now = [one for one in told if one.session <= session]
    before = [one for one in by_now if one.session < session]
    names = {quantity.id for one in before for quantity in (one.quantity, one.second) if quantity is not None}
    again = {name: datum for name, datum in variant.printed.items() if name in names} if in_short else {}
    if again:
        yield Paragraph((Strong(f"{_('Your numbers from before')}: "), Prose(given_text(template, again))))
    tabled = [one for one in by_now if one not in before] if again else by_now
    yield from numbers_blocks(template.scene.species, tabled, variant.printed, narrow=compact)
    yield from sheet_blocks(template.scene, variant, told, session, narrow=compact)
    yield from notes_blocks(template.scene, template.plan, [one.quantity for one in by_now])
    measured = any(value.quantity.kind == "volume" for value in variant.own)
    if variant.flask is not None and session == 1 and _is_preparation(variant.template) and not measured:
        fits = _("The liquids measured out fit a {volume}-mL flask (two thirds full at most).")
        yield Note((Prose(fits.format(volume=variant.flask)),))


def _is_preparation(template: Template) -> bool:
    """Whether a reaction is carried out to obtain something, in a reaction flask; a titration is not."""
    return template.reaction is not None and "preparation" in template.reaction.kind


def _parts(variant: Variant, session: int, *, blank: bool) -> Iterable[Block]:
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
        beside = (
            blank or bool(part.prompt) or not form_of(part.asked).options(template.scene, template.plan, part.asked)
        )
        place = form_of(part.asked).blank(template.scene, template.plan, part.asked, lines)
        yield Part(
            id=f"{variant.problem}-{part.id}",
            label=label_of(index),
            prompt=prompt_of(template, part) if beside else short_prompt_of(template, part),
            points=points_text(part.points),
            unit=place.unit,
            choices=_lettered(place.choices),
            work_lines=place.work_lines,
            wide=place.wide,
            blank=blank,
        )


def _lettered(choices: Iterable[Line]) -> tuple[Line, ...]:
    """Options with the letters by which they can be typed, in the order of answers.json."""
    return tuple((Strong(label_of(i).upper()), Prose("\u2002"), *line) for i, line in enumerate(choices))


_LEAST_LINES, _MOST_LINES = 1, 4
"""Lines to write the working on: one a step that no earlier part asked for. The blank's own line comes on top."""
