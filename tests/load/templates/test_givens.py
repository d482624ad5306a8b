"""What a template gives: ways of measuring out as draws and fixed values, and every impossible range refused."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any

import pytest
from pydantic import ValidationError

from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import GivenDocument
from problemgen.load.templates.givens import Givens, read_givens
from problemgen.model.banks import Banks
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

VOLUME = 'volume = { from = 25.00, to = 30.00, unit = "mL", read = "burette-50" }'
CONCENTRATION = 'concentration = { value = 0.1000, unit = "mol/L" }'
GOOD = f"""reaction = "silver-chromate"
[given.silver-nitrate]
{VOLUME}
{CONCENTRATION}
[[part]]
quantity = "mass"
"""
HERE = "t.toml: given.silver-nitrate"

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]


def changed(old: str, new: str) -> str:
    assert old in GOOD
    return GOOD.replace(old, new)


def read(given: Mapping[str, Any], banks: Banks) -> Givens:
    """What is given, without a fault."""
    log = FaultLog("t.toml")
    givens = read_givens(log, {name: GivenDocument.model_validate(one) for name, one in given.items()}, banks)
    log.stop()
    return givens


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("from = 25.00, to = 30.00", "from = 30.00, to = 25.00", (".volume: found from 30.00 to 25.00; expected a "
         "range that rises")),
        ("to = 30.00", "to = 25.00", ".volume: found from 25.00 to 25.00; expected a range that rises"),
        ("from = 25.00", "from = 0.00", ".volume: found 0.00 mL; expected a number above 0"),
        ("from = 25.00", "from = -5.00", ".volume: found -5.00 mL; expected a number above 0"),
        ("from = 25.00", "from = 25.03", (".volume: found from 25.03 to 30.00; expected ends that stand on the scale: "
         "multiples of 0.05 mL")),
        ("to = 30.00", "to = 50.05", (".volume.to: found 50.05; expected no more than the burette, 50 mL holds. "
         "Take a larger one.")),
        (", to = 30.00", "", ".volume.to: found nothing; expected both ends of the range"),
        ("from = 25.00, ", "", ".volume.from: found nothing; expected both ends of the range"),
        ('unit = "mL", read', 'unit = "g", read', ".volume.unit: found 'g'; expected a unit of volume, such as mL"),
        ('unit = "mL", read', 'unit = "L", read', (".volume.unit: found 'L'; expected the unit of the burette, 50 mL: "
         "mL")),
        ('unit = "mL", read', 'unit = "ml/", read', (".volume.unit: found 'ml/'; expected a unit of the list: "
         "a unit is missing in 'ml/'")),
        ("burette-50", "buret-50", (".volume.read: found 'buret-50'; expected an id in banks/glassware.toml. "
         "Did you mean 'burette-50'?")),
        (', read = "burette-50"', "", (".volume: found no single scale; expected either `read` (a piece of glassware "
         "or a balance) or `step`")),
        ('read = "burette-50"', 'read = "burette-50", step = 0.05', (".volume: found no single scale; expected either "
         "`read` (a piece of glassware or a balance) or `step`")),
        ('read = "burette-50"', "step = 0", ".volume.step: found 0; expected a step above 0"),
        ('read = "burette-50"', "step = -0.1", ".volume.step: found -0.1; expected a step above 0"),
        ('read = "burette-50"', "step = 0.000001", (".volume: found 5000001 values; expected no more than 1000000. "
         "Take a coarser scale.")),
        ("value = 0.1000", "value = 0.1, choose = [0.1]", (".concentration: found no single way to get a value; "
         "expected either `from` and `to`, or `choose`, or `value`")),
        ("value = 0.1000, ", "", (".concentration: found no single way to get a value; expected either `from` and "
         "`to`, or `choose`, or `value`")),
        ("value = 0.1000", "value = 0", ".concentration: found 0 mol/L; expected a number above 0"),
        ("value = 0.1000", "choose = [0.1, -0.2]", ".concentration: found -0.2 mol/L; expected a number above 0"),
        ('"mol/L"', '"g"', ".concentration.unit: found 'g'; expected a unit of amount concentration, such as mol/L"),
        (CONCENTRATION, "", (".volume: found a volume of a substance without a density; expected a density in "
         "banks/substances.toml, or one given here")),
        (CONCENTRATION, 'bottle = "silver"', (".bottle: found 'silver'; expected a bottle of this substance: none in "
         "banks/bottles.toml")),
        ("from =", "form =", (".volume.form: found an unknown key; expected one of choose, from, read, source, step, "
         "to, unit, value. Did you mean 'from'?")),
    ],
)  # fmt: skip
def test_what_cannot_be_measured_out_is_refused(faults_of: FaultsOf, old: str, new: str, expected: str) -> None:
    assert faults_of(changed(old, new)) == [f"{HERE}{expected}"]


def test_an_unknown_key_gets_the_known_ones_and_the_nearest(faults_of: FaultsOf) -> None:
    (fault,) = faults_of(changed("concentration =", "concentratoin ="))
    start, _, end = fault.partition("expected one of ")
    known, _, hint = end.partition(". ")
    assert start == f"{HERE}.concentratoin: found an unknown key; "
    assert known.split(", ") == sorted(GivenDocument.model_fields)
    assert hint == "Did you mean 'concentration'?"


def test_an_unknown_substance_gets_the_nearest_one(faults_of: FaultsOf) -> None:
    assert faults_of(changed("given.silver-nitrate", "given.silver-nitrat")) == [
        (
            "t.toml: given.silver-nitrat: found 'silver-nitrat'; expected the id of a substance in "
            "banks/substances.toml. Did you mean 'silver-nitrate'?"
        )
    ]


@pytest.mark.parametrize(
    ("obtained", "expected"),
    [
        ('percent_yield = [90, 80], unit = "g", read = "balance-0.01"', ("percent_yield: found 90 to 80; expected a "
         "range within 0 to 100")),
        ('percent_yield = [90, 101], unit = "g", read = "balance-0.01"', ("percent_yield: found 90 to 101; expected a "
         "range within 0 to 100")),
        ('percent_yield = [70, 80], unit = "g", read = "burette-50"', ("read: found 'burette-50'; expected a balance: "
         "balance-0.1, balance-0.01, balance-0.001, balance-0.0001")),
        ('percent_yield = [70, 80], unit = "mg", read = "balance-0.01"', ("unit: found 'mg'; expected the unit of the "
         "balance reading to 0.01 g: g")),
        ('percent_yield = [70, 80], unit = "gg", read = "balance-0.01"', ("1.unit: found 'gg'; expected a unit of the "
         "list: unknown unit 'gg'; units such as g, mL, mol/L, kPa, °C and % are known")),
    ],
)  # fmt: skip
def test_what_cannot_be_obtained_is_refused(faults_of: FaultsOf, obtained: str, expected: str) -> None:
    text = f'{GOOD}[[part]]\nquantity = "percent_yield"\n[given.silver-chromate]\nobtained = {{ {obtained} }}\n'
    assert faults_of(text) == [f"t.toml: given.silver-chromate.obtained.{expected}"]


def test_a_share_above_the_whole_is_refused(faults_of: FaultsOf) -> None:
    text = '[given.copper]\nmass.value = 1.00\nmass.unit = "g"\nrecovery = { value = 105, unit = "%" }\n'
    asked = '[[part]]\nquantity = "amount"\n'
    assert faults_of(text + asked) == ["t.toml: given.copper.recovery: found 105 %; expected at most 100 %"]


def test_a_purity_above_the_whole_is_refused(faults_of: FaultsOf) -> None:
    copper = 'reaction = "silver-from-copper"\n[given.copper]\nmass = { value = 1.00, unit = "g" }\n'
    text = copper + 'purity = { choose = [95.0, 102.5], unit = "%" }\n[[part]]\nquantity = "mass"\n'
    assert faults_of(text) == ["t.toml: given.copper.purity: found 102.5 %; expected at most 100 %"]


def test_a_bottle_of_another_substance_is_refused_with_those_that_fit(faults_of: FaultsOf) -> None:
    acid = 'reaction = "h2so4-naoh"\n[given.sulfuric-acid]\nvolume = { value = 2.00, unit = "mL" }\n'
    text = acid + 'bottle = "sulfuric-acid-97"\n[[part]]\nquantity = "amount"\nof = "sulfuric-acid"\n'
    (fault,) = faults_of(text)
    start = "t.toml: given.sulfuric-acid.bottle: found 'sulfuric-acid-97'; expected a bottle of this substance: "
    assert fault.startswith(f"{start}sulfuric-acid-98, ")
    assert fault.endswith(". Did you mean 'sulfuric-acid-98'?")


def test_all_faults_of_all_substances_come_at_once(faults_of: FaultsOf) -> None:
    text = changed("from = 25.00", "from = 31.00").replace('"mol/L"', '"g"')
    second = '[given.potassium-chromate]\nmass = { value = 0, unit = "g" }\n'
    keys = [line.split(": ")[1] for line in faults_of(text.replace("[[part]]", f"{second}[[part]]"))]
    assert keys == [
        "given.potassium-chromate.mass",
        "given.silver-nitrate.concentration.unit",
        "given.silver-nitrate.volume",
    ]


def test_a_range_becomes_a_draw_on_the_scale(template: Load) -> None:
    (draw,) = template(GOOD).draws
    assert draw.quantity == Quantity("volume", "silver-nitrate", Role.SOLUTION)
    assert (draw.first, draw.count, draw.step.text, draw.unit) == (500, 101, "0.05", "mL")
    assert draw.instrument == "burette, 50 mL"
    assert draw.first * draw.step.value == 25
    assert (draw.first + draw.count - 1) * draw.step.value == 30


def test_a_step_needs_no_glassware(template: Load) -> None:
    (draw,) = template(changed('read = "burette-50"', "step = 0.25")).draws
    assert (draw.first, draw.count, draw.instrument) == (100, 21, "")


def test_a_choice_becomes_a_draw_of_its_values(template: Load) -> None:
    draws = template(changed("value = 0.1000", "choose = [0.0950, 0.100]")).draws
    assert [choice.text for choice in draws[1].choices] == ["0.0950", "0.100"]
    assert draws[1].count == 2


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        ({"mass": "g"}, {Quantity("mass", "hydrogen-chloride")}),
        (
            {"mass": "g", "bottle": "hydrochloric-acid-37"},
            {
                Quantity("mass", "hydrogen-chloride", Role.SOLUTION),
                Quantity("mass_fraction", "hydrogen-chloride"),
                Quantity("density", "hydrogen-chloride", Role.SOLUTION),
            },
        ),
        (
            {"volume": "mL", "bottle": "hydrochloric-acid-37"},
            {
                Quantity("volume", "hydrogen-chloride", Role.SOLUTION),
                Quantity("mass_fraction", "hydrogen-chloride"),
                Quantity("density", "hydrogen-chloride", Role.SOLUTION),
            },
        ),
        (
            {"volume": "L", "pressure": "kPa", "temperature": "°C"},
            {Quantity(kind, "hydrogen-chloride") for kind in ("volume", "pressure", "temperature")},
        ),
        (
            {"mass": "g", "purity": "%"},
            {Quantity("mass", "hydrogen-chloride", Role.IMPURE), Quantity("mass_fraction", "hydrogen-chloride")},
        ),
    ],
)
def test_each_way_of_measuring_out_gives_its_quantities(
    banks: Banks, document: dict[str, str], expected: set[Quantity]
) -> None:
    raw = {key: text if key == "bottle" else {"value": "20.0", "unit": text} for key, text in document.items()}
    assert read({"hydrogen-chloride": raw}, banks).quantities == expected


def test_a_neat_liquid_brings_the_density_of_the_bank_with_its_conditions(banks: Banks) -> None:
    volume, density = read({"acetone": {"volume": {"value": "5.0", "unit": "mL"}}}, banks).fixed
    known = banks.substances["acetone"].density
    assert known is not None
    assert (volume.written.value, volume.unit) == (Fraction(5), "mL")
    assert (density.written, density.unit, density.note) == (known.value, known.unit, known.at)


def test_both_stages_of_a_dilution_are_given(banks: Banks) -> None:
    stages = {
        "initial": {"concentration": {"value": "12.0", "unit": "M"}, "volume": {"value": "5.00", "unit": "mL"}},
        "final": {"volume": {"value": "250.0", "unit": "mL"}},
    }
    assert read({"hydrogen-chloride": stages}, banks).quantities == {
        Quantity("concentration", "hydrogen-chloride", Role.INITIAL),
        Quantity("volume", "hydrogen-chloride", Role.INITIAL),
        Quantity("volume", "hydrogen-chloride", Role.FINAL),
    }


def test_a_stage_of_a_serial_dilution_is_given_by_its_number(banks: Banks) -> None:
    told = {"diluted": {"2": {"concentration": {"value": "0.120", "unit": "M"}}}}
    expected = {Quantity("concentration", "hydrogen-chloride", Role.DILUTED, stage=2)}
    assert read({"hydrogen-chloride": told}, banks).quantities == expected


@pytest.mark.parametrize("stage", ["0", "7", "two"])
def test_a_stage_that_no_dilution_has_is_refused(stage: str) -> None:
    told = {"diluted": {stage: {"concentration": {"value": "0.120", "unit": "M"}}}}
    with pytest.raises(ValidationError, match=rf"diluted\.{stage}"):
        GivenDocument.model_validate(told)
