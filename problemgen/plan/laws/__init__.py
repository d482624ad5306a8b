"""The laws, one topic a file. A new law with its misuses is a few lines in one of them."""

from __future__ import annotations

from problemgen.plan.law import Law
from problemgen.plan.laws import amounts, formulas, gases, reactions, solutions, yields

__all__ = ["LAWS", "LAWS_BY_ID"]

LAWS: tuple[Law, ...] = (*amounts.LAWS, *solutions.LAWS, *gases.LAWS, *formulas.LAWS, *reactions.LAWS, *yields.LAWS)
"""In the order in which a chain prefers them."""

LAWS_BY_ID = {law.id: law for law in LAWS}
