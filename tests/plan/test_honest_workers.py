"""The acceptance window holds the answer of whoever works honestly, whatever the numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from problemgen.exact.digits import read_written
from problemgen.model.fixed import Datum
from tests.support.honest_worker import HonestWorker, supported

AMMONIA = {"equation": "N2 + 3 H2 -> 2 NH3", "product": "NH3"}
VITRIOL = {"others": ["CuSO4", "CuSO4.5H2O"], "stands_for": {"CuSO4.5H2O": "CuSO4"}}

PLANS: dict[str, tuple[dict[str, Any], dict[str, str], dict[str, str]]] = {
    "bottle": (
        {"others": ["HCl"]},
        {"volume(HCl,solution)": "mL", "mass_fraction(HCl)": "%", "density(HCl,solution)": "g/mL"},
        {"mass(HCl,solution)": "g", "amount(HCl)": "mmol", "molar_mass(HCl)": "g/mol"},
    ),
    "label": (
        {"others": ["HCl"]},
        {"mass_fraction(HCl)": "%", "density(HCl,solution)": "g/mL"},
        {"concentration(HCl)": "mol/L"},
    ),
    "dilution": (
        {"others": ["HCl"]},
        {"concentration(HCl,initial)": "mol/L", "volume(HCl,initial)": "mL", "volume(HCl,final)": "mL"},
        {"amount(HCl,initial)": "mmol", "concentration(HCl,final)": "mol/L", "volume(HCl,added)": "mL"},
    ),
    "hydrate": (
        VITRIOL,
        {"concentration(CuSO4)": "mol/L", "volume(CuSO4,solution)": "mL"},
        {"amount(CuSO4)": "mmol", "mass(CuSO4.5H2O)": "g"},
    ),
    "limiting": (
        AMMONIA,
        {"mass(N2)": "g", "mass(H2)": "g", "mass(NH3,actual)": "g"},
        {
            "amount(N2)": "mmol",
            "amount(NH3,from:H2)": "mmol",
            "mass(NH3,theoretical)": "g",
            "percent_yield(NH3)": "%",
            "mass(N2,left)": "g",
            "mass(H2,consumed)": "g",
        },
    ),
    "backwards": (
        AMMONIA,
        {"mass(NH3,actual)": "g", "percent_yield(NH3)": "%"},
        {"mass(NH3,theoretical)": "g", "mass(H2)": "g", "mass(N2)": "mg"},
    ),
    "titration": (
        {"equation": "H2SO4 + 2 NaOH -> Na2SO4 + 2 H2O"},
        {"concentration(NaOH)": "mol/L", "volume(NaOH,solution)": "mL", "volume(H2SO4,solution)": "mL"},
        {"amount(NaOH)": "mmol", "concentration(H2SO4)": "mol/L"},
    ),
    "beyond the end": (
        {"equation": "HCl + NaOH -> NaCl + H2O"},
        {
            "concentration(HCl)": "mol/L",
            "volume(HCl,solution)": "mL",
            "concentration(NaOH)": "mol/L",
            "volume(NaOH,solution)": "mL",
        },
        {"concentration(HCl,mixed)": "mol/L"},
    ),
    "gas": (
        {"equation": "2 Al + 6 HCl -> 2 AlCl3 + 3 H2"},
        {"mass(Al)": "mg", "pressure(H2)": "kPa", "temperature(H2)": "°C"},
        {"amount(H2,theoretical)": "mmol", "volume(H2,theoretical)": "mL"},
    ),
    "gas, other units": (
        {"equation": "2 Al + 6 HCl -> 2 AlCl3 + 3 H2"},
        {"volume(H2,theoretical)": "mL", "pressure(H2)": "atm", "temperature(H2)": "°F"},
        {"mass(Al)": "mg"},
    ),
    "particles": (
        {"others": ["H2O", "H"]},
        {"mass(H2O)": "mg"},
        {"amount(H2O)": "mmol", "count(H2O)": "molecules", "count(H)": "1"},
    ),
}

readings = st.tuples(st.integers(10, 99_999), st.integers(-1, 3)).map(
    lambda n: f"{n[0] / 10 ** n[1]:.{n[1]}f}" if n[1] > 0 else f"{n[0]}e{-n[1]}"
)
"""What is read off: two to five figures."""


@pytest.mark.parametrize("name", PLANS)
@given(texts=st.lists(readings, min_size=4, max_size=4), seed=st.integers(0, 2**32))
def test_no_honest_worker_is_refused(problems: Any, name: str, texts: list[str], seed: int) -> None:
    about, units, asked = PLANS[name]
    plan = problems.plan(units, asked, **about)
    data = {q: Datum(read_written(text), unit) for (q, unit), text in zip(units.items(), texts, strict=False)}
    windows = problems.answer_windows(plan, data)
    for worker in range(seed, seed + 3):
        answers = HonestWorker(worker).answers(plan, data)
        for quantity, answer in answers.items():
            window = windows[quantity]
            told = f"{quantity}: {answer} outside {float(window.low)!r} to {float(window.high)!r}"
            assert window.low <= Fraction(answer) <= window.high, told


@pytest.mark.source(
    "nist-sp-811-2008 B.7: sums to the last common place; common-practice: products to the fewest figures"
)
@pytest.mark.parametrize("name", PLANS)
@given(texts=st.lists(readings, min_size=4, max_size=4))
def test_the_figures_of_an_answer_are_those_of_the_usual_rules(problems: Any, name: str, texts: list[str]) -> None:
    about, units, asked = PLANS[name]
    plan = problems.plan(units, asked, **about)
    data = {q: Datum(read_written(text), unit) for (q, unit), text in zip(units.items(), texts, strict=False)}
    figures = supported(plan, data)
    for quantity, window in problems.answer_windows(plan, data).items():
        assume(window.value)  # of nothing no figure can be counted
        unlimited = figures[quantity] >= 99
        assert window.figures == (4 if unlimited else figures[quantity])
