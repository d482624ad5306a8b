"""Hints for a part in three steps, out of its worked solution: which relation, which numbers, the set-up with units.

None of them tells a result: where a line of working ends, a question mark stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from problemgen.language.messages import _
from problemgen.model.blocks import Amount, Block, Bullets, Calculation, Line, Paragraph, Prose
from problemgen.model.lines import filled
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity
from problemgen.model.template import label_of
from problemgen.model.variant import Variant
from problemgen.plan.forms import form_of
from problemgen.render.words.prompts import quantity_text
from problemgen.render.words.symbols import symbol
from problemgen.render.worked.solution import WorkedPart

__all__ = ["hints_of"]

_UNKNOWN = "?"


def hints_of(variant: Variant, worked: Sequence[WorkedPart]) -> tuple[tuple[tuple[Block, ...], ...], ...]:
    """For each part three hints, as blocks."""
    template = variant.template
    hints: list[tuple[tuple[Block, ...], ...]] = []
    for index, (part, solved) in enumerate(zip(template.parts, worked, strict=True)):
        own = form_of(part.asked).hints
        lines = [block for block in solved.blocks if isinstance(block, Calculation)]
        hints.append(
            (
                _said(own.relation) or _relation(solved.blocks) or _said(own.without_working),
                _said(own.numbers) or _numbers(variant, part.asked, index),
                _said(own.setup) or _setup(lines) or _said(own.without_working),
            )
        )
    return tuple(hints)


def _said(words: str) -> tuple[Block, ...]:
    return (Paragraph((Prose(_(words)),)),) if words else ()


def _relation(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The laws in words and in symbols: what stands in front of each line, and the line without numbers."""
    told: list[Block] = []
    before: Block | None = None
    for block in blocks:
        if isinstance(block, Calculation):
            if isinstance(before, Paragraph) and before not in told:
                told.append(before)
            if block.relation:
                told.append(replace(block, terms=(), operators=(), result=Amount(_UNKNOWN), alt=""))
        before = block
    return tuple(told)


def _setup(lines: Iterable[Calculation]) -> tuple[Block, ...]:
    """The lines with numbers and units, without their results."""
    return tuple(
        replace(line, result=replace(line.result, number=_UNKNOWN), alt=_unfinished(line.alt))
        for line in lines
        if line.terms
    )


def _unfinished(alt: str) -> str:
    """A line's own words without its result: they are joined by "equals", in the language spoken."""
    before, equals, _result = alt.rpartition(f" {_('equals')} ")
    # Translators: a line of working read aloud, with its result left open: "mass over molar mass equals what?"
    return _("{working} equals what?").format(working=before) if equals else ""


def _numbers(variant: Variant, asked: Asked, index: int) -> tuple[Block, ...]:
    """The values that the part needs: of the data with their numbers, of earlier parts without."""
    template = variant.template
    plan, scene = template.plan, template.scene
    earlier = {part.asked.quantity.id: label_of(i) for i, part in reversed([*enumerate(template.parts[:index])])}
    needed = _needed(plan, asked, earlier)
    items: list[Line] = []
    for quantity in _quantities(scene, plan):
        if quantity.id not in needed:
            continue
        if quantity.id in earlier:
            # Translators: in a list of what is needed: "n(NaCl), your answer to (a)"
            known = _("{symbol}, your answer to ({part})")
            items.append(filled(known, symbol=(symbol(scene, quantity),), part=earlier[quantity.id]))
        elif quantity.id in variant.given:
            value = quantity_text(variant.given[quantity.id])
            # Translators: in a list of what is needed: "m(NaCl) = 2.50 g, from the data"
            known = _("{symbol} = {value}, from the data")
            items.append(filled(known, symbol=(symbol(scene, quantity),), value=value))
    if any(name.startswith("atomic_weight(") for name in needed):
        items.append((Prose(_("the atomic weights, from the periodic table")),))
    if any(name.startswith("coefficient") for name in needed) or _compares(plan, needed):
        items.append((Prose(_("the coefficients of the equation")),))
    return (Bullets(tuple(items)),) if items else (Paragraph((Prose(_("Everything is in the data.")),)),)


def _compares(plan: Plan, needed: frozenset[str]) -> bool:
    return len(plan.sources) > 1 and any(name.startswith("extent(") for name in needed)


def _needed(plan: Plan, asked: Asked, earlier: dict[str, str]) -> frozenset[str]:
    """What is looked up on the way to a quantity; the way ends where an earlier part was asked."""
    found: set[str] = set()
    wanted = [asked.quantity.id]
    while wanted:
        name = wanted.pop()
        step = next((s for s in plan.steps if s.quantity.id == name), None)
        stops = name in earlier and name != asked.quantity.id
        for needed in step.needs if step is not None and not stops else ():
            if needed not in found:
                found.add(needed)
                wanted.append(needed)
    return frozenset(found)


def _quantities(scene: Scene, plan: Plan) -> Iterator[Quantity]:
    """All quantities that have a symbol: those given, then those worked out, in order."""
    yield from sorted(scene.given, key=lambda quantity: quantity.id)
    yield from (step.quantity for step in plan.steps)
