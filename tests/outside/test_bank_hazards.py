"""The bank's hazards: codes, pictograms and signal words go together as the UN GHS has them."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"


def bank(name: str) -> list[dict[str, Any]]:
    """The entries of one bank file."""
    entries: list[dict[str, Any]] = tomllib.loads((BANKS / f"{name}s.toml").read_text(encoding="utf-8"))[name]
    return entries


HAZARDS = {entry["of"]: entry for entry in bank("hazard")}
PICTOGRAM = {  # first digits of the code -> the pictogram it calls for, where nothing silences it
    "GHS02": "H220 H224 H225 H226 H228 H250 H251 H252 H260 H261",
    "GHS03": "H270 H271 H272",
    "GHS04": "H280",
    "GHS05": "H290 H314 H318",
    "GHS06": "H300 H301 H311 H330 H331",
    "GHS08": "H304 H334 H340 H341 H350 H351 H360 H361 H370 H372 H373",
    "GHS09": "H400 H410 H411",
}
ALWAYS_DANGER = (
    "H220 H224 H225 H250 H251 H260 H270 H271 H300 H301 H304 H311 H314 H318 H330 H331 H334 H340 H350 H360 H370 H372"
)
WITHOUT_SIGNAL = frozenset({"H411", "H412"})


def codes(entry: dict[str, Any]) -> set[str]:
    """The H codes of an entry, without the letters behind them."""
    return {statement[:4] for statement in entry["statements"]}


def test_every_substance_has_one_entry() -> None:
    assert [entry["of"] for entry in bank("hazard")] == [entry["id"] for entry in bank("substance")]


@pytest.mark.source("un-ghs annex 3: codes of hazard statements")
@for_every(HAZARDS)
def test_statement_is_a_code_and_a_sentence(identifier: str) -> None:
    entry = HAZARDS[identifier]
    assert [s for s in entry["statements"] if not re.fullmatch(r"H[234][0-9]{2}(?:[dfi]|FD?|D)? [A-Z].+", s)] == []


def test_every_source_sends_to_the_safety_data_sheet() -> None:
    text = (BANKS / "hazards.toml").read_text(encoding="utf-8")
    sources = [line for line in text.splitlines() if line.startswith("source = ")]
    assert len(sources) == 1 + len({key for key, entry in HAZARDS.items() if "source" in entry})
    assert all(line.endswith('Check the current safety data sheet"') for line in sources)


@pytest.mark.source("un-ghs annex 3: one sentence for a code")
def test_one_sentence_for_each_code() -> None:
    sentences: dict[str, set[str]] = {}
    for entry in HAZARDS.values():
        for statement in entry["statements"]:
            code, sentence = statement.split(" ", 1)
            sentences.setdefault(code, set()).add(sentence)
    assert {code: texts for code, texts in sentences.items() if len(texts) > 1} == {}


@pytest.mark.source(
    "un-ghs annex 1: pictograms by hazard class and category; clp-2008 26: which pictogram silences which"
)
@for_every(HAZARDS)
def test_pictograms_follow_from_the_codes(identifier: str) -> None:
    entry = HAZARDS[identifier]
    expected = {sign for sign, listed in PICTOGRAM.items() if codes(entry) & set(listed.split())}
    assert set(entry["pictograms"]) - {"GHS07"} == expected
    assert not {"GHS06", "GHS07"} <= set(entry["pictograms"])


@pytest.mark.source("un-ghs annex 1: signal words by hazard class and category")
@for_every(HAZARDS)
def test_signal_word_follows_from_the_codes(identifier: str) -> None:
    entry = HAZARDS[identifier]
    if codes(entry) & set(ALWAYS_DANGER.split()):
        assert entry["signal"] == "Danger"
    assert (entry["signal"] == "") == (codes(entry) <= WITHOUT_SIGNAL)
