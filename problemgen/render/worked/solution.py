"""The worked solution of a variant: its plan told part by part, nothing twice."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Amount, Block, Inline, Line, Note, Paragraph, Prose, Strong
from problemgen.model.lines import filled
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity
from problemgen.plan.forms import form_of
from problemgen.render.words.symbols import capitalised, prose_number, symbol, unit_pieces_of
from problemgen.render.worked.amount_ratios import compared_by_ratios, ratio_verdict
from problemgen.render.worked.comparison import verdict
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import Numbers, Printed
from problemgen.render.worked.routes import Route
from problemgen.render.worked.steps import Teller

__all__ = ["SolvedPart", "WorkedPart", "WorkedStep", "rounding_note", "worked_solution"]

_ROUNDING = N_(
    "Intermediate results are written with one figure more than the data support; nothing is rounded before the end."
)
"""Guard figures: common practice, no source."""


def rounding_note() -> Note:
    """How the working is rounded: said once, above the first part."""
    return Note((Prose(_(_ROUNDING)),))


@dataclass(frozen=True)
class SolvedPart:
    """A part to be solved: its id (the key of `Numbers.endings`), its label ("a"), what it asks."""

    id: str
    label: str
    asked: Asked


@dataclass(frozen=True)
class WorkedStep:
    """What is told of one quantity (by id); of several that were found before, where it is ""."""

    quantity: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class WorkedPart:
    """The working of one part."""

    id: str
    label: str
    steps: tuple[WorkedStep, ...]

    @property
    def blocks(self) -> tuple[Block, ...]:
        """The blocks of all steps."""
        return tuple(block for step in self.steps for block in step.blocks)


def worked_solution(
    scene: Scene, plan: Plan, parts: Sequence[SolvedPart], numbers: Numbers, method: Method = "product"
) -> tuple[WorkedPart, ...]:
    """The working of each part, in order; what an earlier part showed is referred to, not repeated.

    `method` tells the stoichiometry from each reagent to the product ("product"), by extents of reaction ("extent"), or
    by what the other reagents need of each other ("ratios"). Each part ends as `numbers.endings` tells. `rounding_note`
    belongs above the first part.

    Raises:
        KeyError: for a part without an ending.
    """
    printed = Printed(scene, plan, numbers)
    route = Route(printed, method)
    story = _Story(printed, route, Teller(printed, Lines(printed), route))
    shown: dict[str, str] = {}
    worked = []
    for part in parts:
        new = story.new_steps(part.asked, shown)
        worked.append(WorkedPart(part.id, part.label, tuple(story.part(part, new, shown))))
        names = [*(step.quantity.id for step in new), *form_of(part.asked).told_in(part.asked)]
        shown |= {name: part.label for name in names if name not in shown}
    return tuple(worked)


@dataclass(frozen=True)
class _Story:
    """Tells the parts of one variant. `shown` maps a quantity's id to the label of the part that showed it."""

    printed: Printed
    route: Route
    teller: Teller

    def part(self, part: SolvedPart, new: Sequence[Step], shown: Mapping[str, str]) -> Iterable[WorkedStep]:
        """The steps of one part, and what stands in front of them and behind."""
        target = part.asked.quantity
        ending = self.printed.numbers.endings[part.id]
        final = None if ending.number is None else _amount(*ending.number)
        recalled = tuple(self.recalled(new, target, shown))
        if recalled:
            yield WorkedStep("", recalled)
        seen = set(shown)
        for step in new:
            told = self.teller.tell(step, final if step.quantity == target else None, seen)
            yield WorkedStep(step.quantity.id, told)
            seen.add(step.quantity.id)
        closing = ending.blocks
        if not closing and all(step.quantity != target for step in new):
            closing = tuple(self.settled(target, final, shown))
        if closing:
            yield WorkedStep(target.id, closing)

    def new_steps(self, asked: Asked, shown: Mapping[str, str]) -> list[Step]:
        """The steps that lead to what is asked and have not been shown, each behind those that it needs."""
        ordered: dict[str, Step] = {}

        def visit(name: str) -> None:
            step = self.printed.steps.get(name)
            if step is not None and name not in shown and name not in ordered:
                for needed in self.route.needs(step, shown.keys()):
                    visit(needed)
                ordered[name] = step

        if form_of(asked).is_worked_out(self.printed.plan, asked):
            visit(asked.quantity.id)
        return list(ordered.values())

    def recalled(self, new: Iterable[Step], target: Quantity, shown: Mapping[str, str]) -> Iterable[Block]:
        """What the new steps take from earlier parts: "As found in (a), n(Mg) = 24.69 mmol."."""
        telling = [step for step in new if not self.route.compared(step)]
        names = dict.fromkeys(name for step in telling for name in self.route.needs(step, shown.keys()))
        found = [name for name in names if name in shown and name != target.id and self.recallable(name)]
        line: Line = ()
        labels = {shown[name] for name in found}
        for label in [one for one in dict.fromkeys(shown.values()) if one in labels]:
            values = tuple(self.listed([name for name in found if shown[name] == label]))
            if line:
                # Translators: goes on behind "As found in (a), n(Mg) = 24.69 mmol".
                line = filled(_("{before}; in ({label}), {values}"), before=line, label=label, values=values)
            else:
                line = filled(_("As found in ({label}), {values}"), label=label, values=values)
        if line:
            yield Paragraph((*line, Prose(".")))

    def recallable(self, name: str) -> bool:
        """Whether a quantity has a number that a reader has seen: worked out, and no mere comparison."""
        step = self.printed.steps.get(name)
        return step is not None and (self.route.method == "extent" or not self.route.compared(step))

    def listed(self, names: Sequence[str]) -> Iterable[Inline]:
        """Quantities with their values: "n(Mg) = 24.69 mmol and M(Mg) = 24.305 g/mol"."""
        for i, name in enumerate(names):
            quantity = self.printed.quantities[name]
            if i:
                yield Prose(f" {_('and')} " if i == len(names) - 1 else ", ")
            yield symbol(self.printed.scene, quantity)
            unit = self.printed.unit(quantity)
            value = f" = {prose_number(self.printed.text(quantity))} {unit_text(unit)}"
            yield Prose(value.rstrip())

    def settled(self, target: Quantity, final: Amount | None, shown: Mapping[str, str]) -> Iterable[Block]:
        """A part whose quantity is given, or was found on the way to an earlier one."""
        found = target.id in shown
        where = _("As found in ({label})").format(label=shown[target.id]) if found else _("From the data")
        if final is None:
            yield Paragraph((Prose(f"{where}: "), *self.chosen(target, shown)))
            return
        yield Paragraph((Prose(f"{where}:"),))
        lines = self.teller.lines
        unit = self.printed.asked_units[target.id]
        yield lines.line(target, (), lines.groups(target.id, target), final, unit)

    def chosen(self, target: Quantity, shown: Mapping[str, str]) -> tuple[Inline, ...]:
        """The limiting reagent, once more; a single reagent limits without a comparison."""
        step = self.printed.steps.get(target.id)
        if step is not None and self.route.compared(step):
            if compared_by_ratios(self.route, step, shown.keys()):
                return ratio_verdict(self.route, step)
            return verdict(self.route, step, shown.keys())
        name = self.printed.scene.species[self.printed.plan.sources[0]].name
        # Translators: stands behind "From the data: ".
        told = _("no other amount is limited. {limiting} is the limiting reagent.")
        return filled(told, limiting=(Strong(capitalised(name)),))


def _amount(number: str, unit: str) -> Amount:
    return Amount(number, unit_pieces_of(read_unit(unit).text))
