"""What every template keeps, the next one as well: its variants solve, are fair, and can be printed and marked.

No variant of two thousand rewards a mistake or refuses an honest worker: test_two_thousand.py.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

import pytest

from problemgen.chemistry.equation import Equation, Term, balance, read_equation
from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.load.resources import layouts
from problemgen.model.blocks import Block, Calculation, Chemical, Paragraph, Prose, Strong
from problemgen.model.fixed import Datum
from problemgen.model.plan import Mistake
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.model.template import Draw, Part
from problemgen.model.variant import Variant
from problemgen.pipeline.template_trial import tried
from problemgen.plan.arithmetic import Exact
from problemgen.plan.forms import form_of
from problemgen.plan.laws.formulas import formula_text
from problemgen.render.key.variant_key import key_document, variant_solution
from problemgen.render.printers.html import page
from problemgen.render.printers.typst import sheet_data
from problemgen.render.sheet.sheet import sheet_document
from problemgen.render.words.symbols import capitalised
from problemgen.write.pdf import Job, compile_all
from tests.support.contract import Made, labelled, made_from, owed_by, the_set, the_student
from tests.support.shipped import PATHS, shipped
from tests.support.small_set import banks
from tests.support.worked_values import exact_values, mistaken_values

MARKED, PAGES = 4, 2
"""Variants on which every wrong way is marked, and variants that are printed: both take longer than solving."""

NOTHING = Fraction(0)
ALIKE = Fraction(2, 100)
EXACT = Exact()


def told(variant: Variant, part: Part, answer: Any) -> str:
    """An answer as a student writes it who has it right."""
    return form_of(part.asked).text(variant.template.scene, part.asked, answer)


def right_cells(variant: Variant) -> dict[str, str]:
    return {label: told(variant, part, answer) for label, part, answer in labelled(variant)}


# drawing


def off_scale(draw: Draw, datum: Datum) -> bool:
    """Whether a drawn value is none of those that its scale or list has, digits and unit included."""
    if draw.choices:
        return datum.written not in draw.choices or datum.unit != draw.unit
    steps = datum.written.value / draw.step.value
    on_scale = steps.denominator == 1 and draw.first <= steps < draw.first + draw.count
    return not on_scale or datum.written.place != draw.step.place or datum.unit != draw.unit


def test_off_scale_values_are_seen() -> None:
    one = made_from(shipped("amounts/three-weighings"))
    draw = one.template.draws[0]
    datum = one.variants[0].given[draw.quantity.id]
    assert not off_scale(draw, datum)
    assert off_scale(draw, Datum(datum.written, "mg"))
    assert off_scale(draw, Datum(banks().reactions["aspirin"].flasks[0], datum.unit))


def test_variants_are_drawn_as_the_template_says(made: Made) -> None:
    template, variants = made.template, made.variants
    for variant in variants:
        assert [d.quantity.id for d in template.draws if off_scale(d, variant.given[d.quantity.id])] == []
        for read_off in (*template.obtained, *template.readings):
            datum = variant.given[read_off.quantity.id]
            assert (datum.written.value / read_off.step.value).denominator == 1
            assert datum.written.place == read_off.step.place
        assert variant.given.keys() == {quantity.id for quantity in template.scene.given}
    alike = [tuple(sorted((n, d.written.text) for n, d in variant.given.items())) for variant in variants]
    assert len(set(alike)) == len(variants)


def test_answers_have_units_of_their_kind_and_windows_around_them(made: Made) -> None:
    for variant in made.variants:
        for label, part, answer in labelled(variant):
            if part.asked.form != "number":
                assert told(variant, part, answer), label
                continue
            assert read_unit(part.asked.unit).dimension == KINDS[part.asked.quantity.kind].dimension, label
            counted = answer.low == answer.value == answer.high and answer.value.denominator == 1
            assert counted or answer.low < answer.value < answer.high, label
            assert answer.low > 0 or answer.value < 0 or part.asked.unit == "°C", label


def test_the_numbers_as_printed_lead_into_every_window(made: Made) -> None:
    """Who takes the numbers as printed and rounds at the end arrives inside every window."""
    template = made.template
    for variant in made.variants:
        data = {n: read_unit(datum.unit).to_engine(datum.written.value) for n, datum in variant.given.items()}
        values = exact_values(template.plan, data)
        for label, part, answer in labelled(variant):
            if part.asked.form == "number":
                value = read_unit(part.asked.unit).from_engine(values[part.asked.quantity.id])
                rounded = Fraction(figures_text(value, answer.figures))
                assert answer.low <= rounded <= answer.high, label


WIDE = {
    # What is left in excess is a small difference for some, whichever limits: two weighings leave no gap.
    "yield/fluorescein": "(h)",
    # Five steps from the bottle of bromobenzene to the acid in its bottle, all with three figures.
    "preparations/triphenylmethanol": "(k)",
}
"""Parts whose windows are wide in some variants, by template, and why."""


def test_there_is_nothing_to_say_when_it_is_tried_out(made: Made) -> None:
    """`problemgen check FILE` would find it: neither a fault, nor anything weaker than in the other templates."""
    trial = tried(made.template, PATHS[made.template.id])
    wide = WIDE.get(made.template.id)
    known = [one for one in trial.remarks if wide and re.fullmatch(rf"a window of .* in {re.escape(wide)}", one.found)]
    assert trial.faults == ()
    if not made.template.id.startswith("pinned/"):  # numbers worked by hand rest on these as they were, wide or not
        assert [one for one in trial.remarks if one not in known] == []
        assert len(known) == (wide is not None)


def poured(variant: Variant) -> Fraction:
    """Millilitres of liquid that the sheet has poured together: reagents, neat or dissolved; a gas has a pressure."""
    template, given = variant.template, variant.given
    liquids = (
        Quantity("volume", name, role).id for name in template.session_of for role in (Role.PLAIN, Role.SOLUTION)
    )
    gases = {Quantity("volume", name).id for name in template.session_of if Quantity("pressure", name).id in given}
    read = (given[one] for one in liquids if one in given and one not in gases)
    return sum((read_unit(one.unit).to_engine(one.written.value) * 1000 for one in read), Fraction(0))


def test_liquids_fit_a_flask(made: Made) -> None:
    """The smallest that they fill to two thirds at most; none is spoken of below a fifth of the smallest."""
    reaction = made.template.reaction
    sizes = [] if reaction is None else [flask.value for flask in reaction.flasks]
    for variant in made.variants:
        fitting = [size for size in sizes if 3 * poured(variant) <= 2 * size]
        is_said = bool(sizes) and 5 * poured(variant) > sizes[0]
        assert variant.flask == (min(fitting) if is_said else None)


# marking


def test_the_key_read_back_gives_full_points(made: Made) -> None:
    for index, variant in enumerate(made.variants):
        result = made.judged(index, right_cells(variant))
        assert result.points == result.of, [part for part in result.parts if part.points < part.of]


def numbers_changed(variant: Variant, change: Mapping[str, str]) -> dict[str, str]:
    return {**right_cells(variant), **change}


def test_ten_times_too_much_and_seconds_are_not_right(made: Made) -> None:
    for index, variant in enumerate(made.variants[:MARKED]):
        numeric = [(label, part, a) for label, part, a in labelled(variant) if part.asked.form == "number"]
        if not numeric:
            continue
        tens = {
            label: f"{figures_text(10 * a.value, a.figures)} {part.asked.unit}".removesuffix(" 1")
            for label, part, a in numeric
        }
        result = made.judged(index, numbers_changed(variant, tens))
        assert result.points < result.of
        seconds = {label: f"{answer.printed} s" for label, _, answer in numeric}
        result = made.judged(index, numbers_changed(variant, seconds))
        assert {p.verdict for p in result.parts if p.label[1:] in seconds} == {"unit"}
        assert [p.points for p in result.parts if p.label[1:] in seconds] == [0] * len(numeric)


def mistaken_answer(variant: Variant, part: Part, answer: Any, wrong: Mapping[str, Fraction]) -> str:
    """What is answered after a mistake, written with a figure more than the data support."""
    quantity, plan = part.asked.quantity, variant.template.plan
    if part.asked.form == "species":
        extents = {source: wrong[Quantity("extent", source).id] for source in plan.sources}
        taken = min(extents, key=lambda source: abs(extents[source] - wrong[Quantity("extent", "").id]))
        return variant.template.scene.species[taken].name
    if part.asked.form == "formula":
        return formula_text(plan, quantity.role, wrong)
    if part.asked.form == "equation":
        return answer.text
    value = read_unit(part.asked.unit).from_engine(wrong[quantity.id])
    return f"{figures_text(value, answer.figures + 1)} {part.asked.unit}".removesuffix(" 1")


def after(variant: Variant, mistake: Mistake) -> dict[str, Fraction]:
    return mistaken_values(variant.template.plan, [mistake], dict(variant.values), EXACT)


def comes_out_alike(variant: Variant, mistake: Mistake, wrong: Mapping[str, Fraction]) -> bool:
    """Whether a mistake that may be harmless is, with these numbers: a molar mass near 1 g/mol, used upside down."""
    rewritten = [name for name, _ in mistake.rewrites]
    return mistake.harmless and all(
        abs(wrong[n] - variant.values[n]) <= ALIKE * abs(variant.values[n]) for n in rewritten
    )


def test_no_usual_mistake_earns_all_points(made: Made) -> None:
    for index, variant in enumerate(made.variants[:MARKED]):
        owed = owed_by(variant)
        for mistake in (one for one in variant.template.plan.mistakes if one.id in owed):
            wrong = after(variant, mistake)
            if comes_out_alike(variant, mistake, wrong):
                continue
            cells = {label: mistaken_answer(variant, part, a, wrong) for label, part, a in labelled(variant)}
            result = made.judged(index, cells)
            assert result.points < result.of, mistake.id


# printing


def test_the_working_ends_with_the_key(made: Made) -> None:
    for variant in made.variants[:MARKED]:
        ends = last_blocks(variant_solution(variant))
        for (_, part, answer), block in zip(labelled(variant), ends, strict=True):
            assert f". {ending(block)}".endswith(f" {expected_ending(variant, part, answer)}")


def last_blocks(blocks: Iterable[Block]) -> list[Block]:
    """The last block below each part's heading."""
    ends: list[Block] = []
    for block in blocks:
        if type(block).__name__ == "Heading":
            ends.append(block)
        else:
            ends[-1] = block
    return ends


def ending(block: Block) -> str:
    if isinstance(block, Calculation):
        units = tuple((piece.text, piece.exponent) for piece in block.result.unit)
        return f"{block.result.number} {units}"
    assert isinstance(block, Paragraph)
    pieces = (p.formula if isinstance(p, Chemical) else p.text for p in block.line if isinstance(p, TEXTS))
    return "".join(pieces)


TEXTS = (Prose, Strong, Chemical)


def expected_ending(variant: Variant, part: Part, answer: Any) -> str:
    if part.asked.form == "species":
        return f"{capitalised(variant.template.scene.species[answer.choice].name)} is the limiting reagent."
    if part.asked.form == "formula":
        return f"The formula is {answer.text}."
    if part.asked.form == "equation":
        return f"Balanced: {answer.text.replace('->', '→')}"
    return f"{answer.printed} {read_unit(part.asked.unit).factors}"


def test_sheet_key_and_page_are_made(made: Made) -> None:
    template, texts = made.template, layouts()
    jobs = []
    for variant in made.variants[:PAGES]:
        about = (the_set(template), the_student(variant), variant.student, "", [variant])
        documents = sheet_document(*about), key_document(*about)
        jobs += [Job(f"{variant.student}-{n}", sheet_data(document)) for n, document in enumerate(documents)]
        for document in documents:
            assert page(document, texts).rstrip().endswith("</html>")
    printed = list(compile_all(jobs[: 2 * PAGES], texts, workers=1))
    assert [pdf[:5] for _, pdf in printed] == [b"%PDF-"] * len(jobs)


# equations


def equations() -> Sequence[str]:
    """The templates that ask for a balanced equation."""
    return [name for name, path in PATHS.items() if '"balanced_equation"' in path.read_text(encoding="utf-8")]


def other_equations(equation: Equation) -> Iterator[tuple[str, str]]:
    """Wrong answers to a balancing question, with the reason that each is given."""
    first, *rest = equation.left
    yield Equation((Term(first.coefficient + 1, first.formula), *rest), equation.right).text, "unbalanced"
    yield Equation(equation.right, equation.left).text, "other-substances"
    yield equation.text.replace("->", "and"), "unreadable"
    yield "", "blank"


@pytest.mark.parametrize("name", sorted(equations()))
def test_an_equation_has_one_answer_and_others_earn_nothing(name: str) -> None:
    made = made_from(shipped(name))
    (variant,) = made.variants
    equation = read_equation(right_cells(variant)["a"])
    assert balance(equation) == equation  # the least whole numbers, and no other way to balance it
    doubled = [tuple(Term(2 * t.coefficient, t.formula) for t in side) for side in (equation.left, equation.right)]
    right = made.judged(0, {"a": Equation(*doubled).text})
    assert right.points == right.of
    for text, reason in other_equations(equation):
        result = made.judged(0, {"a": text})
        assert (result.points, result.parts[0].reason) == (NOTHING, reason)
