"""A line by least squares, told: deviations, sums, and a plot with the line."""

from __future__ import annotations

import numpy as np
import pytest

from problemgen.model.blocks import Block, Calculation, Paragraph, Plot, Table
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines
from tests.support.shipped import variant_of

NAME, DYE = "absorbance/permanganate-curve", "potassium-permanganate"
STANDARDS = ("one", "two", "three", "four", "five")


def blocks() -> list[Block]:
    return list(variant_solution(variant_of(NAME)))


def column(kind: str) -> np.ndarray:  # type: ignore[type-arg]
    values = variant_of(NAME).values
    return np.array([float(values[f"{kind}({DYE},standard_{number})"]) for number in STANDARDS])


def numbers(row: tuple[object, ...]) -> list[float]:
    texts = ["".join(getattr(piece, "text", "") for piece in cell) for cell in row]  # type: ignore[attr-defined]
    return [float(text.replace("−", "-").partition("\u00a0")[0]) for text in texts[1:] if text]


def test_the_table_has_the_deviations_and_their_sums() -> None:
    (table,) = (one for one in blocks() if isinstance(one, Table) and one.caption == "Deviations from the means")
    along, up = (one - one.mean() for one in (1000 * column("concentration"), column("absorbance")))
    for row, x, y in zip(table.rows, along, up, strict=False):
        told = numbers(row)
        assert told[:2] == pytest.approx([x, y], abs=6e-6)
        assert told[2:] == pytest.approx([x * y, x * x], rel=2e-3, abs=1e-12)
    assert numbers(table.rows[-1]) == pytest.approx([(along * up).sum(), (along * along).sum()], rel=2e-4)


def test_slope_and_intercept_stand_behind_in_symbols() -> None:
    lines = ["".join(text_lines([one])).strip() for one in blocks() if isinstance(one, Calculation)]
    assert lines[0].startswith("k(KMnO₄) = (Σ (c − c_mean) (A − A_mean))/(Σ (c − c_mean)²) = 2.")
    assert lines[1].startswith("A₀(KMnO₄) = A_mean − k × c_mean = 0.0")


def test_the_means_are_told() -> None:
    texts = ["".join(text_lines([one])) for one in blocks() if isinstance(one, Paragraph)]
    (told,) = (text for text in texts if text.startswith("The means are"))
    words = told.rstrip(".").split()
    assert float(words[5]) == pytest.approx(1000 * column("concentration").mean(), abs=6e-7)
    assert float(words[-1]) == pytest.approx(column("absorbance").mean(), abs=6e-6)


def test_the_line_in_the_plot_meets_the_intercept() -> None:
    (plot,) = (one for one in blocks() if isinstance(one, Plot))
    top = float(plot.up_ticks[-1].text)
    (left, height), (_, end) = plot.line
    slope, intercept = np.polyfit(column("concentration"), column("absorbance"), 1)
    assert left == 0
    assert height * top == pytest.approx(intercept, abs=1e-4)
    assert end * top == pytest.approx(intercept + slope * column("concentration").max(), abs=1e-4)
