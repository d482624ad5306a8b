"""The shape of a problem with fixed numbers in a JSON file, and its lines as data."""

from __future__ import annotations

from typing import Any

from pydantic import Field

from problemgen.chemistry.units import read_unit
from problemgen.errors import DimensionError
from problemgen.exact.digits import read_written
from problemgen.load.documents import Document
from problemgen.model.fixed import Datum
from problemgen.model.quantity import KINDS, Quantity

__all__ = ["EntryDocument", "ProblemDocument", "datum_of", "unit_of"]


class EntryDocument(Document):
    """One given or asked line of a problem."""

    of: str | None = None
    formula: str | None = None
    quantity: str
    value: str | None = None
    answer: str | None = None
    unit: str | None = None
    role: str | None = None
    sig_figs_ambiguous: bool = False


class ProblemDocument(Document):
    """One problem of the file."""

    id: str
    kind: str
    source: str | None = None
    subkind: str | None = None
    equation: str | None = None
    given: tuple[EntryDocument, ...] = ()
    asked: tuple[EntryDocument, ...] = Field(min_length=1)
    note: str | None = None
    erratum_suspected: bool = False
    agreement: str | None = None
    reproduced_with: Any = None


def datum_of(quantity: Quantity, entry: EntryDocument) -> Datum:
    """A given line's value; DimensionError for a unit of another dimension, NumberError for no number."""
    unit = unit_of(quantity.kind, entry.unit)
    if read_unit(unit).dimension != KINDS[quantity.kind].dimension:
        expected = KINDS[quantity.kind].unit
        raise DimensionError(f"{quantity.id}: {entry.unit} is no unit of {quantity.kind} (such as {expected})")
    return Datum(read_written(entry.value or ""), unit)


def unit_of(kind: str, text: str | None) -> str:
    """A unit as the engine takes it: a molar mass in atomic mass units is one in grams per mole."""
    if text is None:
        return "1"
    return text.replace("amu", "g/mol") if kind in ("molar_mass", "atomic_weight") else text
