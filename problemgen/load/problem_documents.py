"""The shape of a problem with fixed numbers in a JSON file, and its lines as data."""

from __future__ import annotations

from typing import Any

from pydantic import Field

from problemgen.chemistry.units import read_unit
from problemgen.errors import DimensionError
from problemgen.exact.digits import Written, read_written
from problemgen.model.document import Document
from problemgen.model.fixed import Datum
from problemgen.model.quantity import KINDS, Quantity

__all__ = ["EntryDocument", "ProblemDocument", "datum_of", "measured", "unit_of"]


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


def measured(document: ProblemDocument) -> ProblemDocument:
    """The problem without the formula that an asked molar mass names, where what is given of it names none.

    The molar mass of an unknown substance follows from its measurements: the formula belongs to the answer.
    """
    unknown = {entry.of for entry in document.given if entry.formula is None}
    asked = tuple(
        entry.model_copy(update={"formula": None}) if entry.quantity == "molar_mass" and entry.of in unknown else entry
        for entry in document.asked
    )
    return document.model_copy(update={"asked": asked})


def datum_of(quantity: Quantity, entry: EntryDocument) -> Datum:
    """A given line's value; DimensionError for a unit of another dimension, NumberError for no number."""
    unit = unit_of(quantity.kind, entry.unit)
    if read_unit(unit).dimension != KINDS[quantity.kind].dimension:
        expected = KINDS[quantity.kind].unit
        raise DimensionError(f"{quantity.id}: {entry.unit} is no unit of {quantity.kind} (such as {expected})")
    return Datum(_surely(read_written(entry.value or "")), unit)


def _surely(written: Written) -> Written:
    """A printed number with the figures that it surely has: of a whole number, zeros behind the third may be none."""
    zeros = len(written.text) - len(written.text.rstrip("0")) if written.text.isdigit() else 0
    unsure = min(zeros, max(written.figures - _SURE, 0))
    return Written(written.value, unsure, written.text) if unsure else written


_SURE = 3


def unit_of(kind: str, text: str | None) -> str:
    """A unit as the engine takes it: a molar mass in atomic mass units is one in grams per mole, a number is bare."""
    if text is None or kind == "portions":
        return "1"
    if kind == "mass_volume_percent" and text == "%":
        return "g/dL"  # grams in 100 mL
    return text.replace("amu", "g/mol") if kind in ("molar_mass", "atomic_weight") else text
