"""The grader's rules as the page carries them: thresholds, orders of trial, lists of words, patterns, signs.

They stand in the grader's modules, where they are used; the page's program has none of its own. In JSON an exact number
is {"exact": "1/20"}, a pattern {"pattern": …, "flags": …}, a set {"set": […]}, a table {"map": {…}}.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from problemgen.chemistry import equation, formula, units
from problemgen.exact import digits, rounding
from problemgen.grade.judging import (
    closeness,
    findings,
    follow_through,
    formula_verdicts,
    mistakes,
    mix_ups,
    notation,
    number_verdicts,
    right_digits,
    rounded_early,
)
from problemgen.grade.reading import cell, labels, numerals, spelling, words, written_units
from problemgen.language.messages import _
from problemgen.model.policy import Policy
from problemgen.model.verdict import VERDICTS
from problemgen.plan import evaluate, windows
from problemgen.plan.tellings import OTHER_REAGENT
from problemgen.practice.patterns import javascript

__all__ = ["RULES", "page_rules"]

_DEFAULTS = Policy()

RULES: Mapping[str, Mapping[str, object]] = {
    "digits": digits.RULES,
    "rounding": rounding.RULES,
    "units": units.RULES,
    "formula": formula.RULES,
    "equation": equation.RULES,
    "windows": {**evaluate.RULES, **windows.RULES},
    "spelling": {**spelling.RULES, "outer_spaces": re.compile(r"^\s+|\s+$")},
    "numerals": numerals.RULES,
    "cell": cell.RULES,
    "written_units": written_units.RULES,
    "labels": labels.RULES,
    "words": words.RULES,
    "notation": notation.RULES,
    "closeness": closeness.RULES,
    "findings": findings.RULES,
    "follow_through": follow_through.RULES,
    "formula_verdicts": formula_verdicts.RULES,
    "mistakes": mistakes.RULES,
    "mix_ups": mix_ups.RULES,
    "number_verdicts": number_verdicts.RULES,
    "right_digits": right_digits.RULES,
    "rounded_early": rounded_early.RULES,
    "part_view": {"signs": {name: one.sign for name, one in VERDICTS.items()}},
    "shares": {
        "slip": _DEFAULTS.unit_slip,
        "follows": _DEFAULTS.follow_through,
        "rounded": _DEFAULTS.rounded_early,
    },
}
"""By the name of the page's module that reads them. A practising student's answers count as those of a set that says
nothing: the shares weigh a slip against what follows."""


def page_rules() -> dict[str, dict[str, Any]]:
    """All rules, for JSON; the one sentence among them in the language spoken."""
    told = {name: {key: _told(rule) for key, rule in rules.items()} for name, rules in RULES.items()}
    told["mistakes"]["other_reagent"] = _(OTHER_REAGENT)
    return told


def _told(rule: object) -> Any:
    """A rule for JSON; TypeError for one of a kind that the page does not read."""
    match rule:
        case re.Pattern():
            return javascript(rule)
        case Fraction():
            return {"exact": str(rule)}
        case str() | int() | float():
            return rule
        case Mapping():
            return {"map": {str(key): _told(value) for key, value in rule.items()}}
        case frozenset():
            return {"set": sorted(map(str, rule))}
        case tuple() | list():
            return [_told(one) for one in rule]
        case _:
            raise TypeError(f"no rule of the page: {rule!r}")
