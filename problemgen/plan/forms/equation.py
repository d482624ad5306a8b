"""A balanced equation: it rests on no plan, and everybody has the same one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from problemgen.chemistry.equation import Equation, Term, read_equation
from problemgen.language.messages import N_, _
from problemgen.model.blocks import Block, Chemical, Inline, Line, Paragraph, Prose, Strong, Table
from problemgen.model.lines import filled
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.model.truths import TextTruth
from problemgen.plan.forms.form import Blank, Cells, Ending, Hints, TextForm, ValueWindows

__all__ = ["EQUATION", "EquationForm"]

_ASKED = Asked(Quantity("extent", "", Role.BALANCED), "1", "equation")
"""No law knows the quantity: it only tells the part from others."""


def _balanced(scene: Scene) -> str:
    """The scene's equation, balanced."""
    sides = [
        tuple(Term(s.nu, s.formula) for s in side if s.formula is not None) for side in (scene.reagents, scene.products)
    ]
    return Equation(*sides).text


def _line(text: str) -> Line:
    """An equation in print: coefficients, formulas with their subscripts, the arrow."""
    equation = read_equation(text)
    return (*_side(equation.left), Strong(" → "), *_side(equation.right))


def _side(terms: tuple[Term, ...]) -> tuple[Inline, ...]:
    pieces: list[Inline] = []
    for index, term in enumerate(terms):
        times = f"{term.coefficient} " if term.coefficient > 1 else ""
        pieces.append(Strong(" + " * bool(index) + times))
        pieces.append(Chemical(term.formula.text))
    return tuple(piece for piece in pieces if not isinstance(piece, Strong) or piece.text)


def _counted(text: str) -> Table:
    """The atoms of each element on both sides."""
    equation = read_equation(text)
    sides = (equation.left, equation.right)
    elements = dict.fromkeys(symbol for side in sides for term in side for symbol, _ in term.formula.counts)
    rows = tuple((_cell(Chemical(symbol)), *(_cell(_atoms(side, symbol)) for side in sides)) for symbol in elements)
    header = ((Prose(_("Element")),), (Prose(_("Atoms on the left")),), (Prose(_("Atoms on the right")),))
    return Table(_("Each element as often on the left as on the right"), header, rows, (False, True, True))


def _cell(piece: Inline) -> Line:
    return (piece,)


def _atoms(side: tuple[Term, ...], symbol: str) -> Prose:
    return Prose(str(sum(term.coefficient * term.formula.count(symbol) for term in side)))


class EquationForm(TextForm):
    """The balanced equation of the problem's reaction."""

    name = "equation"
    asks: ClassVar[Mapping[str, Asked]] = {"balanced_equation": _ASKED}
    to_write = N_("Write the balanced equation where one is asked.")
    is_same_for_all = True
    hides_coefficients = True
    hints = Hints(
        relation=N_(
            "Count the atoms of each element on both sides. Begin with the element that stands in the fewest formulas."
        ),
        numbers=N_("The coefficients multiply whole formulas: change them, never the figures inside a formula."),
        setup=N_("Count once more at the end, the charges too. The smallest whole numbers are usual."),
    )
    """How equations are balanced by hand: common practice, no source."""

    def answer(self, _plan: Plan, scene: Scene, _asked: Asked, _windows: ValueWindows) -> TextTruth:
        """The equation with the least whole numbers."""
        return TextTruth(_balanced(scene))

    def prompt(self, _asked: Asked) -> Line:
        """What to do."""
        return (Prose(_("Balance the equation with the smallest whole numbers, and write it out.")),)

    def short_prompt(self, _asked: Asked) -> Line:
        """What it is."""
        return (Prose(_("Balanced equation")),)

    def blank(self, _scene: Scene, _plan: Plan, _asked: Asked, lines: int) -> Blank:
        """A blank as long as the line."""
        return Blank(lines, wide=True)

    def cells(self, _scene: Scene, _asked: Asked, truth: TextTruth) -> Cells:
        """The equation in print."""
        return Cells(_line(truth.text))

    def read_as(self, read: str) -> Line:
        """The equation in print."""
        return _line(read)

    def ending(self, _asked: Asked, truth: TextTruth) -> Ending:
        """The atoms counted on both sides, and the equation."""
        told: tuple[Block, ...] = (
            _counted(truth.text),
            Paragraph(filled(_("Balanced: {equation}"), equation=_line(truth.text))),
        )
        return Ending(blocks=told)


EQUATION = EquationForm()
