"""Two products on paper: their ratio, their names where a formula tells nothing, what readings are good for."""

from __future__ import annotations

import pytest

from problemgen.model.blocks import Note, Paragraph
from problemgen.model.quantity import Quantity, Role
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines
from problemgen.render.sheet.own_data import own_words
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words.given_words import notes_blocks, told_values
from problemgen.render.words.symbols import symbol
from tests.support.own_set import own_set
from tests.support.shipped import shipped, variant_of

RATIO, STANDARD = "two-products/methylcyclohexenes-by-ratio", "two-products/benzalacetones-by-internal-standard"
INTEGRALS = "two-products/methylcyclohexenes-by-nmr"


def sheet(name: str, session: int) -> str:
    return "\n".join(text_lines(problem_blocks(variant_of(name), session)))


def notes(name: str) -> list[str]:
    template = shipped(name)
    return ["".join(text_lines([one])) for one in notes_blocks(template.scene, template.plan) if isinstance(one, Note)]


def test_a_ratio_is_told_in_one_sentence_once_the_products_are_there() -> None:
    given = variant_of(RATIO).given
    one, other = (given[f"relative_amount({n}-methylcyclohexene)"].written.text for n in (1, 3))
    told = f"Product ratio of 1-methylcyclohexene to 3-methylcyclohexene, by amount: {one}\u00a0:\u00a0{other}."
    assert told not in sheet(RATIO, 1)
    assert told in sheet(RATIO, 2)
    assert "relative amount" not in sheet(RATIO, 2)


def test_the_second_number_of_a_ratio_is_told_with_the_first() -> None:
    told = {one.quantity.id: one for one in told_values(shipped(RATIO))}
    assert "relative_amount(3-methylcyclohexene)" not in told
    first = told["relative_amount(1-methylcyclohexene)"]
    assert (first.second and first.second.of, first.session) == ("3-methylcyclohexene", 2)


def test_what_an_instrument_shows_of_the_products_is_told_in_the_last_session() -> None:
    assert "signal of" not in sheet(INTEGRALS, 1)
    assert "integral" in sheet(INTEGRALS, 2)
    assert "signal of 2 H" in sheet(INTEGRALS, 2)


def test_isomers_go_by_their_names_in_symbols() -> None:
    scene = shipped(RATIO).scene
    of = [symbol(scene, Quantity("share", name)).of for name in ("1-methylcyclohexene", "3-methylcyclohexene")]
    assert of == ["1-methylcyclohexene", "3-methylcyclohexene"]
    assert symbol(scene, Quantity("amount", "2-methylcyclohexanol")).of == "C7H14O"
    assert symbol(scene, Quantity("mass", "1-methylcyclohexene", Role.BOTH)).of == ""


def test_the_convention_of_response_factors_stands_on_the_sheet() -> None:
    assert notes(STANDARD) == [
        "In excess: acetone.",
        (
            "The response factor of a substance is the peak area that it gives for each mole, over the peak area that "
            "tetradecane, the internal standard, gives for each mole; that of tetradecane itself is 1."
        ),
        "Peak areas are good for three significant figures at most.",
    ]
    assert notes("two-products/benzalacetones-by-gc")[1].endswith(
        "over the peak area that one and the same standard gives for each mole."
    )
    assert notes(INTEGRALS) == ["Integrals are good for three significant figures at most."]


@pytest.mark.parametrize("name", ["two-products/benzalacetones-by-gc", STANDARD])
def test_the_coefficients_of_the_other_equation_are_worked_with(name: str) -> None:
    """Two of the benzaldehyde make one dibenzalacetone, one makes one benzalacetone."""
    told = "\n".join(text_lines(variant_solution(variant_of(name))))
    assert "× (1 mmol C₁₇H₁₄O / 2 mmol C₇H₆O) =" in told
    assert "× (1 mmol C₁₀H₁₀O / 1 mmol C₇H₆O) =" in told


@pytest.mark.parametrize("method", ["product", "extent", "ratios"])
def test_what_could_form_of_the_other_product_is_the_same_whatever_is_taught(method: str) -> None:
    variant = variant_of("two-products/benzalacetones-by-gc")
    told = "\n".join(text_lines(variant_solution(variant, method)))  # type: ignore[arg-type]  # one of the methods
    (line,) = [line for line in told.splitlines() if line.strip().startswith("n_theoretical(C₁₇H₁₄O) = ")]
    mass = variant.given["mass(benzaldehyde)"]
    assert mass.unit == "g"
    amount = float(mass.written.text) / 106.124 * 1000 / 2  # 7 × 12.011 + 6 × 1.008 + 15.999; two for one
    assert line.endswith(f" = {amount:.3f} mmol")


def test_a_ratio_of_ones_own_has_two_blanks() -> None:
    (problem,) = own_set(RATIO, ("1-methylcyclohexene.ratio",)).problems
    (value,) = problem.own
    words = own_words(shipped(RATIO).scene, value)
    assert words == "product ratio of 1-methylcyclohexene to 3-methylcyclohexene, by amount"


def test_selectivity_is_defined_where_it_is_asked() -> None:
    part = next(block for block in problem_blocks(variant_of(STANDARD), 1) if "selectivity" in str(block))
    assert not isinstance(part, Paragraph)
    assert "the percentage of the converted reagent that became this product" in "".join(text_lines([part]))
