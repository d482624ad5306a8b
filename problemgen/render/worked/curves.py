"""A line by least squares, told in a table of deviations and its sums."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from problemgen.chemistry.units import read_unit, unit_text
from problemgen.exact.digits import number_text, read_written
from problemgen.exact.rounding import figures_text, plain_text
from problemgen.language.messages import _, pgettext
from problemgen.model.blocks import Line, Paragraph, Plot, Prose, Strong, Symbol, Table
from problemgen.model.fixed import Datum
from problemgen.model.lines import filled
from problemgen.model.quantity import Quantity
from problemgen.plan.laws.absorbance import intercept_of, points_of, slope_of
from problemgen.render.words.plots import plot_of
from problemgen.render.worked.printed import Printed

__all__ = ["deviations", "fitted_plot", "intercept_relation", "slope_relation"]

_FIGURES = 4
"""Figures of products and squares: one more than the data of a photometer have."""


def slope_relation() -> Line:
    """The slope in symbols."""
    c, a = _deviation("c"), _deviation("A")
    return (Prose("Σ "), *c, Prose(" "), *a, Prose("/"), Prose("Σ "), *c, Prose("²"))


def _deviation(letter: str) -> Line:
    return (Prose("("), Symbol(letter), Prose(" − "), _mean(letter), Prose(")"))


def intercept_relation() -> Line:
    """The intercept in symbols."""
    return (_mean("A"), Prose(" − "), Symbol("k"), Prose(" × "), _mean("c"))


def _mean(letter: str) -> Symbol:
    # Translators: the index of a symbol: the mean of several values.
    return Symbol(letter, sub=pgettext("index", "mean"))


def deviations(printed: Printed, species: str) -> tuple[Paragraph, Table]:
    """The means, and the deviations of each standard from them, their products and squares, and the sums of these."""
    held, absorbed = zip(*points_of(printed.scene, species), strict=True)
    unit = printed.unit(held[0])
    along, up = _Side.of(printed, held, unit), _Side.of(printed, absorbed, "1")
    products = [x * y for x, y in zip(along.deviations, up.deviations, strict=True)]
    squares = [x * x for x in along.deviations]
    rows = [
        _cells(str(n), along.text(x), up.text(y), _short(product), _short(square))
        for n, (x, y, product, square) in enumerate(
            zip(along.deviations, up.deviations, products, squares, strict=True), start=1
        )
    ]
    sums = (_short(sum(one, Fraction())) for one in (products, squares))
    total = tuple((Strong(text),) for text in (_("sum"), "", "", *sums))
    told = unit_text(unit)
    means = filled(
        _("The means are {concentration} = {value} {unit} and {absorbance} = {reading}."),
        concentration=(_mean("c"),),
        value=along.text(along.mean),
        unit=told,
        absorbance=(_mean("A"),),
        reading=up.text(up.mean),
    )
    header = _cells(
        _("Standard"),
        _("c less its mean, {unit}").format(unit=told),
        _("A less its mean"),
        _("product, {unit}").format(unit=told),
        _("square, ({unit})²").format(unit=told),
    )
    numeric = (False, True, True, True, True)
    return Paragraph(means), Table(_("Deviations from the means"), header, (*rows, total), numeric)


@dataclass(frozen=True)
class _Side:
    """One coordinate of all points: the mean, the deviations from it, and the last place that is told of them."""

    mean: Fraction
    deviations: list[Fraction]
    place: int

    @classmethod
    def of(cls, printed: Printed, quantities: tuple[Quantity, ...], unit: str) -> _Side:
        values = [read_unit(unit).from_engine(printed.numbers.values[one.id]) for one in quantities]
        mean = sum(values, Fraction()) / len(values)
        places = [-len(printed.text(one).partition(".")[2]) for one in quantities]
        return cls(mean, [value - mean for value in values], min(places) - 1)

    def text(self, value: Fraction) -> str:
        return number_text(plain_text(value, self.place))


def fitted_plot(printed: Printed, species: str) -> Plot:
    """The points of the curve with the line through them."""
    points = points_of(printed.scene, species)
    data = {name: Datum(read_written(text), unit) for name, (text, unit) in printed.numbers.data.items()}
    slope, intercept = (printed.numbers.values[one.id] for one in (slope_of(species), intercept_of(species)))
    return plot_of(points, data, (slope * read_unit(data[points[0][0].id].unit).factor, intercept))


def _short(value: Fraction) -> str:
    return number_text(figures_text(value, _FIGURES)) if value else "0"


def _cells(*texts: str) -> tuple[Line, ...]:
    return tuple((Prose(text),) for text in texts)
