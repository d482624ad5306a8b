"""Reading what answers.json says of a template's scene, of its given values' words, and of its prompts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from problemgen.chemistry.formula import read_formula
from problemgen.model.answers import SpeciesKey
from problemgen.model.blocks import Chemical, Inline, Line, Prose, Strong
from problemgen.model.problem import FurtherEquation, Scene, Species
from problemgen.model.quantity import Quantity, read_quantity
from problemgen.model.told import COLUMNS, Told

__all__ = ["read_line", "read_scene", "read_told"]

_PIECES: Mapping[str, Callable[[str], Inline]] = {"prose": Prose, "strong": Strong, "chemical": Chemical}


def read_scene(data: Mapping[str, Any], species: Mapping[str, SpeciesKey], given: Iterable[Quantity]) -> Scene:
    """The scene of a template: `species` has the names and formulas, `given` what the plan starts from.

    It has no atomic weights: those that the problem uses are constants of the plan.

    Raises:
        KeyError, TypeError, ValueError, FormulaError: for data of another shape.
    """
    return Scene(
        species={name: _species(species[name], one) for name, one in data["species"].items()},
        given=frozenset(given),
        weights={},
        product=data["product"],
        in_excess=frozenset(data["in_excess"]),
        unknown=tuple(data["unknown"]),
        unknown_rest=data["unknown_rest"],
        solvent=data["solvent"],
        further=tuple(_further(one) for one in data["further"]),
        driven_off=frozenset(data["driven_off"]),
    )


def _species(key: SpeciesKey, data: Mapping[str, Any]) -> Species:
    formula = read_formula(key.formula) if key.formula else None
    return Species(key.id, key.names[0], formula, int(data["coefficient"]), data["stands_for"])


def _further(data: Mapping[str, Any]) -> FurtherEquation:
    coefficients = {name: int(nu) for name, nu in data["coefficients"].items()}
    return FurtherEquation(data["id"], coefficients, data["product"], bool(data["beside"]))


def read_told(data: Iterable[Mapping[str, Any]]) -> tuple[Told, ...]:
    """How the given values are told. Raises ValueError for a column that no sheet has."""
    return tuple(_told(one) for one in data)


def _told(data: Mapping[str, Any]) -> Told:
    if data["column"] not in COLUMNS:
        raise ValueError(f"the column {data['column']!r} is not one of {', '.join(COLUMNS)}")
    return Told(read_quantity(*data["quantity"]), data["column"], data["before"], data["behind"], int(data["session"]))


def read_line(data: Iterable[Sequence[str]]) -> Line:
    """A line of words and formulas. Raises KeyError for a piece of another kind."""
    return tuple(_PIECES[kind](text) for kind, text in data)
