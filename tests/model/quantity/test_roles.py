"""Every role brings its words and counts its stages."""

from __future__ import annotations

import ast
from pathlib import Path
from string import Formatter

import pytest

from problemgen.model.quantity import SOLUTION_AT, TEMPLATE_ROLES, Role

PACKAGE = Path(__file__).parents[3] / "problemgen"
PLACES = {
    "phrase": {"n", "s", "portions", "dilutions"},
    "aloud": {"kind", "name", "phrase", "source", "n"},
    "alone": {"kind"},
    "prompt": {"kind", "name", "phrase", "source", "nth"},
    "before": {"phrase"},
    "index": {"number"},
    "head": {"number"},
}


def places(pattern: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(pattern) if name is not None}


def test_roles_of_the_engine_are_not_for_templates() -> None:
    engines = set(Role) - set(TEMPLATE_ROLES.values())
    assert {Role.PLAIN, Role.FROM, Role.INITIAL_SOLUTION, Role.EMPIRICAL, Role.EQUAL_PORTION} <= engines


def test_no_role_is_compared_with_a_word() -> None:
    """A role is told by its name in the list: a misspelt word would only never be equal."""
    found = [
        f"{path.relative_to(PACKAGE)}:{node.lineno}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Compare) and isinstance(node.left, ast.Attribute) and node.left.attr == "role"
        if any(
            isinstance(part, ast.Constant) and isinstance(part.value, str)
            for one in node.comparators
            for part in ast.walk(one)
        )
    ]
    assert found == []


@pytest.mark.parametrize(("text", "expected"), PLACES.items())
def test_words_name_no_other_places(text: str, expected: set[str]) -> None:
    found = {role.name: places(getattr(role.words, text)) - expected for role in Role}
    assert {name: names for name, names in found.items() if names} == {}


def test_every_role_of_templates_is_told_in_its_prompt() -> None:
    plain = Role.PLAIN.words.prompt
    assert [role.name for role in TEMPLATE_ROLES.values() if role.words.prompt == plain] == []


@pytest.mark.parametrize(
    ("role", "stage", "expected"),
    [(Role.DILUTED, 6, True), (Role.DILUTED, 7, False), (Role.DILUTED, 0, False), (Role.EQUAL_PORTION, 1, False),
     (Role.LEFT, 0, True), (Role.LEFT, 1, False)],
)  # fmt: skip
def test_a_role_counts_its_stages(role: Role, stage: int, expected: bool) -> None:
    assert role.has_stage(stage) is expected


def test_the_solution_of_a_stage_has_a_role_of_its_own() -> None:
    assert len(set(SOLUTION_AT.values())) == len(SOLUTION_AT)
