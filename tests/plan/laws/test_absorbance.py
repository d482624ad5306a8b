"""Absorbance and standard curves, worked by hand with invented readings, and against other programs."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import linregress

from problemgen.exact.digits import read_written
from problemgen.model.fixed import Datum
from problemgen.plan.laws.absorbance import LAWS, LEAST_POINTS
from tests.support.law_table import LawTable

F = Fraction

NUMBERS = ("one", "two", "three", "four", "five", "six")


def standard(kind: str, number: int) -> str:
    return f"{kind}(KMnO4,standard_{NUMBERS[number - 1]})"


def told(points: Sequence[tuple[str, str]]) -> dict[str, str]:
    """The standards of a curve: concentrations in mol/L and absorbances."""
    return {
        name: text
        for number, (held, absorbed) in enumerate(points, start=1)
        for name, text in (
            (standard("concentration", number), f"{held} mol/L"),
            (standard("absorbance", number), f"{absorbed} 1"),
        )
    }


POINTS = told([("1.0", "0.5"), ("2.0", "0.7"), ("3.0", "1.2"), ("4.0", "1.4"), ("5.0", "1.7")])
"""Means 3 and 1.1; deviations −2 … 2 and −0.6, −0.4, 0.1, 0.3, 0.6: slope 3.1/10, intercept 1.1 − 0.93."""
CURVE: dict[str, Any] = {"others": ["KMnO4"], "given": list(POINTS)}
CELL: dict[str, Any] = {"others": ["KMnO4"], "given": ["absorbance(KMnO4)"]}
UNKNOWN: dict[str, Any] = {"others": ["KMnO4"], "given": [*POINTS, "absorbance(KMnO4)"]}

# law, scene, letter, values, expected in the unit, unit, what each error gives
CASES: list[tuple[str, dict[str, Any], str, dict[str, str], Fraction, str, dict[str, Fraction]]] = [
    (
        "beer-lambert",
        CELL,
        "A",
        {"epsilon": "12.0 L/(mol cm)", "length": "2.00 cm", "c": "0.0250 mol/L"},
        F("0.6"),
        "1",
        {"path-forgotten": F("0.3"), "path-multiplied": F("0.15")},
    ),
    (
        "beer-lambert",
        CELL,
        "c",
        {"epsilon": "12.0 L/(mol cm)", "length": "2.00 cm", "A": "0.600 1"},
        F("0.025"),
        "mol/L",
        {"path-forgotten": F("0.05"), "path-multiplied": F("0.1"), "absorption-multiplied": F("14.4")},
    ),
    (
        "beer-lambert",
        CELL,
        "epsilon",
        {"c": "0.0250 mol/L", "length": "2.00 cm", "A": "0.600 1"},
        F(12),
        "L/(mol cm)",
        {"path-forgotten": F(24), "path-multiplied": F(48)},
    ),
    (
        "least-squares-slope",
        CURVE,
        "slope",
        POINTS,
        F("0.31"),
        "L/mol",
        {
            "axes-exchanged": F("3.1") / F("0.98"),
            "forced-through-zero": F("19.6") / 55,
            "slope-of-two-points": F("0.3"),
        },
    ),
    (
        "least-squares-intercept",
        CURVE,
        "intercept",
        {**POINTS, "slope(KMnO4)": "0.31 L/mol"},
        F("0.17"),
        "1",
        {"intercept-added-up": F("2.03"), "intercept-of-one-point": F("0.19")},
    ),
    (
        "from-standard-curve",
        UNKNOWN,
        "c",
        {**POINTS, "A": "1.10 1", "slope": "0.31 L/mol", "intercept": "0.17 1"},
        F(3),
        "mol/L",
        {
            "intercept-forgotten": F("1.1") / F("0.31"),
            "intercept-added": F("1.27") / F("0.31"),
            "slope-multiplied": F("0.2883"),
            "one-standard-only": F("5.5") / F("1.7"),
        },
    ),
    (
        "from-standard-curve",
        UNKNOWN,
        "A",
        {"c": "3.0 mol/L", "slope": "0.31 L/mol", "intercept": "0.17 1"},
        F("1.1"),
        "1",
        {},
    ),
    (
        "absorption-from-slope",
        CURVE,
        "epsilon",
        {"slope": "24.0 L/mol", "length": "2.00 cm"},
        F(12),
        "L/(mol cm)",
        {"path-forgotten-in-slope": F(24)},
    ),
]


class TestTable(LawTable):
    laws = LAWS
    cases = CASES


ASKED = {"slope(KMnO4)": "L/mmol", "intercept(KMnO4)": "1", "concentration(KMnO4,step_one)": "mmol/L"}
READ = {"absorbance(KMnO4,step_one)": "0.4120 1"}

points = st.lists(
    st.tuples(st.integers(100, 9999), st.integers(100, 9999)),
    min_size=LEAST_POINTS,
    max_size=6,
    unique_by=lambda p: p[0],
)


def curve(pairs: Sequence[tuple[int, int]]) -> dict[str, Datum]:
    """Standards in hundredths of a mmol/L, absorbances in ten-thousandths, and an unknown beside them."""
    data = {name: Datum(read_written(text.split()[0]), text.split()[1]) for name, text in READ.items()}
    for number, (held, absorbed) in enumerate(pairs, start=1):
        data[standard("concentration", number)] = Datum(read_written(f"{held // 100}.{held % 100:02d}"), "mmol/L")
        data[standard("absorbance", number)] = Datum(read_written(f"0.{absorbed:04d}"), "1")
    return data


@pytest.mark.source("numpy: least squares; scipy: linear regression")
@given(points)
def test_a_line_is_that_of_other_programs(problems: Any, pairs: list[tuple[int, int]]) -> None:
    assume(len({absorbed for _, absorbed in pairs}) > 1)
    data = curve(pairs)
    plan = problems.plan(sorted(data), ASKED, others=("KMnO4",))
    texts = {name: f"{datum.written.text} {datum.unit}" for name, datum in data.items()}
    values = problems.exact(plan, texts)
    x, y = (
        np.array([float(one) / scale for one in side])
        for side, scale in zip(zip(*pairs, strict=True), (100, 1e4), strict=True)
    )
    slope, intercept = np.polyfit(x, y, 1)
    regressed = linregress(x, y)
    scale = np.abs(y).max()
    own_slope, own_intercept = float(values["slope(KMnO4)"]) / 1000, float(values["intercept(KMnO4)"])
    assert own_slope == pytest.approx(slope, rel=1e-9, abs=1e-9 * scale)
    assert own_slope == pytest.approx(regressed.slope, rel=1e-9, abs=1e-9 * scale)
    assert own_intercept == pytest.approx(intercept, rel=1e-8, abs=1e-8 * scale)
    assert own_intercept == pytest.approx(regressed.intercept, rel=1e-8, abs=1e-8 * scale)


@given(points)
def test_exact_and_batch_agree_on_a_line(problems: Any, pairs: list[tuple[int, int]]) -> None:
    assume(len({absorbed for _, absorbed in pairs}) > 1)
    data = curve(pairs)
    plan = problems.plan(sorted(data), {"slope(KMnO4)": "L/mmol"}, others=("KMnO4",))
    exact, batch = problems.windows(plan, data), problems.batch_windows(plan, [data, data])
    one, two = exact["slope(KMnO4)"], batch["slope(KMnO4)"]
    assume(abs(one.value) > F(1, 100))  # of a line that hardly rises, floats lose what is left
    assert two.value == pytest.approx([float(one.value)] * 2, rel=1e-8)
    assert one.low <= one.value <= one.high


SERIES = told(
    [("0.0500", "0.1552"), ("0.1000", "0.2598"), ("0.1500", "0.3660"), ("0.2000", "0.4701"), ("0.2500", "0.5755")]
)


def test_the_window_of_a_fit_is_that_of_its_result_alone(problems: Any) -> None:
    """A calculator's program rounds nothing on the way; four figures of the slope are left."""
    texts = {name: text.replace("mol/L", "mmol/L") for name, text in {**SERIES, **READ}.items()}
    plan = problems.plan(texts, ASKED, others=("KMnO4",))
    windows = problems.answer_windows(plan, problems.data(texts))
    slope, intercept, unknown = (windows[name] for name in ASKED)
    assert [one.figures for one in (slope, intercept, unknown)] == [4, 3, 4]
    assert float(slope.value) == pytest.approx(2.1018, abs=1e-9)
    halves = [float((one.high - one.low) / 2 / one.value) for one in (slope, intercept, unknown)]
    assert halves[0] < 0.0006
    assert halves[1] < 0.004
    assert halves[2] < 0.002


def test_the_sample_is_read_off_the_line_and_diluted_back(problems: Any, after_mistake: Any) -> None:
    texts = {**POINTS, "absorbance(KMnO4,step_one)": "1.10 1", "volume(KMnO4,aliquot)": "10.00 mL"}
    texts |= {"volume(KMnO4,flask)": "100.0 mL"}
    asked = {"concentration(KMnO4,step_one)": "mol/L", "concentration(KMnO4,initial)": "mol/L"}
    plan = problems.plan(texts, asked, others=("KMnO4",))
    assert list(problems.answers(plan, texts).values()) == [F(3), F(30)]
    forgotten = after_mistake(plan, texts, "step-left-out:concentration(KMnO4,initial)")
    assert forgotten["concentration(KMnO4,initial)"] == 3
    alone = after_mistake(plan, texts, "one-standard-only:concentration(KMnO4,step_one)")
    assert alone["concentration(KMnO4,step_one)"] == F("5.5") / F("1.7")


def test_two_standards_are_no_curve(problems: Any) -> None:
    names = [name for name in POINTS if "one" in name or "two" in name]
    scene = problems.scene([*names, "absorbance(KMnO4)"], others=["KMnO4"])
    found = {law.id for law in LAWS for _ in law.instances(law, scene)}
    assert found == {"beer-lambert"}
