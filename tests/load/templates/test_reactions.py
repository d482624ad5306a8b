"""Templates with more than one equation: what `then`, `beside`, `driven_off` and hydrates to be heated are read as."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from problemgen.model.problem import FurtherEquation
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

MASS = 'mass = { from = 4.500, to = 9.500, unit = "g", read = "balance-0.001" }\n'
BENZOIN = f'reaction = "benzoin"\nthen = ["benzil"]\n[given.benzaldehyde]\n{MASS}'
OBTAINED = '[given.benzoin]\nobtained = { percent_yield = [45, 80], unit = "g", read = "balance-0.001" }\n'
ASKED = '[[part]]\nquantity = "mass"\nof = "benzil"\n'
YIELD = '[[part]]\nquantity = "percent_yield"\nof = "benzoin"\n'
VOLUME = 'volume = { from = 10.00, to = 40.00, unit = "mL", read = "burette-50" }\n'
STRENGTH = 'concentration = { value = 0.1000, unit = "mol/L" }\n'
ACID = f"[given.hydrogen-chloride]\nin_excess = true\n{VOLUME}{STRENGTH}"
BASE = f"[given.sodium-hydroxide]\n{VOLUME}{STRENGTH}"
TABLET = '[[part]]\nquantity = "amount"\nof = "calcium-carbonate"\n'
SAMPLE = 'sample.mass = { from = 0.3000, to = 0.3200, unit = "g", read = "balance-0.0001" }\n'
HEATING = """[unknown]
formulas = ["MgSO4.7H2O", "MgSO4.6H2O"]
analysis = "heating"
sample = { from = 1.4000, to = 3.6000, unit = "g", read = "balance-0.0001" }
read = "balance-0.0001"
[[part]]
quantity = "crystal_water"
of = "magnesium-sulfate"
unit = "1"
"""


def test_a_next_step_becomes_an_equation_of_the_scene(template: Load) -> None:
    loaded = template(BENZOIN + OBTAINED + ASKED + YIELD)
    assert [reaction.id for reaction in loaded.further] == ["benzil"]
    assert loaded.scene.further == (FurtherEquation("benzil", loaded.further[0].coefficients, "benzil", beside=False),)
    assert loaded.scene.species["benzil"].coefficient == 0
    assert loaded.scene.species["benzoin"].coefficient == 1
    assert Quantity("mass", "benzil", Role.THEORETICAL) == loaded.parts[0].asked.quantity
    assert loaded.session_of["nitric-acid"] == 1


def test_what_is_obtained_is_handed_on_in_the_plan(template: Load) -> None:
    steps = {step.quantity.id: step for step in template(BENZOIN + OBTAINED + ASKED + YIELD).plan.steps}
    assert steps["amount(benzil,theoretical)"].expression == "amount(benzoin,actual)"


def test_a_rest_that_is_titrated(template: Load) -> None:
    text = 'reaction = "carbon-dioxide-from-marble"\nthen = ["hcl-naoh"]\n'
    loaded = template(text + ACID + BASE + TABLET)
    assert Quantity("volume", "sodium-hydroxide", Role.SOLUTION) in loaded.scene.given
    assert {"titrated-rest", "taken-less-rest"} <= {step.law for step in loaded.plan.steps}


def test_an_equation_beside_the_main_one(template: Load) -> None:
    text = 'reaction = "sodium-carbonate-hcl"\nbeside = "carbon-dioxide-from-bicarbonate"\n'
    acid = f"[given.hydrogen-chloride]\n{VOLUME}{STRENGTH}"
    part = '[[part]]\nquantity = "mass"\nof = "sodium-carbonate"\n'
    loaded = template(f"{text}[given.sodium-carbonate]\n{SAMPLE}{acid}{part}")
    assert [equation.beside for equation in loaded.scene.further] == [True]
    assert loaded.plan.sources == ()


def test_a_sample_that_is_heated(template: Load) -> None:
    text = 'reaction = "sodium-carbonate"\ndriven_off = ["water", "carbon-dioxide"]\n[given.sodium-hydrogencarbonate]\n'
    heated = (
        'obtained = { role = "heated", share_of = "sample", percent_yield = [66, 78], '
        'unit = "g", read = "balance-0.001" }\n'
    )
    part = '[[part]]\nquantity = "mass"\nof = "sample"\nrole = "driven_off"\n'
    loaded = template(text + SAMPLE + heated + part)
    assert loaded.scene.driven_off == {"water", "carbon-dioxide"}
    (obtained,) = loaded.obtained
    assert (obtained.quantity.id, obtained.theoretical.id) == ("mass(,heated)", "mass(,sample)")
    assert loaded.parts[0].asked.quantity == Quantity("mass", "", Role.DRIVEN_OFF)


def test_the_hydrates_of_one_salt(template: Load) -> None:
    unknown = template(HEATING).unknown
    assert unknown is not None
    assert unknown.truths == {"crystal_water(magnesium-sulfate)": (Fraction(7), Fraction(6))}
    (residue,) = unknown.analysed
    assert residue.quantity == Quantity("mass", "", Role.HEATED)
    assert [round(float(share), 4) for share in residue.factors] == [0.4883, 0.5269]  # 120.361 over 246.47 and 228.45


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (
            BENZOIN.replace('"benzil"', '"benzill"') + ASKED,
            "then: found 'benzill'; expected an id in banks/reactions.toml. Did you mean 'benzil'?",
        ),
        (
            BENZOIN.replace('"benzil"', '"aspirin"') + ASKED,
            "then: found 'aspirin'; expected a reaction of benzoin, or of a reagent that the first equation leaves",
        ),
        (
            'then = ["benzil"]\n' + ASKED,
            "then: found no main reaction; expected `reaction`, the first equation",
        ),
        (
            'beside = "benzil"\n' + ASKED,
            "beside: found no main reaction; expected `reaction`, the first equation",
        ),
        (
            'reaction = "benzoin"\nbeside = "aspirin"\n' + ASKED,
            "beside: found 'aspirin'; expected a reaction that shares a reagent or a product with the first",
        ),
        (
            'reaction = "calcium-oxide"\ndriven_off = ["calcium-carbonate"]\n' + ASKED,
            "driven_off: found 'calcium-carbonate'; expected a product: calcium-oxide, carbon-dioxide",
        ),
        (
            BENZOIN + f"[given.aspirin]\n{MASS}" + ASKED,
            "given.aspirin: found 'aspirin'; expected the id of a substance in banks/substances.toml",
        ),
        (
            HEATING.replace("MgSO4.6H2O", "MgSO4"),
            "unknown.formulas: found formulas of different elements; expected formulas of the same elements",
        ),
        (
            HEATING.replace("MgSO4", "RbSO4"),
            "unknown.formulas: found RbSO4.7H2O, RbSO4.6H2O; expected hydrates of one salt in banks/substances.toml",
        ),
    ],
)
def test_what_does_not_fit_is_told(faults_of: FaultsOf, text: str, fault: str) -> None:
    found = faults_of(text)
    assert any(one.startswith(f"t.toml: {fault}") for one in found), found


def test_a_role_of_the_sample_has_to_be_known(faults_of: FaultsOf) -> None:
    part = '[[part]]\nquantity = "mass"\nof = "sample"\nrole = "burnt"\n'
    found = faults_of(f'reaction = "calcium-oxide"\n[given.calcium-carbonate]\n{SAMPLE}{part}')
    assert any(one.startswith("t.toml: part.1.role: found 'burnt'; expected one of solution") for one in found)
