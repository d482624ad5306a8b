"""A class with invented points, drawn from a model: some students are better than others, and parts have errors."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tests.support.invented_class import Invented

__all__ = ["drawn"]

_SEED = 1951


def drawn(students: int, templates: Sequence[str] = ("first",), seed: int = _SEED) -> list[Invented]:
    """A class of so many; templates, limiting reagents and sizes are shared out in turn."""
    rng = np.random.default_rng(seed)
    ability = rng.normal(size=(students, 1))
    shares = np.clip(np.round(ability + rng.normal(size=(students, 5)) + 1), 0, 2) / 2
    return [
        Invented(
            f"s{place:03}",
            row.tolist(),
            template=templates[place % len(templates)],
            limiting=("salt", "oxide")[place % 2],
            size=1 + place / 7,
        )
        for place, row in enumerate(shares)
    ]
