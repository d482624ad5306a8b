"""The laws as a whole: their names, their words, their errors."""

from __future__ import annotations

import ast
import importlib
import inspect
import pkgutil
from collections import Counter
from dataclasses import replace
from types import ModuleType

import pytest

from problemgen.model.citation import read_citations
from problemgen.model.expression import names_in
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene
from problemgen.plan import laws
from problemgen.plan.law import CommonError, Law
from problemgen.plan.laws import AMONG_REAGENTS, LAWS, LAWS_BY_ID
from problemgen.plan.notation import are_formulas, formulas_of, letters_of
from tests.support.law_cases import CASES
from tests.support.law_scenes import Case, planned
from tests.support.shipped import NAMES, shipped
from tests.support.small_set import banks

MISUSES = [(law, error) for law in LAWS for error in law.errors]


def test_every_topic_gives_its_laws_to_the_chain() -> None:
    names = [found.name for found in pkgutil.iter_modules(laws.__path__)]
    told = [law.id for name in names for law in importlib.import_module(f"{laws.__name__}.{name}").LAWS]
    assert sorted(told) == sorted(law.id for law in LAWS)


def test_only_laws_among_reagents_look_at_who_competes() -> None:
    """The chain binds all others once, before it knows."""
    names = [f"{laws.__name__}.{found.name}" for found in pkgutil.iter_modules(laws.__path__)]
    looking = [name for name in names if _looks_at_who_competes(importlib.import_module(name))]
    told = {law.id for name in looking for law in importlib.import_module(name).LAWS}
    assert told <= {law.id for law in AMONG_REAGENTS}


def _looks_at_who_competes(module: ModuleType) -> bool:
    nodes = ast.walk(ast.parse(inspect.getsource(module)))
    return any(isinstance(node, ast.Attribute) and node.attr in {"sources", "competing"} for node in nodes)


def test_each_law_has_its_own_id() -> None:
    assert [law for law, times in Counter(law.id for law in LAWS).items() if times > 1] == []
    assert {name: law.id for name, law in LAWS_BY_ID.items()} == {law.id: law.id for law in LAWS}


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.id)
def test_a_law_says_what_it_is_and_where_it_is_from(law: Law) -> None:
    assert law.title[0].isupper()
    assert read_citations(law.source)
    assert law.words
    assert all(sentence.endswith(".") and sentence[0].isupper() for sentence in law.words.values())
    assert law.rounding in {"figures", "molar mass", "none", "whole"}


def test_the_usual_mistakes_of_the_teaching_laboratory_are_known() -> None:
    assert {error.id for _, error in MISUSES} >= {
        "avogadro-inverted",
        "celsius-for-kelvin",
        "coefficient-in-amount",
        "coefficient-in-concentration",
        "concentration-divided",
        "consumed-for-left",
        "density-divided",
        "density-forgotten",
        "dilution-inverted",
        "excess-taken",
        "final-for-added",
        "least-amount-taken",
        "least-mass-taken",
        "millilitres-as-litres",
        "molar-mass-inverted",
        "other-molar-mass",
        "percent-divided",
        "percent-left-out",
        "product-ratio-left-out",
        "purity-divided",
        "purity-left-out",
        "ratio-inverted",
        "ratio-left-out",
        "reagent-ratio-left-out",
        "solvent-for-solution",
        "subscript-left-out",
        "water-left-out",
        "yield-against-reagent",
        "yield-inverted",
    }


def test_a_mistake_is_called_the_same_wherever_it_is_made() -> None:
    called: dict[str, set[tuple[str, str, bool]]] = {}
    for _, error in MISUSES:
        called.setdefault(error.id, set()).add((error.title, error.hint, error.everywhere))
    assert {name: ones for name, ones in called.items() if len(ones) > 1} == {}


@pytest.mark.parametrize(("law", "error"), MISUSES, ids=lambda one: one.id)
def test_a_hint_tells_what_to_look_at_and_no_number(law: Law, error: CommonError) -> None:
    assert error.hint[-1] in ".?"
    assert not any(character.isdigit() for character in error.hint)
    assert error.only_for <= set(law.words)


def test_every_letter_of_an_error_stands_for_something_in_some_problem() -> None:
    """A misspelt letter would make an error that no student is ever told of."""
    scenes = [_scene(case) for case in CASES.values()]
    templates = (shipped(name) for name in NAMES)
    scenes += [_as_chained(template.scene, template.plan) for template in templates]
    for law in LAWS:
        bound = (instance for scene in scenes for instance in law.instances(law, scene))
        known = {"nu"}.union(*({*instance.binding, *instance.extra} for instance in bound))
        assert {m.id: _letters(m) - known for m in law.errors if not _letters(m) <= known} == {}, law.id


def _scene(case: Case) -> Scene:
    scene, plan, _ = planned(case, banks())
    return _as_chained(scene, plan)


def _as_chained(scene: Scene, plan: Plan) -> Scene:
    """A scene with what the chain adds to it."""
    return replace(scene, wanted=scene.wanted | {asked.quantity for asked in plan.asked}, sources=plan.sources)


def _letters(error: CommonError) -> set[str]:
    if error.relation is None:
        return set()
    if not are_formulas(error.relation):
        return set(letters_of(error.relation))
    formulas = formulas_of(error.relation)
    return {*formulas, *(name for formula in formulas.values() for name in names_in(formula))}
