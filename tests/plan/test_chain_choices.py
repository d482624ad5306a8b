"""Which way a chain takes where there is a choice, and what it says where there is none."""

from __future__ import annotations

from typing import Any

import pytest

from problemgen.errors import UnderivableError
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.chain import describe

MAGNESIUM = "Mg + 2 HCl -> MgCl2 + H2"
AMMONIA = "N2 + 3 H2 -> 2 NH3"


def test_what_nobody_asks_for_is_left_out(problems: Any) -> None:
    given = {"mass(NaCl)": "2.922 g", "volume(NaCl,solution)": "250.0 mL"}
    plan = problems.plan(given, {"amount(NaCl)": "mmol"}, others=["NaCl"])
    assert [quantity.id for quantity in plan.given] == ["mass(NaCl)"]
    assert [step.quantity.id for step in plan.steps] == ["molar_mass(NaCl)", "amount(NaCl)"]


def test_what_is_given_and_asked_needs_no_step(problems: Any) -> None:
    plan = problems.plan({"mass(NaCl)": "2.922 g"}, {"mass(NaCl)": "mg"}, others=["NaCl"])
    assert plan.steps == ()
    assert [quantity.id for quantity in plan.given] == ["mass(NaCl)"]


def test_a_reagent_in_excess_limits_nothing(problems: Any) -> None:
    given = {"mass(Mg)": "0.0500 g", "volume(HCl,solution)": "50.0 mL", "concentration(HCl)": "1.00 mol/L"}
    asked = {"amount(H2,theoretical)": "mmol"}
    competing = problems.plan(given, asked, "Mg + 2 HCl -> MgCl2 + H2")
    plan = problems.plan(given, asked, "Mg + 2 HCl -> MgCl2 + H2", in_excess=["HCl"])
    assert competing.sources == ("Mg", "HCl")
    assert plan.sources == ("Mg",)
    assert [quantity.id for quantity in plan.given] == ["mass(Mg)"]


def test_only_the_constants_that_a_plan_looks_up_are_kept(problems: Any) -> None:
    given = {"volume(HCl,solution)": "5.00 mL", "concentration(HCl)": "0.100 mol/L"}
    assert problems.plan(given, {"amount(HCl)": "mmol"}, others=["HCl"]).constants == ()
    plan = problems.plan(given, {"mass(HCl)": "mg"}, others=["HCl"])
    assert [constant.quantity.of for constant in plan.constants] == ["H", "Cl"]


def test_the_first_law_to_reach_a_quantity_yields_it(problems: Any) -> None:
    """A molar mass comes from the formula, though mass and amount would give it too."""
    given = {"mass(NaCl)": "5.00 g", "amount(NaCl)": "0.100 mol"}
    plan = problems.plan(given, {"molar_mass(NaCl)": "g/mol"}, others=["NaCl"])
    assert [step.law for step in plan.steps] == ["molar-mass"]


def test_of_a_reagent_in_excess_is_told_what_reacts(problems: Any) -> None:
    given = {"amount(Mg)": "2.00 mmol"}
    plan = problems.plan(given, {"amount(HCl)": "mmol"}, MAGNESIUM, in_excess=["HCl"])
    assert problems.answers(plan, given) == {"amount(HCl)": 4}


def test_what_was_taken_in_excess_tells_nothing_about_the_extent(problems: Any) -> None:
    """The acid's amount stands there ready, and is not used; those of the two salts have to be worked out first."""
    equation = "2 KMnO4 + 10 FeSO4 + 8 H2SO4 -> K2SO4 + 2 MnSO4 + 5 Fe2(SO4)3 + 8 H2O"
    given = {"mass(KMnO4)": "1.58 g", "mass(FeSO4)": "30.4 g", "amount(H2SO4)": "9.00 mol"}
    plan = problems.plan(given, {"amount(MnSO4,theoretical)": "mmol"}, equation, in_excess=["H2SO4"])
    assert plan.sources == ("KMnO4", "FeSO4")
    assert {quantity.id for quantity in plan.given} == {"mass(KMnO4)", "mass(FeSO4)"}
    permanganate = 1.58 / (39.098 + 54.938 + 4 * 15.999) * 1000  # mmol, as many of the manganese salt
    assert float(problems.answers(plan, given)["amount(MnSO4,theoretical)"]) == pytest.approx(permanganate, rel=1e-12)


REFUSED = [
    (
        {"others": ["C4H6O3"]},
        ["volume(C4H6O3)"],
        {"amount(C4H6O3)": "mol"},
        (
            "the amount of C4H6O3 cannot be derived from what is given; missing: the mass of C4H6O3 or the number of "
            "particles of C4H6O3 or the amount concentration of C4H6O3 and the volume of C4H6O3 (solution)"
        ),
    ),
    (
        {"others": ["HCl"]},
        ["volume(HCl,solution)"],
        {"amount(HCl)": "mmol"},
        (
            "the amount of HCl cannot be derived from what is given; missing: the mass of HCl or the number of "
            "particles of HCl or the amount concentration of HCl"
        ),
    ),
    (
        {"equation": AMMONIA, "product": "NH3"},
        ["mass(N2)"],
        {"percent_yield(NH3)": "%"},
        "the percent yield of NH3 cannot be derived from what is given; missing: the mass of NH3 (actual)",
    ),
    (
        {"equation": AMMONIA, "product": "NH3"},
        ["mass(N2)"],
        {"volume(NH3,theoretical)": "mL"},
        (
            "the volume of NH3 (theoretical) cannot be derived from what is given; missing: the density of NH3 or the "
            "pressure of NH3 and the temperature of NH3"
        ),
    ),
    (
        {"others": ["C2H6O", "H2O"]},
        ["amount(C2H6O)"],
        {"count(H2O)": "molecules"},
        "the number of particles of H2O cannot be derived from what is given; missing: the amount of H2O",
    ),
    (
        {"equation": AMMONIA},
        ["mass(N2)"],
        {"mass(He)": "g"},
        "the mass of He cannot be derived from what is given; no law leads to it",
    ),
    (
        {"equation": AMMONIA},
        ["mass(N2)"],
        {"portions(N2)": "1"},
        "the number of whole units of N2 cannot be derived from what is given; no law leads to it",
    ),
    (
        {"equation": AMMONIA},
        [],
        {"extent()": "mol"},
        (
            "the extent of reaction cannot be derived from what is given; missing: the amount of N2 or the amount of "
            "H2 or the amount of NH3 (theoretical)"
        ),
    ),
    (
        {"equation": AMMONIA, "product": "NH3"},
        ["mass(N2)"],
        {"percent_yield(NH3)": "%", "mass(He)": "g"},
        (
            "the percent yield of NH3 cannot be derived from what is given; missing: the mass of NH3 (actual)\n"
            "the mass of He cannot be derived from what is given; no law leads to it"
        ),
    ),
]

NEUTRAL = "C2H4O2 + NaOH -> C2H3NaO2 + H2O"
ACID, BASE = ([f"volume({of},solution)", f"concentration({of})"] for of in ("C2H4O2", "NaOH"))
LACKS_ACID = "cannot be told from the equation; missing: the amount of C2H4O2"
LACKS_BASE = "cannot be told from the equation; missing: the amount of NaOH"

REFUSED += [
    ({"equation": NEUTRAL}, BASE, {"amount(NaOH,left)": "mol"}, f"the amount of NaOH (left) {LACKS_ACID}"),
    ({"equation": NEUTRAL}, BASE, {"mass(NaOH,left)": "g"}, f"the mass of NaOH (left) {LACKS_ACID}"),
    ({"equation": NEUTRAL}, BASE, {"excess(NaOH)": "%"}, f"the percent excess of NaOH {LACKS_ACID}"),
    ({"equation": NEUTRAL}, [*BASE, ACID[0]], {"excess(NaOH)": "%"}, f"the percent excess of NaOH {LACKS_ACID}"),
    ({"equation": NEUTRAL}, BASE, {"equivalents(NaOH)": "1"}, f"the equivalents of NaOH {LACKS_ACID}"),
    ({"equation": NEUTRAL}, ACID, {"excess(NaOH)": "%"}, f"the percent excess of NaOH {LACKS_BASE}"),
    ({"equation": NEUTRAL}, [*ACID, BASE[0]], {"excess(NaOH)": "%"}, f"the percent excess of NaOH {LACKS_BASE}"),
    ({"equation": NEUTRAL}, ACID, {"mass(NaOH,left)": "g"}, f"the mass of NaOH (left) {LACKS_BASE}"),
    (
        {"equation": NEUTRAL, "in_excess": ["NaOH"]},
        ACID,
        {"excess(NaOH)": "%"},
        f"the percent excess of NaOH {LACKS_BASE}",
    ),
]
"""What reacts of a reagent, by the equation, was once compared with itself: the excess was 0, whatever was taken."""


def test_an_excess_is_told_where_another_reagent_or_the_product_tells_what_is_needed(problems: Any) -> None:
    both = {f"volume({of},solution)": f"{volume} mL" for of, volume in (("C2H4O2", "25.00"), ("NaOH", "30.00"))}
    both |= {"concentration(C2H4O2)": "0.1000 mol/L", "concentration(NaOH)": "0.1000 mol/L"}
    by_product = {"amount(NaOH)": "3.000 mmol", "amount(C2H3NaO2,theoretical)": "2.500 mmol"}
    for given, about in ((both, {}), (by_product, {"in_excess": ["NaOH"]})):
        plan = problems.plan(given, {"excess(NaOH)": "%"}, NEUTRAL, **about)
        assert problems.answers(plan, given)["excess(NaOH)"] == 20


@pytest.mark.parametrize(("about", "given", "asked", "message"), REFUSED)
def test_what_cannot_be_derived_is_refused_with_what_is_missing(
    problems: Any, about: dict[str, Any], given: list[str], asked: dict[str, str], message: str
) -> None:
    with pytest.raises(UnderivableError) as caught:
        problems.plan(given, asked, **about)
    assert str(caught.value) == message


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (Quantity("density", "H2O"), "the density of H2O"),
        (Quantity("mass", "H2O", Role.LEFT), "the mass of H2O (left)"),
        (Quantity("extent", ""), "the extent of reaction"),
        (Quantity("volume", "", Role.MIXED), "the volume (mixed)"),
        (Quantity("mass", "unknown"), "the mass of unknown"),
    ],
)
def test_a_quantity_in_words(problems: Any, quantity: Quantity, words: str) -> None:
    assert describe(problems.scene((), others=["H2O"]), quantity) == words
