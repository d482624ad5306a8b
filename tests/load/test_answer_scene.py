"""The scene, the sheet's words and the prompts come back as they were written, for every shipped template."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from problemgen.errors import FormulaError
from problemgen.load.answer_scene import read_line, read_scene, read_told
from problemgen.model.answers import SpeciesKey
from problemgen.model.blocks import Chemical, Prose, Strong
from problemgen.render.answer_scene import line_data, scene_data, told_data
from problemgen.render.given_words import told_values
from problemgen.render.prompts import prompt_of
from tests.support.shipped import NAMES, shipped

SPECIES = {"salt": SpeciesKey("salt", ("table salt", "salt"), "NaCl"), "glue": SpeciesKey("glue", ("glue",), "")}
SCENE: dict[str, Any] = {
    "species": {"salt": {"coefficient": -2, "stands_for": "glue"}, "glue": {"coefficient": 0, "stands_for": ""}},
    "product": "",
    "in_excess": ["salt"],
    "unknown": ["C", "H"],
    "unknown_rest": "H",
    "solvent": "glue",
    "further": [{"id": "r", "coefficients": {"salt": -1}, "product": "glue", "beside": True}],
    "driven_off": [],
}


def by_way_of_json(data: Any) -> Any:
    return json.loads(json.dumps(data))


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_scene_comes_back(name: str) -> None:
    template = shipped(name)
    species = {
        one.id: SpeciesKey(one.id, (one.name,), one.formula.text if one.formula else "")
        for one in template.scene.species.values()
    }
    found = read_scene(by_way_of_json(scene_data(template.scene)), species, template.plan.given)
    assert found == replace(template.scene, weights={})
    assert list(found.species) == list(template.scene.species)


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_sheet_s_words_come_back(name: str) -> None:
    told = told_values(shipped(name))
    assert read_told(by_way_of_json(told_data(told))) == told
    assert {one.quantity for one in told} == shipped(name).scene.given
    for part in shipped(name).parts:
        prompt = prompt_of(shipped(name), part)
        assert read_line(by_way_of_json(line_data(prompt))) == prompt


def test_names_and_formulas_are_those_of_the_species() -> None:
    scene = read_scene(SCENE, SPECIES, ())
    salt, glue = scene.species.values()
    assert (salt.name, salt.nu, salt.stands_for) == ("table salt", 2, "glue")
    assert salt.formula is not None
    assert salt.formula.text == "NaCl"
    assert glue.formula is None
    assert scene.further[0].beside
    assert (scene.solvent, scene.unknown, scene.in_excess) == ("glue", ("C", "H"), frozenset({"salt"}))


@pytest.mark.parametrize("key", SCENE)
def test_a_scene_that_lacks_anything_is_refused(key: str) -> None:
    with pytest.raises(KeyError, match=key):
        read_scene({name: value for name, value in SCENE.items() if name != key}, SPECIES, ())


def test_a_formula_that_is_none_is_refused() -> None:
    wrong = {**SPECIES, "salt": SpeciesKey("salt", ("salt",), "NaXx")}
    with pytest.raises(FormulaError):
        read_scene(SCENE, wrong, ())


def test_a_column_that_no_sheet_has_is_refused() -> None:
    told = {"quantity": ["mass", "salt", ""], "column": "margin", "before": "", "behind": "", "session": 1}
    with pytest.raises(ValueError, match=r"^the column 'margin' is not one of taken, data, obtained$"):
        read_told([told])


def test_a_line_of_every_kind_of_piece() -> None:
    line = (Prose("a"), Strong("b"), Chemical("H2O"))
    assert read_line([["prose", "a"], ["strong", "b"], ["chemical", "H2O"]]) == line
    with pytest.raises(KeyError, match="script"):
        read_line([["script", "x"]])
