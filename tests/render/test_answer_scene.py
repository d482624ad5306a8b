"""The scene of a template as it is written: what the worked solution needs, nothing twice."""

from __future__ import annotations

import json

import pytest

from problemgen.model.blocks import Chemical, Prose, Strong, Symbol
from problemgen.model.quantity import Quantity
from problemgen.model.told import Told
from problemgen.render.answer_scene import line_data, scene_data, told_data
from tests.support.shipped import NAMES, shipped


def test_a_scene_in_full() -> None:
    assert scene_data(shipped("limiting-reagent/silver-chromate").scene) == {
        "species": {
            "silver-nitrate": {"coefficient": -2, "stands_for": ""},
            "potassium-chromate": {"coefficient": -1, "stands_for": ""},
            "silver-chromate": {"coefficient": 1, "stands_for": ""},
            "potassium-nitrate": {"coefficient": 2, "stands_for": ""},
        },
        "product": "silver-chromate",
        "in_excess": [],
        "unknown": (),
        "unknown_rest": "",
        "solvent": "",
        "further": [],
        "driven_off": [],
    }


@pytest.mark.parametrize("name", NAMES)
def test_sets_are_sorted_so_that_the_bytes_are_the_same(name: str) -> None:
    data = scene_data(shipped(name).scene)
    assert data["in_excess"] == sorted(data["in_excess"])
    assert data["driven_off"] == sorted(data["driven_off"])
    assert json.loads(json.dumps(data)).keys() == data.keys()


def test_given_values_in_the_words_of_the_sheet() -> None:
    told = Told(Quantity("density", "ethanol"), "data", "density ", " (20 °C)", 2)
    assert told_data([told]) == [
        {
            "quantity": ["density", "ethanol", ""],
            "column": "data",
            "before": "density ",
            "behind": " (20 °C)",
            "session": 2,
        }
    ]


def test_a_line_is_pairs_of_a_kind_and_its_text() -> None:
    line = (Prose("The mass of "), Strong("salt"), Chemical("NaCl"))
    assert line_data(line) == [["prose", "The mass of "], ["strong", "salt"], ["chemical", "NaCl"]]


def test_a_symbol_has_no_place_in_a_prompt() -> None:
    with pytest.raises(ValueError, match=r"^a prompt holds words and formulas, not Symbol$"):
        line_data((Symbol("m", "NaCl"),))
