"""Lines of printed problems about what a solution, a sample or a serving contains.

Printed problems name the solvent, "the solution", "the compound" or "a serving" as things of their own; the laws
know them as roles of the solute or of the part. What no rule here is about is left to `problemgen.load.roles`.
"""

from __future__ import annotations

import re

from problemgen.load.problem_documents import EntryDocument, ProblemDocument
from problemgen.load.rows import Entry, Row
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.contents import SAMPLE

__all__ = ["DEFAULT_SOLVENT", "content_placed", "solvent_of", "traced"]

DEFAULT_SOLVENT = "H2O"
"""A solution whose solvent is not told is one in water: common practice, no source."""

_BY_AMOUNT = ("mole_fraction", "molality")
_CONTENTS = (*_BY_AMOUNT, "mass_fraction", "trace_fraction", "volume_fraction", "mass_volume_percent", "concentration")
_BY_VOLUME = ("volume_fraction", "trace_fraction", "mass_volume_percent")
_MEASURED = ("mass", "amount", "volume")
_SPELLINGS = {"mass_per_volume_percent": "mass_volume_percent", "percent_mass_volume": "mass_volume_percent"}
_PER_SERVING = re.compile(r"(mass|amount|volume)_per_(?:serving|portion|tablet|capsule|dose|cup|can|bottle)")
_SERVINGS = ("servings", "portions", "tablets", "capsules", "doses", "cups", "cans", "bottles")


def traced(document: ProblemDocument) -> ProblemDocument:
    """The problem with its parts per million as traces, where water is told by volume: a litre counts as a kilogram."""
    lines = (*document.given, *document.asked)
    kinds = {entry.quantity for entry in lines}
    if not kinds & {"volume", "concentration", "mass_concentration"} or "density" in kinds:
        return document

    def renamed(entry: EntryDocument) -> EntryDocument:
        is_trace = entry.quantity == "mass_fraction" and entry.unit in ("ppm", "ppb")
        return entry.model_copy(update={"quantity": "trace_fraction"}) if is_trace else entry

    sides = {"given": tuple(map(renamed, document.given)), "asked": tuple(map(renamed, document.asked))}
    return document.model_copy(update=sides)


def solvent_of(row: Row) -> str:
    """The solvent of a problem on mole fractions or molality; "" for other problems, and for mixtures without one."""
    kinds = {entry.quantity for entry in row.entries}
    if not kinds & set(_BY_AMOUNT) or kinds & {"pressure", "temperature"}:
        return ""
    for entry in row.entries:
        if entry.has_formula and (entry.role is Role.SOLVENT or entry.quantity == "solvent_formula"):
            return entry.of
    others = [name for name in _formulas(row) if name != _solute(row, "")]
    measured = [name for name in _formulas(row) if any(row.given(name, kind) for kind in _MEASURED)]
    if len(measured) > 1:
        return others[0] if "molality" in kinds else ""
    return others[0] if len(others) == 1 else DEFAULT_SOLVENT


def _formulas(row: Row) -> list[str]:
    return list(dict.fromkeys(entry.of for entry in row.entries if entry.has_formula))


def _solute(row: Row, solvent: str) -> str:
    """The substance that a problem on contents is about."""
    named = [entry for entry in row.entries if entry.has_formula and entry.of != solvent]
    told = sorted(named, key=lambda entry: entry.asked)  # what is given of a substance tells it from the solvent
    return next((e.of for e in told if e.quantity in _CONTENTS), next((e.of for e in told), ""))


def content_placed(entry: Entry, row: Row, solvent: str) -> Quantity | None:
    """The quantity that a line means; None where no rule on contents is about it."""
    name = _SPELLINGS.get(entry.quantity, entry.quantity)
    if name != entry.quantity:
        return Quantity(name, entry.of)
    return _of_serving(entry, row) or _of_solvent(entry, row, solvent) or _of_liquid(entry, row) or _sample(entry, row)


def _of_serving(entry: Entry, row: Row) -> Quantity | None:
    per = _PER_SERVING.fullmatch(entry.quantity)
    if per is not None:
        return Quantity(per[1], entry.of, Role.SERVING)
    if entry.quantity in _SERVINGS:
        named = (e.of for e in row.entries if _PER_SERVING.fullmatch(e.quantity))
        return Quantity("portions", next(named, entry.of))
    return None


def _of_solvent(entry: Entry, row: Row, solvent: str) -> Quantity | None:
    """A line about the solvent, or about the solution as a whole."""
    if not solvent:
        return None
    solute = _solute(row, solvent)
    if entry.role is Role.SOLVENT or entry.of == solvent:
        if entry.quantity in _MEASURED:
            return Quantity(entry.quantity, solute, Role.SOLVENT)
        return Quantity(entry.quantity, solvent) if entry.quantity in ("density", "mole_fraction") else None
    whole = entry.role is Role.SOLUTION or not entry.has_formula
    if entry.quantity in (*_MEASURED, "density") and whole:
        return Quantity(entry.quantity, solute, Role.SOLUTION)
    is_own = entry.quantity == "density" and not row.has(solute, "volume")
    return Quantity("density", solute, Role.SOLUTION) if is_own else None


def _of_liquid(entry: Entry, row: Row) -> Quantity | None:
    """A line about a substance that is told by volume of its solution, or about that solution."""
    told = [e for e in row.entries if _SPELLINGS.get(e.quantity, e.quantity) in _BY_VOLUME and e.has_formula]
    if not told or entry.quantity not in ("volume", "density", "mass") or row.has(told[0].of, "pressure"):
        return None
    of, is_liquid = told[0].of, told[0].quantity == "volume_fraction"
    if entry.role is Role.SOLUTION or not entry.has_formula:
        return Quantity(entry.quantity, of, Role.SOLUTION)
    if entry.quantity == "volume" and not is_liquid:
        return Quantity("volume", of, Role.SOLUTION)
    return Quantity(entry.quantity, of) if entry.of == of and not entry.role else None


def _sample(entry: Entry, row: Row) -> Quantity | None:
    """The mass of what several parts are in, or of what one part is in that was weighed too."""
    parts = {e.of for e in row.entries if e.quantity == "mass_fraction" and e.has_formula}
    told = entry.quantity == "mass" and entry.role in (Role.PLAIN, Role.SAMPLE) and not row.staged
    if not told or not parts or entry.of in parts:
        return None
    if not entry.has_formula:
        if len(parts) > 1:
            return SAMPLE
        is_liquid = any(e.quantity in ("density", "volume") for e in row.entries)
        return None if entry.role or is_liquid else Quantity("mass", next(iter(parts)), Role.IMPURE)
    weighed = all(row.given(part, "mass") for part in parts)
    return SAMPLE if weighed and not row.species[entry.of].coefficient and not entry.asked else None
