"""The limiting reagent in a table and in words; any other least or greatest."""

from __future__ import annotations

from fractions import Fraction

import pytest

from problemgen.chemistry.formula import read_formula
from problemgen.model.blocks import Paragraph, Prose, Strong, Symbol, Table
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity
from problemgen.render.worked.comparison import allowances, choice_blocks, comparison_blocks, limiting_name
from problemgen.render.worked.lines import Lines
from problemgen.render.worked.printed import Numbers, Printed
from problemgen.render.worked.routes import Route

SODIUM, CHLORINE = Quantity("amount", "sodium"), Quantity("amount", "chlorine")
XI_SODIUM, XI_CHLORINE, XI = Quantity("extent", "sodium"), Quantity("extent", "chlorine"), Quantity("extent", "")
STEPS = (
    Step(XI_SODIUM, "extent", "xi", ("div", SODIUM.id, ("num", "2")), "figures"),
    Step(XI_CHLORINE, "extent", "xi", CHLORINE.id, "none"),
    Step(XI, "limiting", "xi", ("min", XI_SODIUM.id, XI_CHLORINE.id), "none"),
)


def route(method: Method) -> Route:
    species = {
        "sodium": Species("sodium", "sodium", read_formula("Na"), -2),
        "chlorine": Species("chlorine", "chlorine", read_formula("Cl2"), -1),
    }
    values = {SODIUM.id: "0.5", CHLORINE.id: "0.3", XI_SODIUM.id: "0.25", XI_CHLORINE.id: "0.3", XI.id: "0.25"}
    data = {SODIUM.id: ("500", "mmol"), CHLORINE.id: ("300", "mmol")}
    numbers = Numbers({k: Fraction(v) for k, v in values.items()}, data, dict.fromkeys(values, 3), {})
    plan = Plan((SODIUM, CHLORINE), (), STEPS, (Asked(XI, "mol", form="species"),), ("sodium", "chlorine"))
    return Route(Printed(Scene(species, frozenset(), {}), plan, numbers), method)


def test_the_table_shows_what_is_compared() -> None:
    way = route("product")
    table, words = comparison_blocks(Lines(way.printed), way, STEPS[2], set())
    assert isinstance(table, Table)
    assert table.rows == (
        ((Prose("Sodium"),), (Prose("0.500"),), (Prose("2"),), (Prose("0.2500"),)),
        ((Prose("Chlorine"),), (Prose("0.300"),), (Prose("1"),), (Prose("0.3000"),)),
    )
    sentence = Prose("Sodium would allow 0.2500 mol of reaction and chlorine 0.3000 mol: the smallest is 0.2500 mol. ")
    assert words == Paragraph((sentence, Strong("Sodium"), Prose(" is the limiting reagent.")))


def test_by_extents_the_words_suffice() -> None:
    way = route("extent")
    assert len(comparison_blocks(Lines(way.printed), way, STEPS[2], set())) == 1
    assert [one.value for one in allowances(way, STEPS[2], set())] == [Fraction("0.25"), Fraction("0.3")]
    assert limiting_name(way, STEPS[2]) == "sodium"


@pytest.mark.parametrize(("most", "chosen", "words"), [(False, "b", "smallest"), (True, "a", "largest")])
def test_any_least_or_greatest(most: bool, chosen: str, words: str) -> None:
    pairs = ((SODIUM.id, "a"), (CHLORINE.id, "b"))
    (table, paragraph), expression = choice_blocks(Lines(route("product").printed), pairs, XI, most=most)
    assert expression == chosen
    assert isinstance(table, Table)
    assert table.rows[0] == ((Symbol("n", "Na"),), (Prose("500.0 mmol"),))
    assert paragraph == Paragraph((Prose(f"The {words} of these counts."),))
