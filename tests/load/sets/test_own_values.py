"""Which values of a template can be the student's own, by what name, and what is usual of them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.load.fault_log import FaultLog
from problemgen.load.sets.own_values import on_one_sheet, own_values_of, read_own_values
from problemgen.model.own_data import OwnValue
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped
from tests.support.small_set import banks

ALCOHOL = "preparations/triphenylmethanol"


def values(name: str) -> dict[str, OwnValue]:
    return dict(own_values_of(shipped(name), banks()))


def faults(name: str, *own: str) -> list[str]:
    log = FaultLog("set.toml")
    read_own_values(log.at("problem", 1, "own"), own, shipped(name), banks())
    return [str(fault) for fault in log.faults]


@pytest.mark.parametrize(
    ("name", "own"),
    [
        (
            ALCOHOL,
            ("magnesium.mass bromobenzene.volume methyl-benzoate.volume methyl-benzoate.concentration "
            "triphenylmethanol.obtained hydrogen-chloride.mass_fraction "
            "hydrogen-chloride.density bromobenzene.density"),
        ),
        ("purification/acetanilide-twice", ("aniline.mass acetanilide.crude.mass acetanilide.purified.mass "
         "acetanilide.pure.mass")),
        ("titrations/aspirin-with-blank", ("acetylsalicylic-acid.mass hydrogen-chloride.concentration "
         "hydrogen-chloride.blank.volume hydrogen-chloride.with_sample.volume")),
        ("gases/three-gases-in-a-vessel", ("nitrogen.mass oxygen.mass carbon-dioxide.mass mixture.volume "
         "mixture.temperature")),
        ("solutions/chloride-in-sea-water", ("sodium-chloride.mass magnesium-chloride.mass calcium-chloride.mass "
         "solution.volume")),
        ("two-products/glucose-pentaacetates", ("glucose.mass acetic-anhydride.mass glucose-pentaacetate.ratio "
         "glucose-pentaacetate.obtained")),
        ("mixtures/soda-and-bicarbonate", "sample.mass hydrogen-chloride.volume hydrogen-chloride.concentration"),
    ],
)  # fmt: skip
def test_values_are_called_as_the_template_calls_them(name: str, own: str) -> None:
    assert sorted(values(name)) == sorted(own.split())


@for_every(NAMES)
def test_every_name_is_fit_for_a_column(name: str) -> None:
    for one in values(name):
        assert one == one.lower()
        assert set(one) <= set("abcdefghijklmnopqrstuvwxyz0123456789-._")
        assert "." in one


@pytest.mark.parametrize(
    ("own", "unit", "low", "high", "step", "instrument", "capacity"),
    [
        ("magnesium.mass", "g", "0.390", "0.875", "0.001", "balance reading to 0.001 g", None),
        ("bromobenzene.volume", "mL", "1.50", "3.50", "0.05", "graduated pipette, 5 mL", "5"),
        ("methyl-benzoate.concentration", "mol/L", "0.6375", "1.3125", None, "", None),
        ("triphenylmethanol.obtained", "g", "42", "100", "0.01", "balance reading to 0.01 g", None),
        ("bromobenzene.density", "g/mL", "1.12125", "1.86875", None, "", None),
    ],
)
def test_what_is_usual_follows_from_the_range_and_the_instrument(
    own: str, unit: str, low: str, high: str, step: str | None, instrument: str, capacity: str | None
) -> None:
    value = values(ALCOHOL)[own]
    assert (value.unit, value.low, value.high) == (unit, Fraction(low), Fraction(high))
    assert (value.step and value.step.text, value.instrument) == (step, instrument)
    assert value.capacity == (None if capacity is None else Fraction(capacity))


def test_no_more_is_usual_than_the_vessel_holds() -> None:
    value = values("titrations/aspirin-with-blank")["hydrogen-chloride.blank.volume"]
    assert (value.high, value.capacity) == (50, 50)


def test_what_was_obtained_is_a_share_of_the_theoretical_mass() -> None:
    share_of = values(ALCOHOL)["triphenylmethanol.obtained"].share_of
    assert share_of is not None
    assert share_of.id == "mass(triphenylmethanol,theoretical)"


def test_an_unknown_compound_has_no_own_values() -> None:
    assert values("formulas/combustion") == {}
    (fault,) = faults("formulas/combustion", "sample.mass")
    assert fault == (
        "set.toml: problem.1.own: found 'sample.mass'; expected no own values: the compound is drawn for each student"
    )


def test_the_order_is_the_sets() -> None:
    names = ("triphenylmethanol.obtained", "magnesium.mass", "bromobenzene.volume", "methyl-benzoate.volume")
    names += ("methyl-benzoate.concentration",)
    assert faults(ALCOHOL, *names) == []
    own = read_own_values(FaultLog("set.toml"), names, shipped(ALCOHOL), banks())
    assert tuple(value.name for value in own) == names


def test_an_unknown_name_is_refused_with_the_nearest() -> None:
    (fault,) = faults(ALCOHOL, "magnesium.volume")
    assert fault.startswith("set.toml: problem.1.own: found 'magnesium.volume'; expected one of magnesium.mass, ")
    assert "magnesium.mass" in fault.rpartition("expected")[2]


def test_a_name_twice_is_refused() -> None:
    (fault,) = faults(ALCOHOL, "triphenylmethanol.obtained", "triphenylmethanol.obtained")
    assert fault == "set.toml: problem.1.own: found 'triphenylmethanol.obtained' twice; expected each value once"


def test_a_drawn_product_beside_an_own_reagent_is_refused() -> None:
    (fault,) = faults(ALCOHOL, "magnesium.mass")
    assert fault == (
        "set.toml: problem.1.own: found mass(triphenylmethanol,theoretical), a value that "
        "mass(triphenylmethanol,actual) is drawn from; expected the other value among the student's own too. "
        "Add 'triphenylmethanol.obtained'."
    )


def test_a_vapour_pressure_is_not_looked_up_for_an_own_temperature() -> None:
    name = "gases/magnesium-over-water"
    (fault,) = faults(name, "hydrogen.temperature")
    assert fault == (
        "set.toml: problem.1.own: found temperature(hydrogen), a value that pressure(hydrogen,vapour) is looked up "
        "for; expected the other value among the student's own too. Add 'hydrogen.vapour.pressure'."
    )
    assert faults(name, "hydrogen.temperature", "hydrogen.vapour.pressure") == []


def test_a_value_without_use_is_refused() -> None:
    template = shipped("equivalents/with-excess")
    used = {quantity.id for quantity in template.plan.given}
    idle = [n for n, value in values("equivalents/with-excess").items() if value.quantity.id not in used]
    for name in idle:
        assert "a value that no part needs" in faults("equivalents/with-excess", name)[0]


def test_a_report_has_all_parts_and_data_on_one_sheet() -> None:
    report = on_one_sheet(shipped(ALCOHOL), 1)
    assert {part.session for part in report.parts} == {1}
    assert report.sessions == 1
    assert set(report.session_of.values()) == {1}
    assert report.plan is shipped(ALCOHOL).plan


def test_a_ratio_is_one_value_of_two_numbers() -> None:
    """Drawn are 80.0 to 85.0 of 100: usual is a quarter more or less of the first number's share."""
    value = values("two-products/glucose-pentaacetates")["glucose-pentaacetate.ratio"]
    assert [one.of for one in value.quantities] == ["glucose-pentaacetate", "alpha-glucose-pentaacetate"]
    assert (value.low, value.high) == (60, 100)
    assert faults("two-products/glucose-pentaacetates", value.name) == []


def test_what_an_instrument_shows_on_a_scale_of_its_own_is_never_unusual() -> None:
    value = values("two-products/methylcyclohexenes-by-nmr")["1-methylcyclohexene.integral"]
    assert (value.low, value.high) == (0, 10**12)
