"""Roles: what tells apart several quantities of one kind and one substance."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Self

__all__ = ["SOLUTION_AT", "TEMPLATE_ROLES", "Role"]


class Role(StrEnum):
    """A role: its name in templates, its words, how an id writes it, and the stages that it counts.

    A role without words is the engine's own: no template names it.
    """

    words: str
    pattern: str
    stages: tuple[int, ...]

    def __new__(cls, name: str, words: str = "", pattern: str = "", stages: tuple[int, ...] = ()) -> Self:
        """A role; `pattern` is how an id writes it where that is not its name."""
        role = str.__new__(cls, name)
        role._value_ = name
        role.words, role.pattern, role.stages = words, pattern or name, stages
        return role

    def has_stage(self, stage: int) -> bool:
        """Whether a quantity in this role can be at a stage: one of its own, or 0 where it counts none."""
        return stage in (self.stages or (0,))

    PLAIN = ""
    FROM = "from", "", "from:{source}"
    SOLUTION = "solution", "of the solution"
    SOLVENT = "solvent", "of the solvent"
    IMPURE = "impure", "with its impurities"
    ACTUAL = "actual", "as obtained"
    THEORETICAL = "theoretical", "in theory"
    LEFT = "left", "left over"
    CONSUMED = "consumed", "used up"
    INITIAL = "initial", "before"
    FINAL = "final", "afterwards"
    INITIAL_SOLUTION = "initial solution"
    FINAL_SOLUTION = "final solution"
    ADDED = "added", "added"
    MIXED = "mixed", "in the mixture"
    TAKEN = "taken", "taken, the excess counted in"
    NEEDED = "needed", "needed by the equation"
    SURPLUS = "surplus", "beyond what is needed"
    RECOVERED = "recovered", "recovered unchanged"
    CONVERTED = "converted", "converted"
    CRUDE = "crude", "before purification"
    PURIFIED = "purified", "after the first purification"
    PURE = "pure", "when pure"
    LOST = "lost", "lost on purification"
    FIRST = "first", "of the first purification"
    SECOND = "second", "of the second purification"
    ISOMERS = "isomers", "all isomers together"
    OTHER = "other", "other isomers"
    INPUT = "input", "put in altogether"
    AUXILIARIES = "auxiliaries", "solvents and auxiliaries"
    WASTE = "waste", "of waste"
    ORGANIC = "organic", "in the organic layer"
    AQUEOUS = "aqueous", "in the aqueous layer"
    PORTION = "portion", "of one portion of solvent"
    EQUAL_PORTION = "equal_portion", "", "{stage}_portions", (2, 3, 4)
    UNEXTRACTED = "unextracted", "left after {n} portion{s}", "after_{stage}", (1, 2, 3, 4)
    UNEXTRACTED_BY_EACH = "unextracted_by_each", "", "each_of_{stage}", (2, 3, 4)
    EXTRACTED = "extracted", "extracted by {n} portion{s}", "by_{stage}", (1, 2, 3, 4)
    FRONT = "front", "solvent front"
    EDGE = "edge", "from the edge"
    FRONT_EDGE = "front_edge", "solvent front, from the edge"
    START = "start", "starting line, from the edge"
    MAJOR = "major", "of the main enantiomer"
    MINOR = "minor", "of the minor enantiomer"
    SAMPLE = "sample", "of the sample"
    SERVING = "serving", "in each serving"
    FLASK = "flask", "in the volumetric flask"
    ALIQUOT = "aliquot", "in the aliquot"
    DILUTED = "diluted", "after {n} dilution{s}", "step_{stage}", (1, 2, 3, 4, 5, 6)
    TOTAL = "total", "with its water vapour"
    VAPOUR = "vapour", "of the water vapour above it"
    DRY = "dry", "when dried"
    ONWARD = "onward", "taken on to the next step"
    OVERALL = "overall", "over all steps"
    BLANK = "blank", "in the blank titration"
    WITH_SAMPLE = "with_sample", "in the titration of the sample"
    NET = "net", "with the blank taken into account"
    WHOLE = "whole", "if the sample were nothing else"
    HEATED = "heated", "after heating"
    DRIVEN_OFF = "driven_off", "driven off by heating"
    PURITY = "purity"
    DILUTE = "dilute"
    EMPIRICAL = "empirical"
    MOLECULAR = "molecular"
    BALANCED = "balanced"


TEMPLATE_ROLES: Mapping[str, Role] = MappingProxyType({role.value: role for role in Role if role.words})
"""The roles that a template can name."""

SOLUTION_AT: Mapping[Role, Role] = MappingProxyType(
    {Role.PLAIN: Role.SOLUTION, Role.INITIAL: Role.INITIAL_SOLUTION, Role.FINAL: Role.FINAL_SOLUTION}
)
"""The role of a whole solution, by that of its solute."""
