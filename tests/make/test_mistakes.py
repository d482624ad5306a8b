"""Where a mistake shows, however the student rounds."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from problemgen.make.mistakes import MARGIN, shown_by
from problemgen.make.rules import work
from problemgen.plan.forms.species import chosen_source

LIGHTER = """
reaction = "zinc-iodide"
[given.zinc]
mass = { from = 0.1000, to = 9.0000, unit = "g", read = "balance-0.0001" }
[given.iodine]
mass = { from = 0.1000, to = 9.0000, unit = "g", read = "balance-0.0001" }
[[part]]
quantity = "limiting_reagent"
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
ZINC, IODINE = "mass(zinc)", "mass(iodine)"


def shown(bench: Any, text: str, mistake: str, rows: list[dict[str, str]]) -> Any:
    template = bench.template(text)
    kept = work(template, bench.candidates(template, rows))
    (made,) = [one for one in template.plan.mistakes if one.id == mistake]
    return shown_by(template, [made], kept)


@pytest.mark.parametrize(
    ("zinc", "iodine", "seen"),
    [
        ("1.0000", "3.0000", True),  # the lighter one is zinc, the limiting one iodine
        ("0.5000", "3.0000", False),  # zinc weighs less and limits
        ("3.0000", "3.0000", False),  # who takes the least mass may take either
        ("3.0000", "3.0001", False),
        ("3.0000", "3.0200", True),
    ],
)
def test_the_least_mass_shows_where_it_is_another_reagent_beyond_doubt(
    bench: Any, zinc: str, iodine: str, seen: bool
) -> None:
    found = shown(bench, LIGHTER, "least-mass-taken:extent()", [{ZINC: zinc, IODINE: iodine}])
    assert found.shown.tolist() == [seen]


def test_a_mistake_that_shows_makes_odds(bench: Any) -> None:
    rows = [{ZINC: "1.0000", IODINE: "3.0000"}, {ZINC: "0.5000", IODINE: "3.0000"}]
    found = shown(bench, LIGHTER, "excess-taken:extent()", rows)
    assert found.shown.tolist() == [True, True]
    assert found.differs.tolist() == [True, True]
    assert found.at == "mass(zinc-iodide,theoretical)"


def test_without_candidates_nothing_shows(bench: Any) -> None:
    template = bench.template(LIGHTER)
    kept = work(template, bench.candidates(template, [{ZINC: "1.0000", IODINE: "3.0000"}]))
    nobody = kept.taken(np.zeros(0, dtype=np.int64))
    assert nobody.rows == 0
    assert shown_by(template, template.plan.mistakes[:1], nobody).shown.size == 0


def test_the_source_that_is_chosen_is_the_one_gone_on_with(bench: Any) -> None:
    template = bench.template(LIGHTER)
    rows = [{ZINC: "1.0000", IODINE: "3.0000"}, {ZINC: "0.5000", IODINE: "3.0000"}]
    kept = work(template, bench.candidates(template, rows))
    values = {name: window.value for name, window in kept.windows.items()}
    chosen = [template.plan.sources[index] for index in chosen_source(template.plan, values)]
    assert chosen == ["iodine", "zinc"]
    assert [part.asked.form for part in kept.parts(template)] == ["number"]
    assert 0 < MARGIN < 0.05
