"""Typing slips, and what is another substance."""

from __future__ import annotations

import pytest
from hypothesis import strategies as st

from problemgen.grade.reading.slips import confusable, name_slips

WORDS = st.text(alphabet="abcd", max_size=8)


@pytest.mark.parametrize(
    ("written", "name", "count"),
    [
        ("sodium chloride", "sodium chloride", 0),
        ("sodum chlorde", "sodium chloride", 2),
        ("soduim chloride", "sodium chloride", 1),  # two letters swapped are one slip
        ("calcuim", "calcium", 1),
        ("clacuim", "calcium", None),  # a word of seven letters may have one
        ("butnaoe", "butanone", 2),  # 2, not 1: no letter is moved twice (optimal string alignment)
        ("benzoicacid", "benzoic acid", 0),
        ("benzoicacd", "benzoic acid", 1),
        ("cyclohexannoll", "cyclohexanol", 2),
        ("soddium hydrroxide pentahydratte", "sodium hydroxide pentahydrate", 3),
        ("zinc", "zink", 1),
        ("tim", "tin", None),
        ("benzoiccd", "benzoic acid", None),
        ("barium chloride", "calcium chloride", None),
        ("aluminium chloride", "ammonium chloride", None),
        ("nitric acid", "citric acid", None),
        ("sodum chlorde pentahydatte", "sodium chloride pentahydrate", None),
        ("sodium sulfite", "sodium sulfate", None),
        ("", "sodium", None),
    ],
)
def test_name_slips(written: str, name: str, count: int | None) -> None:
    assert name_slips(written, name) == count


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("sodium sulfite", "sodium sulfate"),
        ("sodium sulfide", "sodium sulfate"),
        ("sodium nitrite", "sodium nitrate"),
        ("sodium chlorite", "sodium chloride"),
        ("ethanol", "methanol"),
        ("propanal", "propanol"),
        ("ethane", "ethene"),
        ("bromine", "bromide"),
        ("iron ii chloride", "iron iii chloride"),
        ("1 butanol", "2 butanol"),
        ("o xylene", "p xylene"),
        ("magnesium", "magnesia"),
        ("nitric acid", "citric acid"),
        ("chromate", "dichromate"),
        ("manganate", "permanganate"),
        ("sulfuric acid", "sulfurous acid"),
    ],
)
def test_another_substance(written: str, name: str) -> None:
    assert confusable(written, name)
    assert confusable(name, written)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("sodium sulfat", "sodium sulfate"),
        ("sodium slufate", "sodium sulfate"),
        ("metanol", "methanol"),
        ("methnaol", "methanol"),
        ("sodum chlorde", "sodium chloride"),
        ("magnesium bromid", "magnesium bromide"),
        ("benzoicacid", "benzoic acid"),
    ],
)
def test_a_slip(written: str, name: str) -> None:
    assert not confusable(written, name)
