"""How a sheet tells a given value: kept beside the plan, so that feedback shows the numbers in the sheet's words."""

from __future__ import annotations

from dataclasses import dataclass

from problemgen.model.quantity import Quantity

__all__ = ["COLUMNS", "Told"]

COLUMNS = ("taken", "data", "obtained")
"""Where a value stands: what is measured out, what is known of it, or a sentence of its own below the table."""


@dataclass(frozen=True)
class Told:
    """One given value: the words in front of its number and behind its unit, and the session that prints it first."""

    quantity: Quantity
    column: str
    before: str
    behind: str
    session: int
