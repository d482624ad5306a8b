"""The ions that a template names, and the one solution that several salts are dissolved in."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

IRON = """[given.iron-iii-sulfate]
mass = { from = 2.0, to = 9.0, unit = "g", step = 0.1 }
volume = { value = 250.0, unit = "mL" }
[[part]]
quantity = "concentration"
of = "SO4^2-"
"""
BRINE = """ions = { "Cl^-" = "chloride ions" }
[given.sodium-chloride]
mass = { from = 2.0, to = 9.0, unit = "g", step = 0.1 }
[given.calcium-chloride]
weighed_as = "calcium-chloride-dihydrate"
mass = { from = 2.0, to = 9.0, unit = "g", step = 0.1 }
[given.solution]
volume = { value = 500.0, unit = "mL" }
[[part]]
quantity = "concentration"
of = "Cl-"
"""
SULFATE = '"SO4^2-" = "sulfate ions"'


def test_an_ion_has_the_name_that_the_template_gives_it(template: Load) -> None:
    one = template(f'ions = {{ {SULFATE}, "Fe+3" = "iron(III) ions" }}\n{IRON}'.replace("Fe+3", "Fe^3+"))
    assert [(s.id, s.name) for s in one.scene.species.values()][1:] == [
        ("SO4^2-", "sulfate ions"),
        ("Fe^3+", "iron(III) ions"),
    ]
    assert Quantity("volume", "iron-iii-sulfate", Role.SOLUTION) in one.scene.given
    assert [step.law for step in one.plan.steps] == ["molar-mass", "amount", "concentration", "ion"]


def test_several_salts_in_one_solution(template: Load) -> None:
    one = template(BRINE)
    assert Quantity("volume", "", Role.COMMON) in one.scene.given
    assert list(one.scene.species) == ["sodium-chloride", "calcium-chloride", "calcium-chloride-dihydrate", "Cl-"]
    assert one.plan.steps[-1].law == "shared-ion"


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        (
            f'ions = {{ "SO4" = "sulfate ions" }}\n{IRON}',
            ["t.toml: ions.SO4: found a formula without a charge; expected an ion: SO4^2-, Fe^3+"],
        ),
        (
            f'ions = {{ {SULFATE}, "Xx" = "ions" }}\n{IRON}',
            ["t.toml: ions.Xx: found 'Xx'; expected the formula of an ion: "],
        ),
        (
            f'ions = {{ {SULFATE}, "Cl-" = "chloride ions" }}\n{IRON}',
            ["t.toml: ions.Cl-: found an ion that no salt of this template holds; expected an ion of a salt"],
        ),
        (
            f'ions = {{ {SULFATE}, "Fe^2+" = "iron(II) ions" }}\n{IRON}',
            ["t.toml: ions: found ions that leave Fe2(SO4)3 with a charge of -2; expected ions whose charges cancel"],
        ),
        (
            BRINE.replace('volume = { value = 500.0, unit = "mL" }', 'pressure = { value = 100.0, unit = "kPa" }'),
            ["t.toml: given.solution.pressure: found no value of the whole; expected one of volume"],
        ),
    ],
)
def test_what_cannot_be_is_told(faults_of: FaultsOf, text: str, faults: list[str]) -> None:
    found = faults_of(text)
    assert [one[: len(start)] for one, start in zip(found, faults, strict=True)] == faults
