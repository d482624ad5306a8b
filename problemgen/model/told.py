"""How a sheet tells a given value: kept beside the plan, so that feedback shows the numbers in the sheet's words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from problemgen.model.file_types import Count, LeftOut
from problemgen.model.quantity import Quantity

__all__ = ["Column", "Told"]

Column: TypeAlias = Literal["taken", "data", "listed", "obtained"]
"""Where a value stands: what is measured out, what is known of it, a list of its own (the runs of a titration), or a
sentence below the tables.
"""


@dataclass(frozen=True)
class Told:
    """How a sheet tells one given value."""

    quantity: Quantity
    """Which value."""

    column: Column
    """Where it stands: measured out, known of the substance, in a list of its own, or a sentence below the tables."""

    before: str
    """The words in front of its number."""

    behind: str
    """The words behind its unit."""

    session: Count
    """The session whose sheet prints it first."""

    second: LeftOut[Quantity | None] = None
    """The value whose number stands behind a colon, where the two are told as a ratio."""
