"""Flasks that suit a scale, by the volume of what is poured."""

from __future__ import annotations

import pytest

from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.vessels import flasks_for


@pytest.mark.parametrize(
    ("reagents", "scale", "flasks"),
    [
        ([(2.0, "benzaldehyde"), (1.0, "acetone")], (3.0, 10.0), [10, 25, 50]),
        ([(1.0, "salicylic-acid"), (1.0, "acetic-anhydride")], (10.0, 50.0), [50, 100, 250]),
        ([(1.0, "salicylic-acid"), (40.0, "methanol")], (10.0, 50.0), [50, 100, 250]),  # 1.6 mL a mmol: less than 2
        ([(100.0, "methanol")], (10.0, 50.0), [100, 250, 500]),  # 4.1 mL a mmol
        ([(1.0, "water")], (0.1, 0.2), [10]),
        ([(1.0, "water")], (900.0, 9000.0), [2000]),
    ],
)
def test_flasks_grow_with_what_is_in_them(
    draft: Draft, reagents: list[tuple[float, str]], scale: tuple[float, float], flasks: list[int]
) -> None:
    assert flasks_for(draft.banks, reagents, *scale) == flasks
