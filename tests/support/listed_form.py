"""A form of part that is not shipped: a short text out of a list that the template writes, the right one first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import ClassVar

from problemgen.model.blocks import Paragraph, Prose, Strong
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.model.variant import Answer
from problemgen.plan.forms.form import Ending, Form, Option, ValueWindows

__all__ = ["LISTED"]


class ListedForm(Form):
    """`quantity = "one_of"`, `of = "phenolphthalein | methyl orange | starch"`."""

    name = "listed"
    asks: ClassVar[Mapping[str, Asked]] = {"one_of": Asked(Quantity("extent", "", Role.BALANCED), "1", "listed")}
    to_tick = "Tick one answer where there is a list. "

    def asked(self, word: str, of: str | None) -> Asked:
        """The list stands in the place of a substance."""
        asked = self.asks[word]
        return replace(asked, quantity=replace(asked.quantity, of=of or ""))

    def lacking(self, _scene: Scene, asked: Asked) -> str:
        """A list of one is no question."""
        return "" if len(_texts(asked)) > 1 else "one_of has nothing to choose from; missing: answers, divided by |"

    def options(self, _scene: Scene, _plan: Plan, asked: Asked) -> Sequence[Option]:
        """The texts in the order of the alphabet, which tells nothing."""
        return tuple(Option(text, (Prose(text),)) for text in sorted(_texts(asked)))

    def answer(self, _plan: Plan, _scene: Scene, part: str, asked: Asked, _windows: ValueWindows) -> Answer:
        """The first of the list."""
        nothing = Fraction(0)
        return Answer(part, asked.unit, nothing, nothing, nothing, 0, text=_texts(asked)[0])

    def ending(self, _asked: Asked, printed: str) -> Ending:
        """The answer in a sentence."""
        return Ending(blocks=(Paragraph((Prose("The answer is "), Strong(printed), Prose("."))),))


def _texts(asked: Asked) -> list[str]:
    return [text.strip() for text in asked.quantity.of.split("|") if text.strip()]


LISTED = ListedForm()
