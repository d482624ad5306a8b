"""The formulas of two templates as a person would write them with numpy: floats, values only.

No draws, no windows, no rules, no text: the least that any program that makes variants has to compute. Volumes in
litres, masses in grams, densities in g/L, amounts in moles, as in the plans; `given` is keyed as the plan is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

import numpy as np
import numpy.typing as npt

__all__ = ["BARE", "Values"]

Floats = npt.NDArray[np.float64]
Values = dict[str, Floats | float]

H, C, O, MG, CL, BR = 1.008, 12.011, 15.999, 24.305, 35.45, 79.904  # noqa: E741 - the element's symbol
BROMOBENZENE = 6 * C + 5 * H + BR
ESTER = 8 * C + 8 * H + 2 * O
ACID = H + CL
ALCOHOL = 19 * C + 16 * H + O

Given = Mapping[str, Floats]
Mistaken = Mapping[str, Callable[[], Values]]


def _triphenylmethanol(given: Given) -> Values:
    m_bromobenzene = given["volume(bromobenzene)"] * given["density(bromobenzene)"]
    amounts = {
        "bromobenzene": m_bromobenzene / BROMOBENZENE,
        "magnesium": given["mass(magnesium)"] / MG,
        "methyl-benzoate": given["volume(methyl-benzoate,solution)"] * given["concentration(methyl-benzoate)"],
    }
    return {"mass(bromobenzene)": m_bromobenzene} | _from_amounts(given, amounts)


def _from_amounts(given: Given, amounts: Mapping[str, Floats]) -> Values:
    """What follows from the three amounts."""
    extents = {name: amount if name == "methyl-benzoate" else amount / 2 for name, amount in amounts.items()}
    values: Values = {f"amount({name})": amount for name, amount in amounts.items()}
    values |= {f"extent({name})": extent for name, extent in extents.items()}
    return values | _from_extents(given, extents)


def _from_extents(given: Given, extents: Mapping[str, Floats]) -> Values:
    return _from_extent(given, np.minimum.reduce(list(extents.values())))


def _from_extent(given: Given, extent: Floats) -> Values:
    theoretical = ALCOHOL * extent
    return {
        "extent()": extent,
        "mass(triphenylmethanol,theoretical)": theoretical,
        "percent_yield(triphenylmethanol)": given["mass(triphenylmethanol,actual)"] / theoretical,
    } | _acid(given, 2 * extent)


def _acid(given: Given, amount: Floats) -> Values:
    """How much acid is needed, as an amount and as the solution in the bottle."""
    mass = ACID * amount
    solution = mass / given["mass_fraction(hydrogen-chloride)"]
    return {
        "amount(hydrogen-chloride)": amount,
        "mass(hydrogen-chloride)": mass,
        "mass(hydrogen-chloride,solution)": solution,
        "volume(hydrogen-chloride,solution)": solution / given["density(hydrogen-chloride,solution)"],
    }


def _triphenylmethanol_mistakes(given: Given, right: Values) -> Mistaken:
    """What each usual mistake leads to, worked again from where it is made."""
    g = given
    v = {name: np.asarray(value) for name, value in right.items()}
    names = ("bromobenzene", "magnesium", "methyl-benzoate")
    amounts = {name: v[f"amount({name})"] for name in names}
    extents = {name: v[f"extent({name})"] for name in names}
    theoretical, actual = v["mass(triphenylmethanol,theoretical)"], g["mass(triphenylmethanol,actual)"]
    volume, density = g["volume(bromobenzene)"], g["density(bromobenzene)"]
    strength, acid = g["density(hydrogen-chloride,solution)"], v["mass(hydrogen-chloride)"]
    solution, needed = v["mass(hydrogen-chloride,solution)"], v["amount(hydrogen-chloride)"]
    poured, molar = g["volume(methyl-benzoate,solution)"], g["concentration(methyl-benzoate)"]
    share = g["mass_fraction(hydrogen-chloride)"]

    def amount(name: str, value: Callable[[], Floats]) -> Callable[[], Values]:
        return lambda: _from_amounts(g, {**amounts, name: value()})

    def volume_of(mass: Callable[[], Floats]) -> Callable[[], Values]:
        return lambda: {"V": mass() / share / strength}

    def scaled(factor: float) -> Values:
        changed = {name: value if name == "methyl-benzoate" else value * factor for name, value in extents.items()}
        return _from_extents(g, changed)

    def halved() -> Values:
        return _from_amounts(g, {n: a if n == "methyl-benzoate" else a / 2 for n, a in amounts.items()})

    def with_least(keys: Callable[[], list[Floats]]) -> Values:
        rows = np.stack(list(extents.values()))
        return _from_extent(g, np.take_along_axis(rows, np.argmin(np.stack(keys()), axis=0)[None], axis=0)[0])

    masses = (BROMOBENZENE, MG, ESTER)
    return {
        "density divided": amount("bromobenzene", lambda: 1e6 * volume / density / BROMOBENZENE),
        "density forgotten": amount("bromobenzene", lambda: 1e3 * volume / BROMOBENZENE),
        "molar mass inverted": amount("bromobenzene", lambda: v["mass(bromobenzene)"] * BROMOBENZENE),
        "coefficient in amount": halved,
        "other molar mass": amount("bromobenzene", lambda: v["mass(bromobenzene)"] / ALCOHOL),
        "molar mass inverted, magnesium": amount("magnesium", lambda: g["mass(magnesium)"] * MG),
        "other molar mass, magnesium": amount("magnesium", lambda: g["mass(magnesium)"] / ALCOHOL),
        "millilitres as litres": amount("methyl-benzoate", lambda: 1e3 * poured * molar),
        "concentration divided": amount("methyl-benzoate", lambda: poured / molar),
        "ratio left out": lambda: scaled(2.0),
        "ratio inverted": lambda: scaled(4.0),
        "ratio left out, reagents": lambda: scaled(2.0),
        "ratio left out, product": lambda: _acid(g, v["extent()"]),
        "density divided, acid": lambda: {"V": solution * strength / 1e6},
        "density forgotten, acid": lambda: {"V": solution / 1e3},
        "percent left out": lambda: {"V": acid / strength},
        "percent divided": lambda: {"V": acid * share / strength},
        "molar mass inverted, acid": volume_of(lambda: needed / ACID),
        "other molar mass, acid": volume_of(lambda: needed * ALCOHOL),
        "excess taken": lambda: _from_extent(g, np.maximum.reduce(list(extents.values()))),
        "least amount taken": lambda: with_least(lambda: list(amounts.values())),
        "least mass taken": lambda: with_least(lambda: [a * m for a, m in zip(amounts.values(), masses, strict=True)]),
        "molar mass inverted, product": lambda: {
            "mass": v["extent()"] / ALCOHOL,
            "Y": actual * ALCOHOL / v["extent()"],
        },
        "other molar mass, product": lambda: {"mass": (m := v["extent()"] * BROMOBENZENE), "Y": actual / m},
        "yield inverted": lambda: {"Y": theoretical / actual},
        "yield against reagent": lambda: {"Y": actual / v["mass(bromobenzene)"]},
    }


_ACID = "hydrogen-chloride"


def _dilution(given: Given) -> Values:
    initial, final = given[f"volume({_ACID},initial)"], given[f"volume({_ACID},final)"]
    amount = initial * given[f"concentration({_ACID},initial)"]
    return {
        f"amount({_ACID},initial)": amount,
        f"concentration({_ACID},final)": amount / final,
        f"volume({_ACID},added)": final - initial,
    }


def _dilution_mistakes(given: Given, right: Values) -> Mistaken:
    initial, final = given[f"volume({_ACID},initial)"], given[f"volume({_ACID},final)"]
    strength, amount = given[f"concentration({_ACID},initial)"], right[f"amount({_ACID},initial)"]

    def of(value: Callable[[], Floats]) -> Callable[[], Values]:
        return lambda: {"n": (n := value()), "c": n / final}

    return {
        "millilitres as litres": of(lambda: 1e3 * initial * strength),
        "concentration divided": of(lambda: initial / strength),
        "dilution inverted": of(lambda: strength * final * final / initial),
        "millilitres as litres, final": lambda: {"c": amount / (1e3 * final)},
        "final for added": lambda: {"V": final},
    }


def _all(
    values: Callable[[Given], Values], mistakes: Callable[[Given, Values], Mistaken], given: Given
) -> tuple[Values, list[Values]]:
    right = values(given)
    return right, [one() for one in mistakes(given, right).values()]


BARE: Mapping[str, tuple[Callable[[Given], Values], Callable[[Given], tuple[Values, list[Values]]]]] = {
    "preparations/triphenylmethanol": (
        _triphenylmethanol,
        partial(_all, _triphenylmethanol, _triphenylmethanol_mistakes),
    ),
    "solutions/dilution": (_dilution, partial(_all, _dilution, _dilution_mistakes)),
}
"""By template: the values alone; and the values with those of each mistake."""
