"""Own values read: nothing is refused for being unlikely, and everything unlikely is flagged."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.exact.digits import read_written
from problemgen.grade.reading.own_reading import read_own, share_flagged, whole_flagged
from problemgen.model.own_data import OwnKey, OwnReading, OwnValue, data_of
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.arithmetic import Window

MASS = OwnKey(
    "1.magnesium.mass",
    "mass of magnesium",
    "",
    OwnValue(
        "magnesium.mass",
        Quantity("mass", "magnesium"),
        "g",
        Fraction("0.390"),
        Fraction("0.875"),
        read_written("0.001"),
        "balance",
    ),
)
VOLUME = OwnKey(
    "1.x.volume",
    "volume of x",
    "",
    OwnValue(
        "x.volume",
        Quantity("volume", "x"),
        "mL",
        Fraction(15),
        Fraction(45),
        read_written("0.05"),
        "50-mL burette",
        Fraction(50),
    ),
)
WHOLE = Quantity("mass", "y", Role.THEORETICAL)
OBTAINED = OwnKey(
    "1.y.obtained",
    "mass of y obtained",
    "theoretical mass of y",
    OwnValue(
        "y.obtained",
        Quantity("mass", "y", Role.ACTUAL),
        "g",
        Fraction(42),
        Fraction(100),
        read_written("0.001"),
        "balance",
        share_of=WHOLE,
    ),
)
LABEL = OwnKey(
    "1.z.concentration", "c", "", OwnValue("z", Quantity("concentration", "z"), "mol/L", Fraction(0), Fraction(2))
)


def read(key: OwnKey, cell: str, mark: str = ".") -> OwnReading:
    (reading,) = read_own([key], {key.column: cell}, mark)
    return reading


@pytest.mark.parametrize(
    ("key", "cell", "text", "unit"),
    [
        (MASS, "0.612", "0.612", "g"),
        (MASS, "0.612 g", "0.612", "g"),
        (MASS, "m(Mg) = 0.612 g", "0.612", "g"),
        (MASS, "612 mg", "612", "mg"),
        (MASS, "0,612", "0.612", "g"),
        (MASS, "6.12e-1 g", "6.12e-1", "g"),
        (VOLUME, "23.45 cm3", "23.45", "cm3"),
        (VOLUME, "0.02345 L", "0.02345", "L"),
        (VOLUME, " 23.45 ", "23.45", "mL"),
        (LABEL, "1.10 M", "1.10", "M"),
    ],
)
def test_a_usual_value_is_read_without_a_flag(key: OwnKey, cell: str, text: str, unit: str) -> None:
    reading = read(key, cell)
    assert reading.datum is not None
    assert (reading.datum.written.text, reading.datum.unit) == (text, unit)
    assert (reading.flags, reading.reason) == ((), "")


@pytest.mark.parametrize(
    ("key", "cell", "codes"),
    [
        (MASS, "0.0612 g", ["range", "more-digits"]),
        (MASS, "6.120 g", ["range"]),
        (MASS, "0.61 g", ["fewer-digits"]),
        (MASS, "0.6125 g", ["more-digits"]),
        (MASS, "612.5 mg", ["more-digits"]),
        (MASS, "-0.612 g", ["range"]),
        (VOLUME, "60.00 mL", ["capacity"]),
        (VOLUME, "2.35 mL", ["range"]),
        (VOLUME, "23 mL", ["fewer-digits"]),
        (OBTAINED, "0.000 g", ["range"]),
        (LABEL, "3.0 mol/L", ["range"]),
    ],
)
def test_what_is_unlikely_is_flagged_and_read_all_the_same(key: OwnKey, cell: str, codes: list[str]) -> None:
    reading = read(key, cell)
    assert reading.datum is not None
    assert [flag.code for flag in reading.flags] == codes


@pytest.mark.parametrize(
    ("key", "cell", "sentence"),
    [
        (MASS, "0.095 g", "0.095 g is outside the usual range, 0.39 to 0.875 g: check the reading."),
        (
            MASS,
            "612 g",
            (
                "612 g is outside the usual range, 0.39 to 0.875 g: check the reading and its unit, "
                "it is about a thousand times too large or too small."
            ),
        ),
        (VOLUME, "60.00 mL", "60.00 mL is more than the 50-mL burette holds (50 mL): check the reading."),
        (MASS, "0.61 g", "0.61 g has fewer digits than can be read off: write every digit, to 0.001 g."),
        (MASS, "0.61234 g", "0.61234 g has more digits than can be read off, to 0.001 g."),
        (OBTAINED, "0.000 g", "0.000 g: nothing was obtained? Check the reading."),
    ],
)
def test_a_flag_says_what_to_check(key: OwnKey, cell: str, sentence: str) -> None:
    assert read(key, cell).flags[0].sentence == sentence


@pytest.mark.parametrize(
    ("key", "cell", "reason"),
    [
        (MASS, "", ""),
        (MASS, "  ", ""),
        (MASS, "–", ""),
        (MASS, "n/a", ""),
        (MASS, "0.612 mL", "It is written in mL; g is asked for."),
        (MASS, "spilled", 'No number is found in "spilled".'),
        (MASS, "3/5 g", "A fraction has no figures to count; write the reading as a decimal number."),
    ],
)
def test_what_cannot_be_used_is_told_with_its_reason(key: OwnKey, cell: str, reason: str) -> None:
    reading = read(key, cell)
    assert (reading.datum, reading.reason, reading.flags) == (None, reason, ())
    assert reading.is_blank == (not reason)


def test_a_column_that_the_responses_do_not_have_is_blank() -> None:
    (reading,) = read_own([MASS], {}, ".")
    assert reading.is_blank
    assert reading.datum is None


@pytest.mark.parametrize(
    ("key", "cell", "mark", "text", "told"),
    [
        # Both marks could be meant, and neither number is usual: the set's mark decides.
        (VOLUME, "1,234", ".", "1234", '"1,234" can mean 1234 or 1.234; it is read as 1234.'),
        # Only one is usual, or can be read off the balance.
        (LABEL, "1,234", ".", "1.234", "1,234 is read as 1.234, the likelier of two readings."),
        (OBTAINED, "2,405 g", ".", "2.405", "2,405 g is read as 2.405, the likelier of two readings."),
        (OBTAINED, "2.405 g", ",", "2.405", "2.405 g is read as 2.405, the likelier of two readings."),
        (OBTAINED, "2,405 mg", ".", "2405", '"2,405" can mean 2405 or 2.405; it is read as 2405.'),
    ],
)
def test_a_doubtful_mark_is_never_silent(key: OwnKey, cell: str, mark: str, text: str, told: str) -> None:
    reading = read(key, cell, mark)
    assert reading.datum is not None
    assert reading.datum.written.text == text
    assert (reading.flags[0].code, reading.flags[0].sentence) == ("doubtful-spelling", told)


def flagged(cell: str, whole: str = "4.000") -> OwnReading:
    reading = read(OBTAINED, cell)
    assert reading.datum is not None
    mine, all_of_it = reading.datum.written.value, Fraction(whole)
    windows = {
        "mass(y,actual)": Window(mine, mine, mine, 4),
        WHOLE.id: Window(all_of_it, all_of_it, all_of_it, 4),
    }
    (looked_at,) = share_flagged([reading], windows)
    return looked_at


@pytest.mark.parametrize(
    ("cell", "code", "sentence"),
    [
        (
            "4.320 g",
            "over-100",
            (
                "4.320 g is 108.0 % of the theoretical mass of y, more than there can be: "
                "is the product dry and pure? Check the weighing."
            ),
        ),
        (
            "43.20 g",
            "over-100",
            (
                "43.20 g is 1080 % of the theoretical mass of y, far more than there can be: "
                "check the values and their units."
            ),
        ),
        (
            "0.432 g",
            "low-share",
            (
                "0.432 g is 10.8 % of the theoretical mass of y, less than is usual (42 % or more): "
                "check the weighing and its unit."
            ),
        ),
    ],
)
def test_a_yield_that_is_not_usual_is_flagged(cell: str, code: str, sentence: str) -> None:
    assert (flagged(cell).flags[-1].code, flagged(cell).flags[-1].sentence) == (code, sentence)


@pytest.mark.parametrize("cell", ["1.680 g", "2.900 g", "4.000 g"])
def test_a_usual_yield_is_not(cell: str) -> None:
    assert flagged(cell).flags == ()


@pytest.mark.parametrize(
    ("cell", "share", "sentence"),
    [
        (
            "0.612 g",
            "1.032",
            "With these values there is a mass percent of 103.2 %, more than there can be: check them.",
        ),
        ("0.612 g", "1", ""),
        ("", "1.032", ""),
    ],
)
def test_a_share_of_more_than_the_whole_is_flagged(cell: str, share: str, sentence: str) -> None:
    asked, value = Quantity("mass_fraction", "w"), Fraction(share)
    windows = {asked.id: Window(value, value, value, 3)}
    (reading,) = whole_flagged([read(MASS, cell)], {asked: frozenset({"mass(magnesium)"})}, windows)
    assert [flag.sentence for flag in reading.flags] == ([sentence] if sentence else [])


def test_what_is_flagged_already_is_not_flagged_for_a_share_again() -> None:
    looked_at = flagged("4.320 g")
    asked, value = Quantity("percent_yield", "y"), Fraction("1.08")
    windows = {asked.id: Window(value, value, value, 3)}
    assert whole_flagged([looked_at], {asked: frozenset({"mass(y,actual)"})}, windows) == (looked_at,)


def test_no_yield_is_looked_at_where_the_theoretical_one_is_not_known() -> None:
    reading = read(OBTAINED, "4.320 g")
    assert share_flagged([reading], {}) == (reading,)


SHARES = tuple(Quantity("relative_amount", name) for name in ("a", "b"))
RATIO = OwnKey(
    "1.a.ratio",
    "product ratio of a to b",
    "",
    OwnValue("a.ratio", SHARES[0], "1", Fraction(60), Fraction(100), second=SHARES[1]),
)
USUAL = "of the first product; usual are 60 % to 100 %"
INTEGRAL = OwnKey(
    "1.a.integral", "integral of a", "", OwnValue("a", Quantity("integral", "a"), "1", Fraction(0), Fraction(10**12))
)


@pytest.mark.parametrize(("cell", "first", "second"), [("94:6", "94", "6"), ("94,2 to 5,8", "94.2", "5.8")])
def test_a_ratio_is_two_values(cell: str, first: str, second: str) -> None:
    reading = read(RATIO, cell)
    assert (reading.datum and reading.datum.written.text, reading.second and reading.second.written.text) == (
        first,
        second,
    )
    assert reading.flags == ()
    assert {name: datum.written.text for name, datum in data_of([reading]).items()} == {
        "relative_amount(a)": first,
        "relative_amount(b)": second,
    }


@pytest.mark.parametrize(
    ("cell", "code", "sentence"),
    [
        (
            "6:94",
            "range",
            f"6 : 94 is 6.00 % {USUAL}: check the ratio and the order of the two numbers.",
        ),
        (
            "50:50",
            "range",
            f"50 : 50 is 50.0 % {USUAL}: check the ratio.",
        ),
        ("94:06:00", "doubtful-spelling", '"94:06:00" is read as the ratio 94 : 6.'),
    ],
)
def test_an_unusual_ratio_is_flagged_and_taken(cell: str, code: str, sentence: str) -> None:
    reading = read(RATIO, cell)
    assert [(flag.code, flag.sentence) for flag in reading.flags] == [(code, sentence)]
    assert len(data_of([reading])) == 2


def test_a_ratio_of_three_is_refused_and_a_blank_is_blank() -> None:
    reading = read(RATIO, "94:6:1")
    assert (reading.datum, reading.second) == (None, None)
    assert reading.reason.startswith('Three numbers stand in "94:6:1"')
    assert read(RATIO, "").is_blank


def test_an_integral_may_have_its_protons_behind_it() -> None:
    reading = read(INTEGRAL, "2.04 H")
    assert (reading.datum and reading.datum.written.text, reading.flags) == ("2.04", ())


def test_no_signal_is_flagged() -> None:
    (flag,) = read(INTEGRAL, "0").flags
    assert flag.sentence == "0: no signal? Check the reading."
