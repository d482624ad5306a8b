"""A student's variant of a problem: the numbers given, the exact values, the answers with their windows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.model.fixed import Datum
from problemgen.model.own_data import OwnValue
from problemgen.model.template import Template
from problemgen.model.truths import Truth

__all__ = ["Rejections", "Variant"]


@dataclass(frozen=True)
class Variant:
    """One student's variant of one problem.

    `given` holds every given value by quantity id, as printed; `values` all exact values in engine units;
    `figures` the significant figures that the data support, by quantity id; `answers` the right answers, not rounded,
    in the order of the parts, with the windows that are accepted; `derived` the same with those that follow from the
    plan, () where these are accepted. `own` are the values that the student measures: then those in `given` stand for
    them, as an example, and no sheet prints them.
    """

    student: str
    problem: str
    template: Template
    given: Mapping[str, Datum]
    values: Mapping[str, Fraction]
    figures: Mapping[str, int]
    answers: tuple[Truth, ...]
    flask: Fraction | None  # the capacity in mL of the flask to take; None where none is told
    own: tuple[OwnValue, ...] = ()
    derived: tuple[Truth, ...] = ()

    @property
    def printed(self) -> Mapping[str, Datum]:
        """The given values that the sheet tells."""
        mine = {quantity.id for value in self.own for quantity in value.quantities}
        return {name: datum for name, datum in self.given.items() if name not in mine}


@dataclass(frozen=True)
class Rejections:
    """How many candidates were looked at, and how many each rule turned away (the first rule that did).

    `by_mistake` tells of those that fell to the rule on mistakes which one they would have hidden (the first).
    """

    candidates: int
    by_rule: Mapping[str, int]
    by_mistake: Mapping[str, int] = field(default_factory=dict)

    @property
    def admitted(self) -> int:
        """The candidates that no rule turned away."""
        return self.candidates - sum(self.by_rule.values())
