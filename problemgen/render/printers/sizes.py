"""The sizes that widths are worked out from here, and that the layouts go by too: they find them in the data."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["COMPACT", "MM", "PAPERS", "ROOMY", "Sizes"]

MM = 72 / 25.4
"""A millimetre, in points."""

PAPERS = {"a4": 210 * MM, "us-letter": 8.5 * 72}
"""The width of each paper that can be printed on, in points."""


@dataclass(frozen=True)
class Sizes:
    """Lengths of a layout, in points."""

    base: float
    """The size of the type."""
    small: float | None
    """The size of all smaller type; None where there are several."""
    margin: float
    """Beside the columns, at either side."""
    columns: int
    gutter: float
    """Between two columns."""
    drawings: float
    """The scale at which structures are printed."""
    label: float
    """Beside a part that was marked, and beside its working."""
    flag: tuple[float, float]
    """Between a flag's frame and what stands in it, left and right."""

    def page(self, paper: str) -> float:
        """The width between the margins of one of `PAPERS`."""
        return PAPERS[paper] - 2 * self.margin

    def room(self, paper: str) -> float:
        """The width of a line."""
        return (self.page(paper) - (self.columns - 1) * self.gutter) / self.columns

    def smaller(self, share: float, size: float) -> float:
        """The size of type that is to have this share of the size of what it belongs to."""
        return share * size if self.small is None else self.small


ROOMY = Sizes(11, None, 22 * MM, 1, 0, 1.0, 2.2 * 11, (10, 8))
COMPACT = Sizes(9.5, 9, 12 * MM, 2, 6 * MM, 0.7, 2.2 * 9.5, (10, 8))
"""Nothing is smaller than 9 points, for it is read in bad light; nor in drawings, whose letters are 13 points high."""
