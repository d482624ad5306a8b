"""Each module says what it offers, and the names that everything rests on are pinned."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path
from typing import Any

import pytest

import problemgen
from tests.support.every_row import for_every

PACKAGE = Path(__file__).parents[1] / "problemgen"
FILES = sorted(path for path in PACKAGE.rglob("*.py") if path.name not in ("__init__.py", "__main__.py"))

PINNED: dict[str, list[str]] = {
    "errors": [
        "CitationError",
        "DimensionError",
        "EquationError",
        "Fault",
        "FaultsError",
        "FormulaError",
        "ImpossibleError",
        "NoRoomError",
        "NumberError",
        "OutputError",
        "ProblemgenError",
        "UnbalancedError",
        "UnderdeterminedError",
        "UnderivableError",
        "UnitError",
    ],
    "exact.digits": ["RULES", "Written", "number_text", "read_written", "written_steps"],
    "exact.rounding": [
        "POWERS",
        "RULES",
        "exponent",
        "figures_text",
        "half_unit",
        "lowest_exponent",
        "outward_text",
        "plain_text",
        "ratio_exponent",
        "round_to_figures",
        "round_to_place",
        "short",
        "trimmed",
    ],
    "chemistry.elements": ["ELEMENTS"],
    "chemistry.formula": ["RULES", "Formula", "formula_pieces", "read_formula"],
    "chemistry.units": ["RULES", "Dimension", "Unit", "read_unit", "unit_text"],
    "model.expression": [
        "OPERATIONS",
        "Expression",
        "ExpressionArrays",
        "expression_schema",
        "names_in",
        "read_expression",
    ],
    "model.plan": ["Mistake", "Plan", "Rounding", "Route", "Step", "rewrites_of", "stale_steps", "steps_back"],
    "plan.chain": ["chain", "derivable", "describe"],
    "plan.mistakes": ["find_mistakes"],
    "plan.windows": ["RULES", "UNLIMITED_FIGURES", "answer_window", "given_window", "whole_window"],
    "make.admissible": ["Judge", "Judgement", "RULES"],
    "make.draws": [
        *("class_numbers", "draw_numbers", "drawn_for", "fingerprint", "indices", "kept_for_practice", "shares"),
        *("sheet_code", "within"),
    ],
    "make.room": ["has_room", "room_faults", "room_remarks"],
    "make.variants": ["Maker", "variant_from", "variant_of"],
    "pipeline.build": ["BuildReport", "build", "build_set"],
    "pipeline.check": ["CheckReport", "check"],
    "pipeline.mark": ["ClassResults", "MarkingReport", "MarkingRequest", "class_results", "mark", "mark_set"],
    "pipeline.solve": ["SolvedAnswer", "SolvedProblem", "solve", "solve_problems", "solved"],
    "cli": ["main", "program"],
}


def module(path: Path) -> Any:
    return importlib.import_module(".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts))


@for_every(FILES)
def test_every_name_that_a_module_offers_is_there_once(path: Path) -> None:
    offered = module(path).__all__
    assert [name for name in offered if not hasattr(module(path), name)] == []
    assert len(set(offered)) == len(offered)
    assert [name for name in offered if name.startswith("_")] in ([], ["_"])  # the usual name of what says a message


@for_every(FILES)
def test_a_module_offers_no_more_than_fifteen_names_of_its_own(path: Path) -> None:
    """A document's pieces are one vocabulary, and the only list that is longer."""
    most = 30 if path.name == "blocks.py" else 15
    assert len(module(path).__all__) <= most


def taken_by(path: Path) -> list[tuple[str, str, str]]:
    """What a module takes from others of the package: whose, what it is there, and what it is called here."""
    return [
        (node.module, alias.name, alias.asname or alias.name)
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module is not None and node.module.startswith("problemgen.")
        for alias in node.names
    ]


@for_every(FILES)
def test_what_a_module_offers_is_its_own(path: Path) -> None:
    """No module passes on what it took from another."""
    assert {called for _, _, called in taken_by(path)} & set(module(path).__all__) == set()


@for_every(FILES)
def test_what_another_module_takes_is_offered(path: Path) -> None:
    """No module reaches for what another keeps to itself."""
    for source, name, _ in taken_by(path):
        found = importlib.import_module(source)
        is_package = Path(found.__file__ or "").name == "__init__.py"
        assert name in getattr(found, "__all__", ()) or (is_package and hasattr(found, name)), f"{source}.{name}"


@for_every(PINNED)
def test_the_names_that_everything_rests_on(name: str) -> None:
    assert sorted(importlib.import_module(f"problemgen.{name}").__all__) == sorted(PINNED[name])


def test_the_front_door() -> None:
    functions = ["build", "collect", "mark", "open_answers", "read_answer", "sample", "solve"]
    errors = ["Fault", "FaultsError", "NoRoomError", "OutputError", "ProblemgenError", "UnitError"]
    assert problemgen.__all__ == [*errors, *functions]
    for name in problemgen.__all__:
        assert name in dir(problemgen)
        assert getattr(problemgen, name).__name__ == name


def test_no_other_name_is_handed_on() -> None:
    with pytest.raises(AttributeError, match="module 'problemgen' has no attribute 'grade_all'"):
        problemgen.grade_all  # noqa: B018 - asking for it is the test


def test_the_laws_are_offered_together() -> None:
    laws = importlib.import_module("problemgen.plan.laws")
    assert {"LAWS", "LAWS_BY_ID"} <= set(laws.__all__)
