"""The scene of a template as answers.json carries it, so that a worked solution needs no template.

What stands elsewhere in the file is not said twice: names and formulas of the species, what is given and asked. Atomic
weights are left out: those that a problem uses are constants of its plan.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from problemgen.model.blocks import Chemical, Line, Prose, Strong
from problemgen.model.problem import FurtherEquation, Scene
from problemgen.model.told import Told

__all__ = ["line_data", "scene_data", "told_data"]


def scene_data(scene: Scene) -> dict[str, Any]:
    """A scene, ready for JSON; sets are sorted, so that the same scene gives the same bytes."""
    return {
        "species": {s.id: {"coefficient": s.coefficient, "stands_for": s.stands_for} for s in scene.species.values()},
        "product": scene.product,
        "in_excess": sorted(scene.in_excess),
        "unknown": scene.unknown,
        "unknown_rest": scene.unknown_rest,
        "solvent": scene.solvent,
        "further": [_further(equation) for equation in scene.further],
        "driven_off": sorted(scene.driven_off),
    }


def _further(equation: FurtherEquation) -> dict[str, Any]:
    return {
        "id": equation.id,
        "coefficients": dict(equation.coefficients),
        "product": equation.product,
        "beside": equation.beside,
    }


def told_data(told: Iterable[Told]) -> list[dict[str, Any]]:
    """How the given values are told, in the order of the sheet, ready for JSON."""
    return [
        {
            "quantity": [one.quantity.kind, one.quantity.of, one.quantity.written_role],
            "column": one.column,
            "before": one.before,
            "behind": one.behind,
            "session": one.session,
        }
        for one in told
    ]


def line_data(line: Line) -> list[list[str]]:
    """A line of words and formulas, ready for JSON: pairs of a kind and its text.

    Raises ValueError for a piece that is neither words nor a formula.
    """
    return [_piece(piece) for piece in line]


def _piece(piece: object) -> list[str]:
    match piece:
        case Prose(text):
            return ["prose", text]
        case Strong(text):
            return ["strong", text]
        case Chemical(formula):
            return ["chemical", formula]
        case _:
            raise ValueError(f"a prompt holds words and formulas, not {type(piece).__name__}")
