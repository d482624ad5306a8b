"""A form of part that is not shipped: a short text out of a list that the template writes, the right one first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import ClassVar

from problemgen.model.blocks import Paragraph, Prose, Strong
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.model.truths import TextTruth
from problemgen.plan.forms.form import Ending, Option, TextForm, ValueWindows

__all__ = ["LISTED"]


class ListedForm(TextForm):
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

    def answer(self, _plan: Plan, _scene: Scene, asked: Asked, _windows: ValueWindows) -> TextTruth:
        """The first of the list."""
        return TextTruth(_texts(asked)[0])

    def ending(self, _asked: Asked, truth: TextTruth) -> Ending:
        """The answer in a sentence."""
        return Ending(blocks=(Paragraph((Prose("The answer is "), Strong(truth.text), Prose("."))),))


def _texts(asked: Asked) -> list[str]:
    return [text.strip() for text in asked.quantity.of.split("|") if text.strip()]


LISTED = ListedForm()
