"""Statistics in print."""

from __future__ import annotations

import pytest

from problemgen.render.words.statistics_text import decimals, percent, probability, sentence_case


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.125, "0.13"), (-0.256, "−0.26"), (-0.001, "0.00"), (1.0, "1.00"), (12.3456, "12.35"), (None, "–")],
)
def test_two_decimals_and_a_real_minus(value: float | None, text: str) -> None:
    assert decimals(value) == text


def test_other_numbers_of_decimals() -> None:
    assert (decimals(2.25, 1), decimals(2.5, 0), decimals(0.2, 3)) == ("2.3", "3", "0.200")


@pytest.mark.parametrize(("share", "text"), [(0.714, "71 %"), (0, "0 %"), (1, "100 %"), (0.005, "1 %")])
def test_percent(share: float, text: str) -> None:
    assert percent(share) == text.replace(" ", "\u00a0")


@pytest.mark.parametrize(
    ("value", "text"), [(0.0009, "< 0.001"), (0.0, "< 0.001"), (0.001, "0.001"), (0.0456, "0.046"), (1, "1.000")]
)
def test_probabilities(value: float, text: str) -> None:
    assert probability(value) == text.replace(" ", "\u00a0")


def test_no_probability_is_a_dash() -> None:
    assert probability(None) == "–"


def test_a_capital_letter_in_front() -> None:
    assert [sentence_case(text) for text in ("density left out", "HCl taken", "")] == [
        "Density left out",
        "HCl taken",
        "",
    ]
