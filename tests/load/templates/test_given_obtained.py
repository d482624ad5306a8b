"""Masses that are a share of another mass: of the theoretical yield, of what was taken, of an earlier weighing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

TWICE = """reaction = "acetanilide"
[given.aniline]
mass = { from = 2.0, to = 4.0, unit = "g", read = "balance-0.1" }
[given.acetanilide]
obtained = [
    { role = "crude", percent_yield = [70, 90], unit = "g", read = "balance-0.01" },
    { role = "pure", share_of = "crude", percent_yield = [60, 80], unit = "g", read = "balance-0.01" },
]
[[part]]
quantity = "recovery"
[[part]]
quantity = "percent_yield"
"""


def test_a_weighing_is_a_share_of_an_earlier_one(template: Load) -> None:
    shares = [(one.quantity, one.theoretical) for one in template(TWICE).obtained]
    crude, pure = (Quantity("mass", "acetanilide", role) for role in (Role.CRUDE, Role.PURE))
    assert shares == [(crude, Quantity("mass", "acetanilide", Role.THEORETICAL)), (pure, crude)]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            '"crude", percent',
            '"cruder", percent',
            "acetanilide.obtained.role: found 'cruder'; expected one of solution,",
        ),
        (
            'share_of = "crude"',
            'share_of = "purified"',
            "acetanilide.obtained.share_of: found 'purified'; expected the role of a mass that is given before",
        ),
        (
            'quantity = "percent_yield"',
            'quantity = "molar_mass"',
            "acetanilide.obtained: found a share of mass(acetanilide,theoretical); expected a part that needs it",
        ),
    ],
)
def test_a_share_of_nothing_is_refused(faults_of: FaultsOf, old: str, new: str, expected: str) -> None:
    assert any(expected in fault for fault in faults_of(TWICE.replace(old, new)))
