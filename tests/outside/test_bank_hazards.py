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
STATEMENTS = {
    entry["code"]: entry["text"]
    for entry in tomllib.loads((BANKS / "hazards.toml").read_text(encoding="utf-8"))["statement"]
}
PICTOGRAM = {  # first digits of the code -> the pictogram it calls for, where nothing silences it
    "GHS02": "H220 H224 H225 H226 H228 H251 H252 H260 H261",
    "GHS03": "H270 H271 H272",
    "GHS04": "H280",
    "GHS05": "H290 H314 H318",
    "GHS06": "H300 H301 H311 H330 H331",
    "GHS08": "H304 H334 H340 H341 H350 H351 H360 H361 H370 H372 H373",
    "GHS09": "H400 H410 H411",
}
ALWAYS_DANGER = (
    "H220 H224 H225 H251 H260 H270 H271 H300 H301 H304 H311 H314 H318 H330 H331 H334 H340 H350 H360 H370 H372"
)
WITHOUT_SIGNAL = frozenset({"H411", "H412"})
# As the regulation's annex III has them; a fire-fighter's or a poison centre's list has the same words.
SUPPLEMENTAL = {
    "EUH014": "Reacts violently with water",
    "EUH019": "May form explosive peroxides",
    "EUH031": "Contact with acids liberates toxic gas",
    "EUH032": "Contact with acids liberates very toxic gas",
    "EUH066": "Repeated exposure may cause skin dryness or cracking",
    "EUH071": "Corrosive to the respiratory tract",
}
# Percent by mass from which a solution burns, and from which it irritates, by its own limits in annex VI or by the
# general ones (5 % and 1 % for what burns, 3 % for serious damage of the eye).
BURNS = {
    "hydrogen-chloride": ("25", "10"),
    "hydrogen-bromide": ("40", "10"),
    "sulfuric-acid": ("15", "5"),
    "nitric-acid": ("5", "1"),
    "phosphoric-acid": ("25", "10"),
    "acetic-acid": ("25", "10"),
    "formic-acid": ("10", "2"),
    "ammonia": ("5", "1"),
    "sodium-hydroxide": ("2", "0.5"),
    "potassium-hydroxide": ("2", "0.5"),
    "hydrogen-peroxide": ("50", "5"),
    "sodium-hypochlorite": ("5", "1"),
}
FORMS_PEROXIDES = {"diethyl-ether", "tetrahydrofuran"}
VIOLENT_WITH_WATER = {"acetyl-chloride", "aluminium-chloride", "chlorosulfonic-acid", "sodium-ethoxide"}
TOXIC_GAS_WITH_ACID = {"iron-ii-sulfide", "sodium-dithionite", "sodium-hypochlorite", "sodium-sulfite"}
VERY_TOXIC_GAS_WITH_ACID = {"potassium-thiocyanate", "silver-thiocyanate"}


def codes(entry: dict[str, Any]) -> set[str]:
    """The H codes of an entry, without the letters behind them."""
    return {code[:4] for code in entry["codes"] if code.startswith("H")}


def with_code(code: str) -> set[str]:
    """The substances that have a code."""
    return {name for name, entry in HAZARDS.items() if code in entry["codes"]}


def test_every_substance_has_one_entry() -> None:
    assert [entry["of"] for entry in bank("hazard")] == [entry["id"] for entry in bank("substance")]


@pytest.mark.source("un-ghs annex 3: codes of hazard statements; clp-2008 annex III: those that begin with EUH")
@for_every(STATEMENTS.items())
def test_statement_is_a_code_and_a_sentence(one: tuple[str, str]) -> None:
    code, sentence = one
    assert re.fullmatch(r"H[234][0-9]{2}(?:[dfi]|FD?|D)?|EUH0[0-9]{2}", code)
    assert re.fullmatch(r"[A-Z].+[^.]", sentence)


@pytest.mark.source("clp-2008 annex III: supplemental hazard statements")
def test_supplemental_statements() -> None:
    assert {code: text for code, text in STATEMENTS.items() if code.startswith("EUH")} == SUPPLEMENTAL


@pytest.mark.source("clp-2008 annex VI: EUH014, EUH019, EUH031, EUH032; from-memory: makers' labels")
def test_what_forms_peroxides_or_gas_is_told() -> None:
    assert with_code("EUH019") == FORMS_PEROXIDES
    assert with_code("EUH014") == VIOLENT_WITH_WATER
    assert with_code("EUH031") == TOXIC_GAS_WITH_ACID
    assert with_code("EUH032") == VERY_TOXIC_GAS_WITH_ACID


@pytest.mark.source("clp-2008 annex VI: specific concentration limits; clp-2008 annex I: general ones")
@for_every(BURNS)
def test_from_which_strength_a_solution_burns_or_irritates(identifier: str) -> None:
    rows = {str(row["from"]): set(row["codes"]) for row in HAZARDS[identifier]["in_water"]}
    burning = [least for least, told in rows.items() if "H314" in told]
    assert (burning[-1], list(rows)[-1]) == BURNS[identifier]
    for least, told in rows.items():
        assert ("H314" in told) == (float(least) >= float(BURNS[identifier][0]))
        assert told & {"H314", "H318", "H319"}
        assert not ("H314" in told and told & {"H315", "H318", "H319"})


def test_every_statement_is_used() -> None:
    rows = [row for entry in HAZARDS.values() for row in (entry, *entry.get("in_water", []))]
    assert {code for row in rows for code in row["codes"]} == set(STATEMENTS)


def test_every_source_sends_to_the_safety_data_sheet() -> None:
    about = tomllib.loads((BANKS / "hazards.toml").read_text(encoding="utf-8"))["about"]["source"]
    own = [entry["source"] for entry in HAZARDS.values() if "source" in entry]
    assert all(source.endswith("Check the current safety data sheet") for source in (about, *own))


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
