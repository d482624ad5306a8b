"""Cells of an answer sheet, with what a careful person who marks them would take, beside what the program reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from problemgen.chemistry.units import Unit, read_unit
from problemgen.grade.reading.cell import Reading, read_answer

__all__ = ["MEASURES", "Cell", "Family", "Measure", "Take", "asks", "fault_of", "reads"]


@dataclass(frozen=True)
class Measure:
    """A unit as the trade knows it: its size in g, L, mol and K, what it measures, and the unit asked for there."""

    factor: Fraction
    dimension: frozenset[tuple[str, int]]
    asked: str
    offset: Fraction = Fraction(0)

    def size_of(self, value: Fraction) -> Fraction:
        return value * self.factor + self.offset

    def is_that_of(self, unit: Unit) -> bool:
        return frozenset(unit.dimension) == self.dimension


_AMOUNT, _MASS, _VOLUME = {"amount": 1}, {"mass": 1}, {"length": 3}
_STRENGTH, _MOLAR_MASS, _DENSITY = {"amount": 1, "length": -3}, {"mass": 1, "amount": -1}, {"mass": 1, "length": -3}

# SI Brochure, 9th edition (2019), tables 7 (prefixes) and 8 (litre, 0 °C = 273.15 K); written apart from the program's
# list. "M" for mol/L is common practice, no source.
_KNOWN: Mapping[str, tuple[str, Mapping[str, int], str]] = {
    "nmol": ("1e-9", _AMOUNT, "mmol"),
    "µmol": ("1e-6", _AMOUNT, "mmol"),
    "mmol": ("1e-3", _AMOUNT, "mmol"),
    "mol": ("1", _AMOUNT, "mmol"),
    "kmol": ("1e3", _AMOUNT, "mmol"),
    "ng": ("1e-9", _MASS, "g"),
    "µg": ("1e-6", _MASS, "g"),
    "mg": ("1e-3", _MASS, "g"),
    "g": ("1", _MASS, "g"),
    "kg": ("1e3", _MASS, "g"),
    "µL": ("1e-6", _VOLUME, "mL"),
    "mL": ("1e-3", _VOLUME, "mL"),
    "cL": ("1e-2", _VOLUME, "mL"),
    "dL": ("1e-1", _VOLUME, "mL"),
    "L": ("1", _VOLUME, "mL"),
    "mol/L": ("1", _STRENGTH, "mol/L"),
    "mmol/L": ("1e-3", _STRENGTH, "mol/L"),
    "g/mol": ("1", _MOLAR_MASS, "g/mol"),
    "kg/mol": ("1e3", _MOLAR_MASS, "g/mol"),
    "g/mL": ("1e3", _DENSITY, "g/mL"),
    "g/L": ("1", _DENSITY, "g/mL"),
    "mol/kg": ("1e-3", {"amount": 1, "mass": -1}, "mmol"),
    "mmol/h": (f"1/{3600 * 1000}", {"amount": 1, "time": -1}, "mmol"),
    "K": ("1", {"temperature": 1}, "°C"),
    "%": ("1e-2", {}, "%"),
}

MEASURES: Mapping[str, Measure] = MappingProxyType(
    {
        **{
            name: Measure(Fraction(factor), frozenset(dimension.items()), asked)
            for name, (factor, dimension, asked) in _KNOWN.items()
        },
        "°C": Measure(Fraction(1), frozenset({("temperature", 1)}), "°C", Fraction("273.15")),
    }
)


@dataclass(frozen=True)
class Take:
    """What a person takes from a cell: the value, in the unit written, and that unit, "" where none is."""

    value: Fraction
    unit: str

    def __str__(self) -> str:
        return f"{float(self.value):g} {self.unit or 'without unit'}"

    def is_read_by(self, reading: Reading) -> bool:
        """Whether the program takes the same quantity: "39.5 mmol = 0.0395 mol" may be read at either end."""
        if reading.written is None:
            return False
        if reading.unit is None or not self.unit:
            return reading.unit is None and not self.unit and reading.written.value == self.value
        measure = MEASURES[self.unit]
        same_size = reading.unit.to_engine(reading.written.value) == measure.size_of(self.value)
        return measure.is_that_of(reading.unit) and same_size


@dataclass(frozen=True)
class Cell:
    """A cell, the unit asked for, and what a person takes: one of `accepted`, or nothing where they would ask back.

    `tolerated` is why the program may leave unread what a person reads; "" where it may not. Where `doubt_told` is
    true, to read the cell and to say that it is ambiguous counts as asking back.
    """

    text: str
    accepted: tuple[Take, ...]
    asked: str = "mmol"
    tolerated: str = ""
    doubt_told: bool = False

    @property
    def wanted(self) -> str:
        return " or ".join(str(one) for one in self.accepted) or "to ask"


@dataclass(frozen=True)
class Family:
    """Cells of one kind; `tolerated` and `doubt_told` hold for all of them."""

    name: str
    cells: tuple[Cell, ...]
    tolerated: str = ""
    doubt_told: bool = False

    def __post_init__(self) -> None:
        if not self.cells:
            raise ValueError(f"no cells in {self.name}")

    @property
    def all_cells(self) -> tuple[Cell, ...]:
        return tuple(
            Cell(one.text, one.accepted, one.asked, one.tolerated or self.tolerated, one.doubt_told or self.doubt_told)
            for one in self.cells
        )


def reads(expected: str, *texts: str, asked: str = "") -> tuple[Cell, ...]:
    """Cells that all say the same: "39.5 mmol", "39.5" without a unit, or either of "39.48 mmol | 39.5 mmol"."""
    accepted = tuple(_take(one.strip()) for one in expected.split("|"))
    unit = accepted[0].unit
    return tuple(Cell(text, accepted, asked or (MEASURES[unit].asked if unit else "mmol")) for text in texts)


def _take(text: str) -> Take:
    value, _, unit = text.partition(" ")
    return Take(Fraction(value), unit)


def asks(*texts: str, asked: str = "mmol") -> tuple[Cell, ...]:
    """Cells of which nobody could say what they mean."""
    return tuple(Cell(text, (), asked) for text in texts)


def fault_of(cell: Cell) -> tuple[str, str] | None:
    """In what the program departs from a person, and what it read; None where it does not."""
    reading = read_answer(cell.text, read_unit(cell.asked))
    if reading.status in ("unreadable", "blank") or reading.written is None:
        return ("unread", reading.reason) if cell.accepted and not cell.tolerated else None
    told = reading.status == "ambiguous" and cell.doubt_told
    if told or any(one.is_read_by(reading) for one in cell.accepted):
        return None
    return _kind(cell, reading), f"{reading.written.text} {reading.unit.text if reading.unit else 'without unit'}"


def _kind(cell: Cell, reading: Reading) -> str:
    """What is worst first: a value guessed, another value, another unit, a unit passed over."""
    assert reading.written is not None
    if not cell.accepted:
        return "guessed"
    if all(one.value != reading.written.value for one in cell.accepted):
        return "another value"
    return "another unit" if reading.unit is not None else "unit passed over"
