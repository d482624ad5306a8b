"""The hazards of a substance as records, each as banks/hazards.toml has it.

A code stands for a statement: H225 of the UN GHS, EUH019 of the European Union's supplement to it.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from problemgen.model.citation import Citations
from problemgen.model.document import Document, Identifier, Number, Text

__all__ = ["Hazard", "HazardStatement", "WaterySolution"]


class HazardStatement(Document):
    """A code and its sentence, which stands once."""

    code: Text
    text: Text
    source: Citations = ()


class WaterySolution(Document):
    """What a solution in water is labelled with, `least` percent by mass or stronger, up to the next entry."""

    least: Annotated[Number, Field(alias="from")]
    codes: tuple[Text, ...]


class Hazard(Document):
    """The hazards of a substance: GHS pictogram codes, signal word, codes of its statements.

    `in_water` has the usual solutions, the strongest first; it is empty where their limits are not known.
    """

    of: Identifier
    pictograms: tuple[Text, ...] = ()
    signal: Literal["Danger", "Warning", ""] = ""
    codes: tuple[Text, ...] = ()
    in_water: tuple[WaterySolution, ...] = ()
    source: Citations = ()

    @property
    def all_codes(self) -> tuple[str, ...]:
        """Those of the substance and of its solutions."""
        return (*self.codes, *(code for one in self.in_water for code in one.codes))
