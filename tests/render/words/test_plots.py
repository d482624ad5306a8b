"""Plots: the points of a standard curve over two axes, in every print."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from problemgen.exact.digits import read_written
from problemgen.load.resources import layouts
from problemgen.model.blocks import Document, Plot, Tick
from problemgen.model.fixed import Datum
from problemgen.model.quantity import Quantity, Role
from problemgen.render.printers.html import fragment
from problemgen.render.printers.terminal import text_lines
from problemgen.render.printers.typst import sheet_data
from problemgen.render.words.plots import plot_of
from problemgen.write.pdf import Job, compile_all


def standard(kind: str, number: int) -> Quantity:
    return Quantity(kind, "dye", Role.STANDARD, stage=number)


POINTS = [(standard("concentration", n), standard("absorbance", n)) for n in (1, 2, 3)]
TEXTS = [("0.060", "0.205"), ("0.120", "0.325"), ("0.180", "0.445")]
GIVEN = {
    quantity.id: Datum(read_written(text), unit)
    for pair, texts in zip(POINTS, TEXTS, strict=True)
    for quantity, text, unit in zip(pair, texts, ("mmol/L", "1"), strict=True)
}


def test_axes_begin_at_zero_and_end_at_a_round_number() -> None:
    plot = plot_of(POINTS, GIVEN)
    assert plot.across == "amount concentration in mmol/L"
    assert plot.up == "absorbance"
    assert plot.across_ticks == tuple(
        Tick(n / 4, text) for n, text in enumerate(("0.00", "0.05", "0.10", "0.15", "0.20"))
    )
    assert plot.up_ticks == tuple(Tick(n / 5, f"0.{n}") for n in range(6))
    assert plot.points == ((0.3, 0.41), (0.6, 0.65), (0.9, 0.89))
    assert plot.line == ()


def test_a_line_goes_from_its_intercept_to_the_last_point() -> None:
    plot = plot_of(POINTS, GIVEN, (Fraction(2), Fraction("0.085")))
    assert plot.line == ((0.0, 0.17), (0.9, 0.89))
    assert plot.alt == (
        "Plot of absorbance against amount concentration with the line of least squares: 0.060 mmol/L, 0.205; "
        "0.120 mmol/L, 0.325; 0.180 mmol/L, 0.445"
    )


@pytest.mark.parametrize(
    ("greatest", "step", "ticks"),
    [("0.99", "0.2", 6), ("1.0", "0.2", 6), ("1.01", "0.5", 4), ("0.051", "0.02", 4), ("250", "50", 6), ("7", "2", 5)],
)
def test_there_are_few_numbers_on_an_axis(greatest: str, step: str, ticks: int) -> None:
    given = {**GIVEN, POINTS[2][1].id: Datum(read_written(greatest), "1")}
    if Fraction(greatest) < Fraction("0.4"):
        given |= {POINTS[n][1].id: Datum(read_written("0.01"), "1") for n in (0, 1)}
    plot = plot_of(POINTS, given)
    assert len(plot.up_ticks) == ticks <= 6
    assert Fraction(plot.up_ticks[1].text) == Fraction(step)


def test_every_printer_prints_it() -> None:
    plot = plot_of(POINTS, GIVEN, (Fraction(2), Fraction("0.085")))
    assert list(text_lines([plot])) == [f"  [{plot.alt}]"]
    html = fragment([plot], layouts())
    assert html.count('class="mark"') == 3
    assert html.count('class="line"') == 1
    assert f'aria-label="{plot.alt}"' in html
    document = Document("Plot", "Course", "Student", "AAAA", "a4", "en", (plot,))
    shaped = sheet_data(document)["blocks"]
    assert json.loads(json.dumps(shaped)) == shaped
    assert (shaped[0]["kind"], shaped[0]["points"], shaped[0]["through"]) == (
        "plot",
        [[0.3, 0.41], [0.6, 0.65], [0.9, 0.89]],
        [[0.0, 0.17], [0.9, 0.89]],
    )
    ((_, pdf),) = compile_all([Job("one", sheet_data(document))], layouts(), workers=1)
    assert pdf.startswith(b"%PDF-")


def test_words_on_axes_are_never_markup() -> None:
    hostile = Plot("<b>x</b>", "y & z", (Tick(0.0, "<i>"),), (), ((0.5, 0.5),), (), 'told "so" <s>')
    html = fragment([hostile], layouts())
    assert "<b>" not in html
    assert "<i>" not in html
    assert "<s>" not in html
