"""How a set is marked, read from answers.json."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from problemgen.model.policy import Attempts, Policy, Tolerance

__all__ = ["read_attempts", "read_policy"]

_SHARES = ("follow_through", "unit_slip", "named_mistake", "rounded_early", "deduction")


def read_policy(data: Mapping[str, Any]) -> Policy:
    """One policy."""
    tolerance = data["tolerance"]
    return Policy(
        figures=data["figures"],
        missing_unit=data["missing_unit"],
        named_mistakes=tuple((name, Fraction(share)) for name, share in data["named_mistakes"].items()),
        tolerance=Tolerance(tolerance["window"], Fraction(tolerance["share_of_value"])),
        **{key: Fraction(data[key]) for key in _SHARES},
    )


def read_attempts(data: Mapping[str, Any]) -> Attempts:
    """How many attempts there are, and which counts."""
    return Attempts(data["number"], data["counts"])
