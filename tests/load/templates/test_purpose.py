"""What a given value means depends on what is asked: products to obtain, solutions titrated, volumes to measure."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.rounding import figures_text
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.model.banks import Banks
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template
from tests.support.worked_values import exact_values

ROOT = Path(__file__).parents[3]


@cache
def banks() -> Banks:
    return load_banks(ROOT / "banks")


def loaded(folder: Path, text: str) -> Template:
    path = folder / "template.toml"
    path.write_text(f'title = "T"\ntopic = "t"\ndifficulty = 1\n{text}', encoding="utf-8")
    return load_template(path, "template", banks())


def answer(template: Template, asked: int = -1) -> Fraction:
    given = {f.quantity.id: read_unit(f.unit).to_engine(f.written.value) for f in template.fixed}
    part = template.parts[asked].asked
    value = exact_values(template.plan, given)[part.quantity.id]
    unit = read_unit(part.unit)
    return (value - unit.offset) / unit.factor


WEIGH = """
reaction = "silver-from-copper"
[given.silver]
mass = { value = 1.00, unit = "g" }
[[part]]
quantity = "mass"
of = "copper"
unit = "g"
"""

YIELD = """
reaction = "dibenzalacetone"
[given.dibenzalacetone]
mass = { value = 5.00, unit = "g" }
percent_yield = { value = 80.0, unit = "%" }
[given.acetone]
[[part]]
quantity = "volume"
of = "acetone"
unit = "mL"
"""

TITRATION = """
reaction = "h2so4-naoh"
[given.sulfuric-acid]
volume = { value = 25.00, unit = "mL" }
[given.sodium-hydroxide]
volume = { value = 30.00, unit = "mL" }
concentration = { value = 0.1000, unit = "mol/L" }
[[part]]
quantity = "concentration"
of = "sulfuric-acid"
unit = "mol/L"
"""

FLASK = """
[given.glucose]
mass = { value = 9.00, unit = "g" }
volume = { value = 250.0, unit = "mL" }
[[part]]
quantity = "concentration"
unit = "mol/L"
"""

GAS = """
reaction = "hydrogen-from-aluminium"
[given.aluminium]
amount = { value = 2.000, unit = "mol" }
[given.hydrogen-chloride]
in_excess = true
[given.hydrogen]
pressure = { value = 101.325, unit = "kPa" }
temperature = { value = 273.15, unit = "K" }
[[part]]
quantity = "volume"
of = "product"
unit = "L"
"""


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (WEIGH, "0.2945"),  # 1.00 g / 107.87 g/mol / 2 × 63.546 g/mol
        (YIELD, "1.961"),  # 5.00 g / 0.800 / 234.30 g/mol × 58.080 g/mol / 0.790 g/mL
        (TITRATION, "0.06000"),  # 3.000 mmol / 2 / 25.00 mL
        (FLASK, "0.1998"),  # 9.00 g / 180.16 g/mol / 0.2500 L
        pytest.param(
            *(GAS, "67.24"),  # 3 mol × 22.414 L/mol
            marks=pytest.mark.source("codata-2022: molar volume of the ideal gas at 273.15 K and 101.325 kPa"),
        ),
    ],
)
def test_a_backward_question_is_answered(tmp_path: Path, text: str, expected: str) -> None:
    assert figures_text(answer(loaded(tmp_path, text)), 4) == expected


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        (WEIGH, Quantity("mass", "silver", Role.THEORETICAL)),
        (YIELD, Quantity("mass", "dibenzalacetone", Role.ACTUAL)),
        (TITRATION, Quantity("volume", "sulfuric-acid", Role.SOLUTION)),
        (FLASK, Quantity("volume", "glucose", Role.SOLUTION)),
    ],
)
def test_a_given_value_takes_the_role_that_the_question_needs(tmp_path: Path, text: str, quantity: Quantity) -> None:
    assert quantity in loaded(tmp_path, text).scene.given


def test_a_neat_liquid_to_measure_out_brings_its_density(tmp_path: Path) -> None:
    density = Quantity("density", "acetone")
    assert density in loaded(tmp_path, YIELD).scene.given
    assert density not in loaded(tmp_path, YIELD.replace('"volume"', '"mass"').replace('"mL"', '"g"')).scene.given


def test_a_solution_titrated_brings_no_density(tmp_path: Path) -> None:
    assert {q.kind for q in loaded(tmp_path, TITRATION).scene.given} == {"volume", "concentration"}
