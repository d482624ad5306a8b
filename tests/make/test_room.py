from __future__ import annotations

from typing import Any

import pytest

from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.room import room_faults

STREAM = Stream(b"trial", "check", "1", "trial")

LUCKY = """
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.200, to = 0.500, unit = "g", read = "balance-0.001" }
[given.iodine]
mass = { from = 5.000, to = 8.000, unit = "g", read = "balance-0.001" }
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
"""Zinc always weighs less and always limits: whoever goes by the least mass is right."""

FULL = """
reaction = "isopentyl-acetate"
[given.isopentyl-alcohol]
volume = { from = 150.0, to = 200.0, unit = "mL", step = 0.1 }
[given.acetic-acid]
volume = { from = 90.0, to = 200.0, unit = "mL", step = 0.1 }
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""


def told(template: Any) -> list[str]:
    return [str(fault) for fault in room_faults(template, "t.toml", draw_candidates(template, STREAM, ["a"], 0, 200))]


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "preparations/triphenylmethanol", "solutions/dilution"])
def test_a_template_with_room_has_no_fault(bench: Any, name: str) -> None:
    assert told(bench.shipped(name)) == []


def test_a_mistake_that_no_part_shows_is_a_fault(bench: Any) -> None:
    (fault,) = [fault for fault in told(bench.template(LUCKY)) if "least-mass-taken" in fault]
    assert fault == (
        "t.toml: part: found the mistake 'least-mass-taken:extent()' (the least mass taken as limiting), "
        "which no asked part ever shows; expected a part that shows it. Ask for extent()."
    )


def test_ranges_that_leave_no_room_are_a_fault(bench: Any) -> None:
    assert told(bench.template(FULL)) == [
        (
            "t.toml: given: found 0.0% of the candidates admissible (turned away: flask 100%); expected at least 1% "
            "of the candidates admissible. Lower the volumes, or give the reaction a larger flask in "
            "banks/reactions.toml."
        )
    ]


def test_the_fault_tells_each_rule_s_share(bench: Any) -> None:
    narrow = FULL.replace("from = 150.0, to = 200.0", "from = 109.0, to = 109.5").replace(
        "from = 90.0, to = 200.0", "from = 57.0, to = 58.0"
    )
    (fault,) = told(bench.template(narrow))
    assert fault.startswith("t.toml: given: found 0.0% of the candidates admissible (turned away: flask ")
    assert ", limiting " in fault


def test_an_equation_to_balance_needs_no_room(bench: Any) -> None:
    assert told(bench.template('reaction = "propane-combustion"\n[[part]]\nquantity = "balanced_equation"\n')) == []
