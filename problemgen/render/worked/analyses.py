"""The worked solution of a formula: ratios of amounts, whole numbers, the molecule's multiple."""

from __future__ import annotations

from fractions import Fraction

from problemgen.exact.digits import number_text
from problemgen.exact.rounding import figures_text
from problemgen.language.messages import _
from problemgen.model.blocks import Block, Chemical, Paragraph, Prose, Strong, Table
from problemgen.model.plan import Step
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws import LAWS_BY_ID
from problemgen.plan.laws.formulas import COMPOUND, MULTIPLE_OF, subscript
from problemgen.render.worked.printed import Printed

__all__ = ["whole_number_blocks"]

_RATIO_FIGURES = 4  # 1.333 is seen to be four thirds, 1.33 might be 1.3


def whole_number_blocks(printed: Printed, step: Step) -> tuple[Block, ...]:
    """The blocks of a subscript or of the molecule's multiple; the first subscript tells all in one table."""
    words = Paragraph((Prose(_(LAWS_BY_ID[step.law].words[step.solved_for])),))
    if step.quantity == MULTIPLE_OF:
        return (words, _multiple(printed))
    elements = _elements(printed, step.quantity.role)
    if step.quantity.of != elements[0]:
        return ()
    if step.quantity.role is Role.EMPIRICAL and step.expression[0] == "whole":
        return (words, _ratios(printed, elements))
    return (words,)


def _elements(printed: Printed, role: Role) -> list[str]:
    return [s.quantity.of for s in printed.plan.steps if s.quantity.kind == "subscript" and s.quantity.role == role]


def _ratios(printed: Printed, elements: list[str]) -> Table:
    amounts = {element: printed.numbers.values[Quantity("amount", element).id] for element in elements}
    least = min(amounts.values())
    rows = tuple(
        (
            (Chemical(element),),
            (Prose(_ratio(amount / least)),),
            (Strong(str(int(printed.numbers.values[subscript(element).id]))),),
        )
        for element, amount in amounts.items()
    )
    header = tuple((Prose(text),) for text in (_("Element"), _("Amount over the smallest amount"), _("Whole number")))
    return Table(_("Amounts compared"), header, rows, (False, True, True))


def _ratio(value: Fraction) -> str:
    return number_text(figures_text(value, _RATIO_FIGURES))


def _multiple(printed: Printed) -> Paragraph:
    values = printed.numbers.values
    whole, empirical = (
        values[Quantity("molar_mass", COMPOUND).id],
        values[Quantity("molar_mass", COMPOUND, Role.EMPIRICAL).id],
    )
    # Translators: how many empirical formulas a molecule holds: "180.2 g/mol over 30.03 g/mol is 6.00: 6."
    told = _("{whole} g/mol over {empirical} g/mol is {ratio}: {number}.").format(
        whole=_ratio(whole),
        empirical=_ratio(empirical),
        ratio=_ratio(whole / empirical),
        number=int(values[MULTIPLE_OF.id]),
    )
    return Paragraph((Prose(told),))
