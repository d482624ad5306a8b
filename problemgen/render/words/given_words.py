"""Given values in the words of the sheets: "3.10 mL of solution", "density 1.082 g/mL (20 °C)"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from problemgen.language.letters import inside_a_sentence
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Block, Inline, Line, Note, Paragraph, Prose, Strong, Symbol, Table
from problemgen.model.fixed import Datum
from problemgen.model.lines import filled
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Kind, Quantity, Role
from problemgen.model.story import told_story
from problemgen.model.template import Template, is_second, second_of
from problemgen.model.told import Column, Told
from problemgen.render.words.listings import in_list, listing_blocks, words_in_list
from problemgen.render.words.prompts import quantity_text, ratio_text, ratio_words
from problemgen.render.words.symbols import capitalised

__all__ = ["given_text", "notes_blocks", "numbers_blocks", "printed_value", "row_words", "told_by", "told_values"]

_SAMPLE, _SAMPLE_ROW = "", N_("sample")
"""What belongs to no species is the sample's, or that of a mixture of gases."""


def _before(template: Template, quantity: Quantity) -> str:
    """The words in front of a value that tell in which role it is."""
    given = template.scene.given
    made = quantity.role is Role.ACTUAL and Quantity("percent_yield", quantity.of) not in given
    of_gas = any(q.of == quantity.of and q.kind in ("pressure", "temperature") for q in given)
    told = KINDS[quantity.kind].told_in(quantity.role, of_gas=of_gas)
    beside = quantity.role is Role.THEORETICAL and Quantity(quantity.kind, quantity.of, Role.ACTUAL) in given
    made = made or template.scene.is_analysed(quantity)
    words = _("in theory") if beside else _("obtained") if made else quantity.said(told)
    return f"{words}: " if words else ""


def told_values(template: Template) -> tuple[Told, ...]:
    """How each given value of a template is told, in the order of the sheet."""
    names = [_SAMPLE, *template.scene.species]
    obtained = [one.quantity for one in template.obtained]
    seconds = [quantity for quantity in template.scene.given if is_second(template, quantity)]
    tabled = sorted(
        template.scene.given - {*obtained, *seconds},
        key=lambda q: (names.index(q.of), q.role.words.later, in_list(q), q),
    )
    return tuple(_told_ratio(template, q) or _told_value(template, q) for q in (*tabled, *obtained))


def _told_ratio(template: Template, quantity: Quantity) -> Told | None:
    """How two numbers are told that make a ratio, by the first of them; None for any other quantity."""
    second = second_of(template, quantity)
    if second is None:
        return None
    words = capitalised(ratio_words(template.scene, quantity, second.quantity))
    return Told(quantity, "obtained", f"{words}: ", "", template.sessions, second.quantity)


def _told_value(template: Template, quantity: Quantity) -> Told:
    if quantity in {obtained.quantity for obtained in template.obtained}:
        return Told(quantity, "obtained", f"{_obtained_words(template, quantity)}: ", "", template.sessions)
    if quantity.role.words.listing:
        return Told(quantity, "listed", words_in_list(quantity), "", template.session_of.get(quantity.of, 1))
    column: Column = "taken" if KINDS[quantity.kind].extensive else "data"
    before, behind = (_taken_words if column == "taken" else _data_words)(template, quantity)
    return Told(quantity, column, before, behind, _session(template, quantity))


def _session(template: Template, quantity: Quantity) -> int:
    """The session whose sheet tells a value first: what is known of the products is told in the last."""
    if KINDS[quantity.kind].of_products or quantity.of == template.scene.standard != "":
        return template.sessions
    return template.session_of.get(quantity.of, 1)


def told_by(template: Template) -> Mapping[Quantity, int]:
    """The session whose sheet tells each given value first: in its tables, or in the story of the problem."""
    told = {
        quantity: one.session for one in told_values(template) for quantity in (one.quantity, one.second) if quantity
    }
    marks = {quantity: f"\x00{place}\x00" for place, quantity in enumerate(told)}
    story = told_story(template.story, marks)
    first = min(part.session for part in template.parts)
    return {quantity: first if marks[quantity] in story else session for quantity, session in told.items()}


def _obtained_words(template: Template, quantity: Quantity) -> str:
    """The words in front of what is obtained; only a solid is dried before it is weighed."""
    words, substance = quantity.role.words, template.substances.get(quantity.of)
    if not words.weighed:
        return capitalised(_(words.phrase))
    weighed = _(words.weighed)
    is_solid = substance is None or substance.state == "solid"
    # Translators: {obtained} is "Obtained".
    return _("{obtained}, dry").format(obtained=weighed) if is_solid else weighed


def printed_value(template: Template, quantity: Quantity, datum: Datum) -> str:
    """A given value with the words that the sheet has for it, fit for the middle of a sentence."""
    told = _told_value(template, quantity)
    text = _text(told, datum)
    return inside_a_sentence(text) if told.column == "obtained" else text


def given_text(template: Template, given: Mapping[str, Datum]) -> str:
    """Given values, by quantity id, as a sentence: a substance after the other, in the sheet's words."""
    names = ["", *template.scene.species]
    told: dict[str, list[str]] = {}
    printed = [quantity for quantity in template.scene.given if quantity.id in given]
    for quantity in sorted(printed, key=lambda q: (names.index(q.of), in_list(q), q)):
        name = template.scene.species[quantity.of].name if quantity.of else _(quantity.role.words.thing)
        owner = row_words(quantity) or name
        text = printed_value(template, quantity, given[quantity.id])
        told.setdefault(owner, []).append(text.removeprefix(f"{owner}: "))
    return "; ".join(f"{name}: {', '.join(texts)}" for name, texts in told.items()) + "."


def _text(told: Told, datum: Datum) -> str:
    return f"{told.before}{quantity_text(datum)}{told.behind}"


def _taken_words(template: Template, quantity: Quantity) -> tuple[str, str]:
    """The words in front of what is measured out, and behind it."""
    sample = template.samples.get(quantity.of) if quantity.role is Role.IMPURE else None
    # Translators: stands behind what is weighed: "2.50 g of soda ash".
    behind = _(" of {sample}").format(sample=sample) if sample else _(quantity.role.words.behind)
    return _before(template, quantity), behind


def _data_words(template: Template, quantity: Quantity) -> tuple[str, str]:
    """The words in front of what is known of a substance, and behind it."""
    words = _(quantity.role.words.label) or KINDS[quantity.kind].told
    before = _before(template, quantity) + (f"{words} " if words else "")
    return before, _behind(template, quantity)


def _behind(template: Template, quantity: Quantity) -> str:
    kind = KINDS[quantity.kind]
    pure = quantity.kind == "mass_fraction" and _impure(template, quantity)
    # Translators: stands behind a percentage: "98.5 % pure".
    text = _(" pure") if pure else _(kind.behind)
    note = next((fixed.note for fixed in template.fixed if fixed.quantity == quantity), "")
    return text + _(kind.note).format(note=note) if note and quantity.role is Role.PLAIN else text


def _impure(template: Template, quantity: Quantity) -> bool:
    """Whether a percentage tells the purity of a solid or liquid, not the content of a solution."""
    mentioned = {*template.scene.given, *(part.asked.quantity for part in template.parts)}
    return Quantity("mass", quantity.of, Role.IMPURE) in mentioned


def numbers_blocks(
    species: Mapping[str, Species],
    told: Sequence[Told],
    given: Mapping[str, Datum],
    *,
    narrow: bool = False,
    heading: str = "",
) -> Iterable[Block]:
    """The table of what is measured out, a row a substance; below it the lists, and what was obtained, a sentence each.

    `given` holds the values by quantity id; a told value that it lacks is left out. A `narrow` table has one column
    for what is taken and what is known of it. Without a `heading`, the one that speaks to the student is taken.
    """
    shown = [one for one in told if one.quantity.id in given]
    tabled = [one for one in shown if one.column in ("taken", "data")]
    owners = sorted(dict.fromkeys(map(_owner, tabled)), key=lambda owner: owner[0])
    rows = [_row(species, [one for one in tabled if _owner(one) == owner], given) for owner in owners]
    if rows and narrow:
        both = ((Prose(_("Substance")),), (Prose(heading or _("Your numbers")),))
        yield Table("", both, tuple(_narrow(*row) for row in rows), (False, False), shares=(5, 7))
    elif rows:
        header = ((Prose(_("Substance")),), (Prose(_("How much")),), (Prose(_("Data")),))
        yield Table(heading or _("Your numbers"), header, tuple(rows), (False, False, False), shares=(4, 3, 4))
    yield from listing_blocks(species, [one.quantity for one in shown if one.column == "listed"], given)
    for one in shown:
        if one.column == "obtained":
            second = given.get(one.second.id) if one.second is not None else None
            datum = given[one.quantity.id]
            yield _obtained(species, one, ratio_text(datum, second) if second is not None else quantity_text(datum))


def row_words(quantity: Quantity) -> str:
    """What a value belongs to where that is not its substance: the plate, a mixture of isomers; else ""."""
    return _(quantity.role.words.row) if quantity.of else ""


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
    return who, (Prose(", ".join(_without_repeats(texts["taken"])) or _NOTHING),), (Prose(data or _NOTHING),)


_NOTHING = "–"
"""Stands in a cell that has nothing to tell."""


def _narrow(who: Line, taken: Line, data: Line) -> tuple[Line, Line]:
    """A row with what is taken and what is known of it in one cell."""
    told = [line for line in (taken, data) if line != (Prose(_NOTHING),)]
    return who, (*told[0], Prose(", "), *told[1]) if len(told) > 1 else told[0]


def _obtained(species: Mapping[str, Species], told: Told, text: str) -> Paragraph:
    of = _owner(told)[1]
    amount: Line = (Strong(text),)
    if of and told.second is None:
        # Translators: what was obtained: "4.20 g of isopentyl acetate".
        amount = filled(_("{amount} of {substance}"), amount=amount, substance=species[of].line)
    return Paragraph((Prose(told.before), *amount, Prose(f"{told.behind}.")))


def _without_repeats(told: Iterable[str]) -> list[str]:
    """Values, each with the words that tell when it holds; what is said in front of one goes for the next."""
    shown: list[str] = []
    said = ""
    for text in told:
        stage, colon, value = text.rpartition(": ")
        shown.append(value if colon and stage == said else text)
        said = stage
    return shown


_COARSE = {
    "peak_area": N_("Peak areas are good for three significant figures at most."),
    "integral": N_("Integrals are good for three significant figures at most."),
}
"""What is said of readings that show more digits than they are good for, by kind."""


def _of_response_factors(scene: Scene) -> str:
    """By which convention response factors are told."""
    standard = scene.species[scene.standard].name if scene.standard else ""
    if standard:
        return _(
            "The response factor of a substance is the peak area that it gives for each mole, over the peak area that "
            "{standard}, the internal standard, gives for each mole; that of {standard} itself is 1."
        ).format(standard=standard)
    return _(
        "The response factor of a substance is the peak area that it gives for each mole, over the peak area that one "
        "and the same standard gives for each mole."
    )


def _whole(mine: Iterable[Told]) -> str:
    rows = (told.quantity.role.words.row for told in mine)
    return _(next(filter(None, rows), _SAMPLE_ROW))


def notes_blocks(scene: Scene, plan: Plan, told: Iterable[Quantity] | None = None) -> Iterable[Block]:
    """What stands in no row of data: reagents in excess, what readings mean, and the constants that the problem needs.

    `told` are the given values that stand above, all of the plan's where they are not named.
    """
    kinds = {quantity.kind for quantity in (plan.given if told is None else told)}
    excess = [scene.species[name].name for name in scene.species if name in scene.in_excess]
    if excess:
        yield Note((Prose(_("In excess: {names}.").format(names=", ".join(excess))),))
    if "response_factor" in kinds:
        yield Note((Prose(_of_response_factors(scene)),))
    coarse = [kind for kind in KINDS.values() if kind.most_figures is not None and kind.name in kinds]
    for kind in coarse:
        yield Note((Prose(_(_COARSE[kind.name])),))
    needed = {constant.quantity.kind for constant in plan.constants}
    constants = [kind for kind in KINDS.values() if kind.printed and kind.name in needed]
    if constants:
        yield Note(tuple(_of_constants(constants)))


def _of_constants(kinds: Sequence[Kind]) -> Iterator[Inline]:
    """The constants as a sheet prints them: "R = …; N_A = …."."""
    for kind in kinds:
        yield Symbol(kind.symbol, sub=kind.sub)
        yield Prose(f" = {_(kind.printed)}{'.' if kind is kinds[-1] else '; '}")
