"""Units that cancel, and the conversions that make them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.model.blocks import Ratio
from problemgen.render.worked.chains import Link, Term, cancelled, exact_text, pieces_of


def factor(number: str, unit: str, of: str = "") -> Link:
    return Link((Term(number, pieces_of(unit, of), of),))


def shown(ratio: Ratio) -> str:
    sides = []
    for side in (ratio.top, ratio.bottom):
        amounts = []
        for amount in side:
            units = " ".join(f"{'~' * p.cancelled}{p.text}{p.exponent}" for p in amount.unit)
            amounts.append(f"{amount.number} {units} {amount.of}".strip())
        sides.append(" × ".join(amounts))
    return " / ".join(filter(None, sides))


def chain(*links: Link, wanted: str, of: str = "") -> list[str]:
    return [shown(ratio) for ratio in cancelled(links, pieces_of(wanted, of))]


@pytest.mark.parametrize(
    ("links", "wanted", "expected"),
    [
        ((factor("2.5", "mL"), factor("1.2", "g/mL")), "g", ["2.5 ~mL1", "1.2 g1 ~mL-1"]),
        (
            (factor("0.95", "mol/L"), factor("2.5", "mL")),
            "mol",
            ["0.95 mol1 ~L-1", "2.5 ~mL1", "1 ~L1 / 1000 ~mL1"],
        ),
        ((factor("0.95", "M"), factor("2", "L")), "mol", ["0.95 mol1 ~L-1", "2 ~L1"]),
        ((factor("760", "Torr"),), "kPa", ["760 ~Torr1", "101.325 kPa1 / 760 ~Torr1"]),
        ((factor("2", "kPa"),), "Torr", ["2 ~kPa1", "760 Torr1 / 101.325 ~kPa1"]),
        ((factor("2", "lb"),), "kg", ["2 ~lb1", "0.45359237 kg1 / 1 ~lb1"]),
        ((factor("2", "kg"),), "lb", ["2 ~kg1", "1 lb1 / 0.45359237 ~kg1"]),
        ((factor("2", "psi"),), "kPa", ["2 ~psi1", "6.894757 kPa1 / 1 ~psi1"]),
        ((factor("3", "1"),), "1", ["3"]),
    ],
)
def test_units_cancel_or_are_converted(links: tuple[Link, ...], wanted: str, expected: list[str]) -> None:
    assert chain(*links, wanted=wanted) == expected


def test_like_cancels_with_like_of_the_same_substance() -> None:
    part = Link((Term("37", pieces_of("g", "acid"), "HCl"),), (Term("100", pieces_of("g", "whole"), "solution"),))
    found = chain(factor("5", "g", "whole"), part, wanted="g", of="acid")
    assert found == ["5 ~g1 whole", "37 g1 HCl / 100 ~g1 solution"]


def test_conversions_stand_before_the_closing_percent() -> None:
    quotient = Link((Term("5", pieces_of("mg")),), (Term("2", pieces_of("g")),))
    expected = ["5 ~mg1 / 2 ~g1", "1 ~g1 / 1000 ~mg1", "100 %1"]
    assert chain(quotient, factor("100", "%"), wanted="%") == expected


@pytest.mark.parametrize(
    ("links", "wanted", "error"),
    [
        ((factor("2", "g"),), "mL", "no factor of the chain brings the unit mL"),
        ((factor("2", "g"), factor("2", "mL")), "g", "units left over in a chain: mL"),
    ],
)
def test_a_law_that_does_not_hold_is_refused(links: tuple[Link, ...], wanted: str, error: str) -> None:
    with pytest.raises(ValueError, match=f"^{error}$"):
        chain(*links, wanted=wanted)


@pytest.mark.parametrize(
    ("value", "text"), [("1/8", "0.125"), ("1/3", None), ("1000", "1000"), ("1000000", "1e6"), ("0", "0")]
)
def test_exact_text_writes_only_what_ends(value: str, text: str | None) -> None:
    assert exact_text(Fraction(value)) == text
