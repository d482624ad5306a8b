"""Unknown compounds in templates: what the analysis of each hidden formula gives, and refusals."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from problemgen.model.banks import Banks
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template, Unknown
from problemgen.plan.constants import GAS_CONSTANT
from problemgen.plan.laws.formulas import COMPOUND, SAMPLE

F = Fraction
Load = Callable[[str], Template]
Faults = Callable[[str], list[str]]

PARTS = '[[part]]\nquantity = "empirical_formula"\n'
BALANCE = 'sample = { from = 0.2000, to = 0.4000, unit = "g", read = "balance-0.0001" }\nread = "balance-0.0001"\n'


def text(formulas: str, analysis: str, *more: str, parts: str = PARTS) -> str:
    head = f'[unknown]\nformulas = [{formulas}]\nanalysis = "{analysis}"\n'
    return head + "\n".join(more) + "\n" + parts


def unknown(template: Template) -> Unknown:
    assert template.unknown is not None
    return template.unknown


def test_percentages_need_no_sample_and_scatter(template: Load) -> None:
    one = template(text('"CH4O", "C2H6O"', "percent", 'rest = "O"'))
    carbon, hydrogen = unknown(one).analysed
    assert (carbon.quantity, carbon.unit, carbon.step.text) == (Quantity("mass_fraction", "C"), "%", "0.01")
    assert [round(float(share), 2) for share in carbon.factors] == [37.49, 52.14]  # 12.011/32.042, 24.022/46.069
    assert [round(float(share), 2) for share in hydrogen.factors] == [12.58, 13.13]
    assert (carbon.times, carbon.spread) == (None, 5)
    assert one.draws == ()
    assert one.is_drawn


def test_masses_are_shares_of_the_sample(template: Load) -> None:
    one = template(text('"FeO", "Fe2O3"', "masses", 'rest = "O"', BALANCE))
    (iron,) = unknown(one).analysed
    assert (iron.quantity, iron.unit, iron.times, iron.spread) == (Quantity("mass", "Fe"), "g", SAMPLE.id, 0)
    assert iron.factors[0] == F("55.845") / (F("55.845") + F("15.999"))
    assert one.scene.unknown == ("Fe", "O")
    assert one.scene.unknown_rest == "O"
    assert [one.scene.species[symbol].name for symbol in ("Fe", "O")] == ["iron", "oxygen"]
    assert [draw.quantity for draw in one.draws] == [SAMPLE]


def test_a_sample_burns_to_carbon_dioxide_and_water(template: Load, banks: Banks) -> None:
    one = template(text('"CH4O"', "combustion", 'rest = "O"', BALANCE))
    dioxide, water = unknown(one).analysed
    assert [a.quantity for a in (dioxide, water)] == [Quantity("mass", "carbon-dioxide"), Quantity("mass", "water")]
    methanol, co2, h2o = F("32.042"), F("44.009"), F("18.015")
    assert (dioxide.factors, water.factors) == ((co2 / methanol,), (2 * h2o / methanol,))
    assert one.scene.species["water"].formula == banks.substances["water"].formula
    assert one.scene.species[COMPOUND].name == "the compound"


def test_the_right_formulas_are_known_by_their_masses(template: Load) -> None:
    one = unknown(template(text('"C2H4O2", "C3H6O3"', "percent", 'rest = "O"', "molar_mass = 0.1")))
    empirical, molecular = (
        one.truths[Quantity("molar_mass", COMPOUND, role).id] for role in (Role.EMPIRICAL, Role.MOLECULAR)
    )
    assert empirical[0] == empirical[1] == F("30.026")  # CH2O, both
    assert molecular == (2 * F("30.026"), 3 * F("30.026"))
    told = one.analysed[-1]
    assert (told.quantity, told.unit, told.step.text, told.factors) == (
        Quantity("molar_mass", COMPOUND),
        "g/mol",
        "0.1",
        molecular,
    )


def test_every_element_is_analysed_where_none_is_the_rest(template: Load) -> None:
    one = template(text('"CH4O"', "percent"))
    assert [a.quantity.of for a in unknown(one).analysed] == ["C", "H", "O"]
    assert one.scene.unknown_rest == ""


VAPOUR = (
    '[unknown.vapour]\npressure = { value = 100.0, unit = "kPa" }\n'
    'temperature = { from = 18.0, to = 27.0, unit = "°C", step = 0.5 }\n'
)
OF_MASS = '[[part]]\nquantity = "molar_mass"\nof = "compound"\nunit = "g/mol"\n'
OF_VAPOUR = '[[part]]\nquantity = "molecular_formula"\n'
BULB = 'volume = { value = 250.0, unit = "mL" }\nread = "balance-0.001"\n'


def test_a_gas_is_told_by_its_density(template: Load) -> None:
    one = template(text('"C2H4", "C2H6"', "percent", 'rest = "H"', VAPOUR + "density = 0.001", parts=OF_VAPOUR))
    density = unknown(one).analysed[-1]
    pressure, temperature = (Quantity(kind, COMPOUND).id for kind in ("pressure", "temperature"))
    assert (density.quantity, density.unit, density.step.text) == (Quantity("density", COMPOUND), "g/L", "0.001")
    assert (density.times, density.spread) == (("div", pressure, temperature), 3)
    assert density.factors == (F("28.054") / GAS_CONSTANT, F("30.070") / GAS_CONSTANT)
    assert [draw.quantity.id for draw in one.draws] == [temperature]
    laws = [step.law for step in one.plan.steps]
    assert laws.index("gas-density") < laws.index("multiple")


def test_a_vapour_is_weighed_in_a_bulb(template: Load) -> None:
    one = template(text('"C2H4", "C2H6"', "percent", 'rest = "H"', VAPOUR + BULB, parts=OF_VAPOUR + OF_MASS))
    mass = unknown(one).analysed[-1]
    pressure, temperature, volume = (Quantity(kind, COMPOUND).id for kind in ("pressure", "temperature", "volume"))
    assert (mass.quantity, mass.unit, mass.step.text) == (Quantity("mass", COMPOUND), "g", "0.001")
    assert mass.times == ("div", ("mul", pressure, volume), temperature)
    assert [step.law for step in one.plan.steps][-5:].count("multiple") == 1


_NO_SINGLE_WAY = (
    "t.toml: unknown.vapour: found no single way to know how heavy the gas is; expected either `density`, or `volume` "
    "with `read`, the balance on which that volume is weighed"
)


@pytest.mark.parametrize("how", ["", BULB + "density = 0.001\n", 'read = "balance-0.001"\n', BULB.partition("\n")[0]])
def test_a_gas_is_weighed_in_one_way(faults_of: Faults, how: str) -> None:
    body = text('"C2H4", "C2H6"', "percent", 'rest = "H"', VAPOUR + how, parts=OF_VAPOUR)
    assert faults_of(body) == [_NO_SINGLE_WAY]


def test_the_balance_of_a_vapour_is_in_the_bank(faults_of: Faults) -> None:
    body = text('"C2H4"', "percent", 'rest = "H"', VAPOUR + BULB.replace("0.001", "0.003"), parts=OF_VAPOUR)
    (fault,) = faults_of(body)
    assert fault.startswith("t.toml: unknown.vapour.read: found 'balance-0.003'; expected a balance in banks/")


@pytest.mark.parametrize(
    ("body", "faults"),
    [
        (
            text('"CH4O", "CH3Xx"', "percent"),
            ["t.toml: unknown.formulas.2: found formula 'CH3Xx', character 4: "],
        ),
        (
            text('"CH4O", "CH4S"', "percent"),
            ["t.toml: unknown.formulas: found formulas of different elements; expected formulas of the same elements"],
        ),
        (
            text('"FeO"', "masses", 'rest = "O"'),
            [
                "t.toml: unknown.read: found nothing; expected a balance in banks/glassware.toml",
                "t.toml: unknown.sample: found nothing; expected the range of the sample's mass",
            ],
        ),
        (
            text('"FeO"', "masses", 'rest = "O"', BALANCE.partition("\n")[0]),
            ["t.toml: unknown.read: found nothing; expected a balance in banks/glassware.toml"],
        ),
        (
            text('"FeO"', "masses", 'rest = "O"', BALANCE.replace('"\n', 'x"\n')),
            [
                (
                    "t.toml: unknown.read: found 'balance-0.0001x'; expected a balance in banks/glassware.toml. "
                    "Did you mean 'balance-0.0001'?"
                )
            ],
        ),
        (
            text('"FeO"', "weighing"),
            ["t.toml: unknown.analysis: found 'weighing'; expected "],
        ),
        (
            text("", "percent"),
            ["t.toml: unknown.formulas: found "],
        ),
    ],
)
def test_a_faulty_unknown_is_refused(faults_of: Faults, body: str, faults: list[str]) -> None:
    found = faults_of(body)
    assert len(found) == len(faults)
    assert [one[: len(start)] for one, start in zip(found, faults, strict=True)] == faults
