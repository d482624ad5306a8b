"""Own values go through answers.json unchanged."""

from __future__ import annotations

import json

import pytest

from problemgen.load.answer_own import read_own_keys
from problemgen.render.own_values import own_data, own_keys
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set


def test_there_and_back() -> None:
    keys = own_keys(own_set(ALCOHOL, ALCOHOL_OWN).problems[0])
    assert len(keys) == len(ALCOHOL_OWN)
    assert read_own_keys(json.loads(json.dumps(own_data(keys)))) == keys


def test_columns_and_words() -> None:
    first, *_, last = own_keys(own_set(ALCOHOL, ALCOHOL_OWN).problems[0])
    assert (first.column, first.words, first.share_words) == ("1.magnesium.mass", "mass of magnesium", "")
    assert last.words == "mass of triphenylmethanol obtained"
    assert last.share_words == "theoretical mass of triphenylmethanol"


@pytest.mark.parametrize("key", ["column", "quantity", "low", "step", "capacity"])
def test_another_shape_is_refused(key: str) -> None:
    (data, *_) = own_data(own_keys(own_set(ALCOHOL, ALCOHOL_OWN).problems[0]))
    with pytest.raises(KeyError):
        read_own_keys([{name: value for name, value in data.items() if name != key}])
