from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import RULES, Judge
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.mistakes import MARGIN
from problemgen.make.rules import liquid_volume
from problemgen.plan.laws.scaling import FLASK_SHARE
from tests.make.conftest import SPARE

# One template a rule: two candidates that differ in one value, of which the second breaks the rule.

ESTER = """
reaction = "isopentyl-acetate"
[given.isopentyl-alcohol]
volume = { from = 1.00, to = 990.00, unit = "mL", step = 0.01 }
[given.acetic-acid]
volume = { from = 1.00, to = 990.00, unit = "mL", step = 0.01 }
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""

LEFT = """
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.1000, to = 9.0000, unit = "g", read = "balance-0.0001" }
[given.iodine]
mass = { from = 0.1000, to = 9.0000, unit = "g", read = "balance-0.0001" }
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
[[part]]
quantity = "mass"
of = "zinc"
role = "left"
unit = "g"
"""

TWO = """
[given.sodium-chloride]
mass = { from = 1.000, to = 9.000, unit = "g", read = "balance-0.001" }
[given.potassium-iodide]
mass = { from = 1.000, to = 30.000, unit = "g", read = "balance-0.001" }
[[part]]
quantity = "amount"
of = "sodium-chloride"
unit = "mmol"
[[part]]
quantity = "amount"
of = "potassium-iodide"
unit = "mmol"
"""

FORMED = LEFT[: LEFT.rindex("[[part]]")]
"""The same, without the question what is left."""

ALCOHOL, ACID = "volume(isopentyl-alcohol)", "volume(acetic-acid)"
ZINC, IODINE = "mass(zinc)", "mass(iodine)"
PHENOL, ANHYDRIDE = "mass(4-aminophenol)", "volume(acetic-anhydride)"
SALT, IODIDE = "mass(sodium-chloride)", "mass(potassium-iodide)"

PAIRS = [
    # 250 mL is the largest flask: two thirds are 166.7 mL
    ("flask", ESTER, {ALCOHOL: "100.00", ACID: "66.00"}, {ALCOHOL: "100.00", ACID: "67.00"}),
    # 8.00 mL of acetic anhydride is 84.8 mmol; 9.3 g of 4-aminophenol, 85 mmol, is more than that
    ("excess", SPARE, {PHENOL: "5.000", ANHYDRIDE: "8.00"}, {PHENOL: "9.300", ANHYDRIDE: "8.00"}),
    # 1.000 g of zinc is 15.295 mmol, and so is 3.882 g of iodine
    ("limiting", LEFT, {ZINC: "1.0000", IODINE: "3.6000"}, {ZINC: "1.0000", IODINE: "3.8700"}),
    # 0.8 mg of zinc left of 31 mg … the difference of two amounts that agree to 2 %
    ("conditioning", LEFT, {ZINC: "1.0000", IODINE: "3.6000"}, {ZINC: "1.0000", IODINE: "3.8200"}),
    # 2.922 g of sodium chloride is 50.0 mmol, and so is 8.300 g of potassium iodide
    ("coincidence", TWO, {SALT: "2.922", IODIDE: "8.900"}, {SALT: "2.922", IODIDE: "8.302"}),
    # where zinc weighs less and limits, whoever goes by the least mass is right by luck
    ("mistake", FORMED, {ZINC: "1.0000", IODINE: "3.0000"}, {ZINC: "0.5000", IODINE: "3.0000"}),
]


@pytest.mark.parametrize(("rule", "text", "good", "bad"), PAIRS, ids=[pair[0] for pair in PAIRS])
def test_a_rule_turns_away_what_breaks_it_and_only_that(
    bench: Any, rule: str, text: str, good: dict[str, str], bad: dict[str, str]
) -> None:
    template = bench.template(text)
    judgement = Judge(template).judge(bench.candidates(template, [good, bad, good]))
    told = [RULES[index] if index >= 0 else "" for index in judgement.turned_away]
    assert told == ["", rule, ""]
    assert judgement.admitted.tolist() == [True, False, True]


def test_there_is_a_pair_for_every_rule() -> None:
    assert tuple(pair[0] for pair in PAIRS) == RULES


def test_a_candidate_is_counted_under_the_first_rule_that_it_breaks(bench: Any) -> None:
    template = bench.template(ESTER)
    both = {ALCOHOL: "200.00", ACID: "105.20"}  # 1.84 mol each, in 305 mL
    judgement = Judge(template).judge(bench.candidates(template, [both]))
    assert RULES[judgement.turned_away[0]] == "flask"


@pytest.mark.parametrize(
    ("iodine", "admitted"), [("3.8700", False), ("3.8500", True), ("3.8950", False), ("3.9150", True)]
)
def test_the_limiting_reagent_is_beyond_doubt(bench: Any, iodine: str, admitted: bool) -> None:
    """1.0000 g of zinc takes 3.8819 g of iodine; the margin of 0.5 % and the windows keep 3.861 to 3.903 g away."""
    template = bench.template(FORMED)
    judgement = Judge(template).judge(bench.candidates(template, [{ZINC: "1.0000", IODINE: iodine}]))
    assert bool(judgement.turned_away[0] != RULES.index("limiting")) is admitted


def test_the_margin_and_the_share_of_the_flask() -> None:
    assert MARGIN == 0.005
    assert float(FLASK_SHARE) == pytest.approx(2 / 3)


def test_each_mistake_is_told_which_candidates_show_it(bench: Any) -> None:
    template = bench.template(FORMED)
    rows = [{ZINC: zinc, IODINE: "3.0000"} for zinc in ("1.0000", "0.5000")]
    revealed = Judge(template).judge(bench.candidates(template, rows)).revealed
    assert set(revealed) >= {mistake.id for mistake in template.plan.mistakes}
    assert revealed["least-mass-taken:extent()"].tolist() == [True, False]
    assert revealed["excess-taken:extent()"].tolist() == [True, True]


def test_a_mistake_shown_by_one_part_is_enough(bench: Any) -> None:
    """The mass of the product alone does not tell the mistake with what is left; the part that asks for it does."""
    template = bench.template(LEFT)
    revealed = Judge(template).judge(bench.candidates(template, [{ZINC: "1.0000", IODINE: "3.0000"}])).revealed
    assert revealed["consumed-for-left:amount(zinc,left)"].tolist() == [True]


def test_a_wrong_choice_shows_a_mistake(bench: Any) -> None:
    """Who takes the reagent in excess as limiting names the other one."""
    text = LEFT[: LEFT.index("[[part]]")] + '[[part]]\nquantity = "limiting_reagent"\n'
    template = bench.template(text)
    judgement = Judge(template).judge(bench.candidates(template, [{ZINC: "1.0000", IODINE: "0.5000"}]))
    assert judgement.revealed["excess-taken:extent()"].tolist() == [True]
    assert judgement.revealed["other-molar-mass:amount(zinc)"].tolist() == [False]  # zinc is in excess all the same


def test_answers_equal_by_their_derivation_may_coincide(bench: Any) -> None:
    """What one reagent allows and what forms are one number where that reagent limits: no accident."""
    template = bench.shipped("limiting-reagent/recovered-silver")
    stream = Stream(b"x", "equal by derivation", "1")
    judgement = Judge(template).judge(draw_candidates(template, stream, ["s"], 0, 400))
    assert np.mean(judgement.turned_away == RULES.index("coincidence")) < 0.1


def test_a_gas_does_not_fill_the_flask(bench: Any) -> None:
    template = bench.shipped("gases/hydrogen-from-aluminium")
    candidates = draw_candidates(template, Stream(b"x", "gas", "1"), ["s"], 0, 5)
    acid = candidates.windows["volume(hydrogen-chloride,solution)"].value
    assert liquid_volume(template, candidates.windows).tolist() == acid.tolist()


def test_where_no_liquid_is_measured_there_is_no_volume(bench: Any) -> None:
    template = bench.template(LEFT)
    candidates = bench.candidates(template, [{ZINC: "1.0000", IODINE: "3.6000"}])
    assert liquid_volume(template, candidates.windows) == 0


STANDARD = """
reaction = "hydrogen-from-magnesium"
[given.hydrogen]
volume = { from = 40.0, to = 60.0, unit = "mL", step = 0.1 }
pressure = { value = PRESSURE, unit = "kPa" }
temperature = { value = ICE }
[given.hydrogen-chloride]
in_excess = true
[[part]]
quantity = "amount"
of = "hydrogen"
unit = "mmol"
"""


@pytest.mark.parametrize("ice", ['0.0, unit = "°C"', '273.15, unit = "K"'])
def test_a_mistake_that_divides_by_zero_is_seen_as_wrong(bench: Any, ice: str) -> None:
    template = bench.template(STANDARD.replace("PRESSURE", "101.3").replace("ICE", ice))
    judgement = Judge(template).judge(bench.candidates(template, [{"volume(hydrogen,theoretical)": "50.0"}]))
    assert judgement.revealed["celsius-for-kelvin"].tolist() == [True]
    assert judgement.admitted.tolist() == [True]


@pytest.mark.parametrize("pressure", ["101.3", "95.0"])
def test_at_standard_conditions_the_standard_molar_volume_is_no_mistake(bench: Any, pressure: str) -> None:
    """22.414 L/mol is right at 0 °C and 101.325 kPa, and nothing has to show it; elsewhere it shows."""
    template = bench.template(STANDARD.replace("PRESSURE", pressure).replace("ICE", '0.0, unit = "°C"'))
    judgement = Judge(template).judge(bench.candidates(template, [{"volume(hydrogen,theoretical)": "50.0"}]))
    assert judgement.revealed["standard-molar-volume"].tolist() == [True]
    assert judgement.admitted.tolist() == [True]
