"""What a template gives of gases: over water, at named conditions, in two states, in mixtures, of an unknown."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.banks import Banks
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

WET = """reaction = "hydrogen-from-zinc"
[given.hydrogen]
vapour_pressure = "water"
volume = { from = 40.0, to = 95.0, unit = "mL", step = 0.5 }
pressure = { from = 97.5, to = 102.5, unit = "kPa", step = 0.1 }
temperature = { from = 17, to = 27, unit = "°C", step = 1 }
[[part]]
quantity = "mass"
of = "zinc"
"""
STANDARD = """[given.nitrogen]
mass = { from = 1.0, to = 9.0, unit = "g", step = 0.1 }
conditions = "0 °C and 1 bar"
[[part]]
quantity = "volume"
of = "nitrogen"
"""
UNKNOWN = """[given.stuff]
called = "unknown liquid"
mass = { from = 0.2, to = 0.9, unit = "g", step = 0.1 }
volume = { value = 0.250, unit = "L" }
pressure = { value = 99.5, unit = "kPa" }
temperature = { value = 98.5, unit = "°C" }
[[part]]
quantity = "molar_mass"
"""
MIXTURE = """[given.nitrogen]
mass = { from = 1.0, to = 9.0, unit = "g", step = 0.1 }
[given.oxygen]
mass = { from = 1.0, to = 9.0, unit = "g", step = 0.1 }
[given.mixture]
volume = { value = 5.00, unit = "L" }
temperature = { value = 20.0, unit = "°C" }
[[part]]
quantity = "pressure"
of = "mixture"
[[part]]
quantity = "amount"
of = "each reagent"
"""
VAPOUR = Quantity("pressure", "hydrogen", Role.VAPOUR)


def test_the_vapour_pressure_follows_the_drawn_temperature(template: Load, banks: Banks) -> None:
    (followed,) = [draw for draw in template(WET).draws if draw.quantity == VAPOUR]
    assert followed.follows == Quantity("temperature", "hydrogen")
    assert followed.choices == tuple(banks.water_vapour[celsius] for celsius in range(17, 28))
    assert (followed.count, followed.unit) == (11, "kPa")
    assert Quantity("pressure", "hydrogen", Role.TOTAL) in template(WET).scene.given


def test_the_vapour_pressure_at_a_fixed_or_a_chosen_temperature(template: Load, banks: Banks) -> None:
    drawn = 'from = 17, to = 27, unit = "°C", step = 1'
    fixed = {one.quantity: one for one in template(WET.replace(drawn, 'value = 20, unit = "°C"')).fixed}
    assert fixed[VAPOUR].written == banks.water_vapour[20]
    chosen = template(WET.replace(drawn, 'choose = [25, 18], unit = "°C"'))
    (followed,) = [draw for draw in chosen.draws if draw.quantity == VAPOUR]
    assert followed.choices == (banks.water_vapour[25], banks.water_vapour[18])


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ('"water"', '"ethanol"', ("t.toml: given.hydrogen.vapour_pressure: found 'ethanol'; expected 'water': no other "
         "vapour pressures are in the banks")),
        ("step = 1 ", "step = 0.5 ", ("t.toml: given.hydrogen.temperature: found no such temperature; expected whole "
         "degrees Celsius from 0 to 40, those of banks/water_vapour.toml")),
        ("to = 27", "to = 47", ("t.toml: given.hydrogen.temperature: found no such temperature; expected whole "
         "degrees Celsius from 0 to 40, those of banks/water_vapour.toml")),
        ('from = 17, to = 27, unit = "°C"', 'from = 290, to = 300, unit = "K"', ("t.toml: given.hydrogen.temperature: "
         "found no such temperature; expected whole degrees Celsius from 0 to 40, those of banks/water_vapour.toml")),
    ],
)  # fmt: skip
def test_a_vapour_pressure_that_no_table_tells(faults_of: FaultsOf, old: str, new: str, expected: str) -> None:
    assert faults_of(WET.replace(old, new)) == [expected]


def test_the_molar_volume_at_named_conditions(template: Load) -> None:
    (fixed,) = template(STANDARD).fixed
    assert (fixed.quantity, fixed.written) == (Quantity("molar_volume", "nitrogen"), read_written("22.711"))
    assert (fixed.unit, fixed.note) == ("L/mol", "0 °C and 1 bar")


def test_conditions_that_no_table_names(faults_of: FaultsOf) -> None:
    assert faults_of(STANDARD.replace("0 °C and 1 bar", "0 °C and 1 baar")) == [
        (
            "t.toml: given.nitrogen.conditions: found '0 °C and 1 baar'; expected one of '0 °C and 1 bar', "
            "'0 °C and 1 atm', '25 °C and 1 bar'. Did you mean '0 °C and 1 bar'?"
        )
    ]


def test_a_substance_that_no_bank_has_is_called_something(template: Load, faults_of: FaultsOf) -> None:
    made = template(UNKNOWN)
    assert made.scene.species["stuff"].name == "unknown liquid"
    assert made.scene.species["stuff"].formula is None
    assert made.substances == {}
    assert [step.law for step in made.plan.steps] == ["ideal-gas", "amount"]
    assert faults_of(UNKNOWN.replace('called = "unknown liquid"\n', "")) == [
        "t.toml: given.stuff: found 'stuff'; expected the id of a substance in banks/substances.toml"
    ]


def test_a_mixture_has_values_of_its_own_and_is_no_reagent(template: Load) -> None:
    made = template(MIXTURE)
    assert set(made.scene.species) == {"nitrogen", "oxygen"}
    assert {"volume(,mixed)", "temperature(,mixed)"} <= {quantity.id for quantity in made.scene.given}
    assert [part.asked.quantity.id for part in made.parts] == [
        "pressure(,mixed)",
        "amount(nitrogen)",
        "amount(oxygen)",
    ]


def test_a_gas_in_two_states_needs_no_density(template: Load) -> None:
    state = 'pressure = { value = 99.0, unit = "kPa" }\ntemperature = { value = 20.0, unit = "°C" }\n'
    text = (
        '[given.nitrogen.initial]\nmass = { from = 1.0, to = 9.0, unit = "g", step = 0.1 }\n'
        f'{state}[given.nitrogen.final]\npressure = {{ value = 80.0, unit = "kPa" }}\n'
        '[[part]]\nquantity = "mass"\nrole = "initial"\n'
    )
    assert Quantity("mass", "nitrogen", Role.INITIAL) in template(text).scene.given
