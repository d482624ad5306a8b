"""Every kind of quantity brings its words: none can be registered without."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.errors import UnitError
from problemgen.model.quantity import KINDS, Kind, Role

VISCOSITY: Mapping[str, Any] = {"name": "viscosity", "symbol": "η", "unit": "1", "words": "viscosity"}


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: kind.name)
def test_a_kind_has_a_symbol_words_and_a_unit_of_the_list(kind: Kind) -> None:
    assert kind.symbol
    assert kind.words
    assert kind.dimension == read_unit(kind.unit).dimension


def test_kinds_stand_under_their_own_names() -> None:
    assert {name: kind.name for name, kind in KINDS.items()} == {name: name for name in KINDS}


@pytest.mark.source("green-book-2007 2.2, 2.10, 2.11: recommended symbols")
@pytest.mark.parametrize(
    ("name", "symbol"),
    [
        ("mass", "m"),
        ("volume", "V"),
        ("amount", "n"),
        ("molar_mass", "M"),
        ("density", "ρ"),
        ("concentration", "c"),
        ("mass_concentration", "γ"),
        ("mass_fraction", "w"),
        ("extent", "ξ"),
        ("pressure", "p"),
        ("temperature", "T"),
        ("gas_constant", "R"),
    ],
)
def test_symbols_are_those_of_the_green_book(name: str, symbol: str) -> None:
    assert KINDS[name].symbol == symbol


ONE_QUANTITY = ({"mass_concentration", "mass_volume_percent"}, {"mass_fraction", "trace_fraction"})
MOLAR = {"molar_mass", "atomic_weight"}
APART = (
    {"absorbance", "peak_area"},  # the letters of the trade; a photometer and a chromatograph measure different things
    {"multiple", "slope"},
    {"scale_factor", "share", "response_factor"},
    {"solubility", "selectivity"},
    {"water_equivalent", "temperature"},
    {"count", "protons"},
)
"""Kinds that no one problem brings together."""


def test_a_letter_has_one_meaning() -> None:
    """A page may bring any two kinds together; two units of one quantity, and two masses of a mole, share a letter."""
    owners: dict[str, set[str]] = {}
    for kind in KINDS.values():
        owners.setdefault(f"{kind.symbol}_{kind.sub}", set()).add(kind.name)
    shared = [names for names in owners.values() if len(names) > 1]
    assert sorted(map(sorted, shared)) == sorted(map(sorted, (*ONE_QUANTITY, MOLAR, *APART)))


@pytest.mark.parametrize(
    ("told", "found"),
    [
        ({"words": ""}, "the kind of quantity 'viscosity' has no words"),
        ({"words": " "}, "the kind of quantity 'viscosity' has no words"),
        ({"symbol": ""}, "the kind of quantity 'viscosity' has no symbol"),
        ({"name": ""}, "the kind of quantity '' has no name"),
        ({"label": ""}, "the kind of quantity 'viscosity' has no label: a given value would stand without words"),
    ],
)
def test_a_kind_without_words_is_refused(told: Mapping[str, Any], found: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(found)}$"):
        Kind(**{**VISCOSITY, **told})


def test_a_kind_with_a_unit_of_no_list_is_refused() -> None:
    with pytest.raises(UnitError):
        Kind(**{**VISCOSITY, "unit": "poise"})


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({}, "viscosity"),
        ({"label": "flow"}, "flow"),
        ({"label": "", "behind": " by flow"}, ""),
        ({"label": "", "unit": "mol/L"}, ""),
        ({"label": "", "extensive": True}, ""),
    ],
)
def test_a_given_value_is_told_by_its_label_unless_something_else_tells_it(told: Mapping[str, Any], words: str) -> None:
    assert Kind(**{**VISCOSITY, **told}).told == words


def test_a_kinds_own_words_for_a_role_come_before_the_roles() -> None:
    own = Kind(**VISCOSITY, prompts={Role.PURE: "How thick is {name}?"}, before={Role.PURE: "neat"})
    assert own.asked_in(Role.PURE) == "How thick is {name}?"
    assert own.asked_in(Role.CRUDE) == Role.CRUDE.words.prompt
    assert own.asked_in(Role.PLAIN) == own.prompt
    assert (own.told_in(Role.PURE), own.told_in(Role.CRUDE)) == ("neat", "{phrase}")


def test_a_gas_is_not_diluted() -> None:
    told = [KINDS["volume"].told_in(Role.FINAL, of_gas=of_gas) for of_gas in (False, True)]
    assert told == ["after diluting", "afterwards"]
