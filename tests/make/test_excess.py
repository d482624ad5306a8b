"""What a template declares in excess is in excess in every variant."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.make.admissible import RULES, Judge
from problemgen.make.candidates import Stream
from problemgen.make.excess import compared, runs_short
from problemgen.make.variants import Maker
from tests.make.conftest import SPARE

PARACETAMOL = "equivalents/reagent-table"


def test_a_reagent_in_excess_is_compared_with_what_limits(bench: Any) -> None:
    plan = compared(bench.shipped(PARACETAMOL).scene)
    assert plan is not None
    assert {one.quantity.id for one in plan.asked} == {"extent(4-aminophenol)", "extent(acetic-anhydride)"}


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "gravimetry/rock-salt", "preparations/benzhydrol"])
def test_without_an_amount_there_is_nothing_to_compare(bench: Any, name: str) -> None:
    assert compared(bench.shipped(name).scene) is None


def test_where_the_excess_runs_short_the_candidate_is_turned_away(bench: Any) -> None:
    """Three grams of 4-aminophenol (27.5 mmol) against 2.5 mL of acetic anhydride (26.5 mmol)."""
    template = bench.template(SPARE)
    rows = [{"mass(4-aminophenol)": "3.000", "volume(acetic-anhydride)": volume} for volume in ("2.50", "3.50")]
    candidates = bench.candidates(template, rows)
    plan = compared(template.scene)
    assert plan is not None
    assert runs_short(plan, template.scene, candidates).tolist() == [True, False]
    judgement = Judge(template).judge(candidates)
    assert [RULES[index] if index >= 0 else "" for index in judgement.turned_away] == ["excess", ""]


@pytest.mark.parametrize("name", [PARACETAMOL, "equivalents/excess-of-benzaldehyde", "preparations/luminol"])
def test_no_variant_runs_short_of_what_is_in_excess(bench: Any, name: str) -> None:
    template = bench.shipped(name)
    plan = compared(template.scene)
    assert plan is not None
    for variant in Maker(template, Stream(b"x", "excess", "p1")).variants([f"s{n}" for n in range(40)]):
        candidates = bench.candidates(template, [{q: d.written.text for q, d in variant.given.items()}])
        assert not runs_short(plan, template.scene, candidates).any()
