from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.errors import NoRoomError
from problemgen.make.admissible import RULES
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.refusal import ADVICE, no_room
from problemgen.make.variants import Maker, variant_from
from problemgen.model.truths import ChoiceTruth, NumberTruth
from problemgen.model.variant import Rejections, Variant
from tests.support.worked_values import exact_values

STREAM = Stream(b"a published secret", "variants", "1")
STUDENTS = [f"s{number}" for number in range(60)]

HOPELESS = """
reaction = "isopentyl-acetate"
[given.isopentyl-alcohol]
volume = { from = 170.0, to = 200.0, unit = "mL", step = 0.1 }
[[part]]
quantity = "mass"
of = "product"
unit = "g"
"""
"""The largest flask of the reaction holds 250 mL, two thirds of which are 167 mL."""

FEW = """
[given.acetic-anhydride]
volume = { choose = [2.50, 5.00, 7.50], unit = "mL" }
density = { value = 1.082, unit = "g/mL" }
[[part]]
quantity = "mass"
of = "acetic-anhydride"
unit = "g"
"""


def numbers(variant: Variant) -> tuple[tuple[str, str], ...]:
    return tuple((name, datum.written.text) for name, datum in sorted(variant.given.items()))


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "solutions/dilution", "preparations/triphenylmethanol"])
def test_a_variant_a_student_in_order_and_no_two_alike(bench: Any, name: str) -> None:
    variants = list(Maker(bench.shipped(name), STREAM).variants(STUDENTS))
    assert [variant.student for variant in variants] == STUDENTS
    assert {variant.problem for variant in variants} == {"1"}
    assert len({numbers(variant) for variant in variants}) == len(STUDENTS)


def test_a_later_class_gets_none_of_the_earlier_variants(bench: Any) -> None:
    maker = Maker(bench.template(FEW), STREAM)
    one, two = list(maker.variants(["a"])), list(maker.variants(["b", "c"]))
    assert len({numbers(variant) for variant in one + two}) == 3


def test_a_variant_is_the_student_s_own_in_any_class(bench: Any) -> None:
    """With room enough, who else is in the class changes nothing."""
    template = bench.shipped("yield/zinc-iodide")
    together = {variant.student: variant for variant in Maker(template, STREAM).variants(STUDENTS)}
    for student in ("s0", "s7", "s59"):
        (alone,) = Maker(template, STREAM).variants([student])
        assert alone == together[student]


def test_the_values_of_a_variant_are_exact_and_follow_from_what_is_printed(bench: Any) -> None:
    for variant in Maker(bench.shipped("yield/zinc-iodide"), STREAM).variants(STUDENTS[:10]):
        given = {n: read_unit(d.unit).to_engine(d.written.value) for n, d in variant.given.items()}
        assert dict(variant.values) == exact_values(variant.template.plan, given)
        for part, answer in zip(variant.template.parts, variant.answers, strict=True):
            if isinstance(answer, NumberTruth):
                value = read_unit(part.asked.unit).from_engine(variant.values[part.asked.quantity.id])
                assert answer.low <= answer.value == value <= answer.high


def test_a_choice_is_answered_with_the_reagent_of_the_least_extent(bench: Any) -> None:
    """Sulfanilic acid, 2-naphthol and nitrite react one to one, so that the least amount limits."""
    chosen = set()
    for variant in Maker(bench.shipped("preparations/orange-ii"), STREAM).variants(STUDENTS):
        amounts = {
            name: variant.values[f"amount({name})"] for name in ("sulfanilic-acid", "2-naphthol", "sodium-nitrite")
        }
        (choice,) = [answer.choice for answer in variant.answers if isinstance(answer, ChoiceTruth)]
        assert choice == min(amounts, key=lambda name: amounts[name])
        chosen.add(choice)
    assert len(chosen) > 1


def test_the_flask_is_the_smallest_that_the_liquids_fill_to_two_thirds(bench: Any) -> None:
    template = bench.shipped("preparations/isopentyl-acetate")
    assert [flask.text for flask in template.reaction.flasks] == ["50", "100", "250"]
    for variant in Maker(template, STREAM).variants(STUDENTS):
        names = ("volume(isopentyl-alcohol)", "volume(acetic-acid)")
        millilitres = sum(variant.given[name].written.value for name in names)
        assert variant.flask == next(Fraction(f) for f in (50, 100, 250) if millilitres <= Fraction(2 * f, 3))


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("preparations/aspirin", False),  # 5 mL at most, in 25 mL
        ("preparations/dibenzylidenecyclohexanone", False),  # 6 mL, in 50 mL
        ("preparations/triphenylmethanol", True),  # 12 to 16 mL, in 50 mL
        ("preparations/methyl-salicylate", True),  # 10 mL and more, in 50 mL
    ],
)
def test_of_a_flask_that_is_nearly_empty_nothing_is_told(bench: Any, name: str, *, told: bool) -> None:
    variants = Maker(bench.shipped(name), STREAM).variants(STUDENTS)
    assert {variant.flask is not None for variant in variants} == {told}


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "solutions/dilution"])
def test_where_no_liquid_goes_into_a_flask_none_is_told(bench: Any, name: str) -> None:
    (variant,) = Maker(bench.shipped(name), STREAM).variants(["s1"])
    assert variant.flask is None


def test_what_was_turned_away_is_counted(bench: Any) -> None:
    maker = Maker(bench.shipped("yield/zinc-iodide"), STREAM)
    assert maker.rejections == Rejections(0, dict.fromkeys(RULES, 0))
    list(maker.variants(STUDENTS))
    rejections = maker.rejections
    assert tuple(rejections.by_rule) == RULES
    assert rejections.by_rule["mistake"] > 0
    assert len(STUDENTS) <= rejections.admitted < rejections.candidates


def test_a_variant_can_be_made_from_any_candidate(bench: Any) -> None:
    template = bench.template(FEW)
    candidates = draw_candidates(template, STREAM, ["s1"], 0, 4)
    variant = variant_from(template, candidates, 2, "s1", "1")
    assert variant.given["volume(acetic-anhydride)"] == candidates.datum(template, "volume(acetic-anhydride)", 2)
    assert variant.figures["mass(acetic-anhydride)"] == 3


def test_a_template_without_hope_is_refused_with_the_rule_and_what_to_widen(bench: Any) -> None:
    maker = Maker(bench.template(HOPELESS, "hopeless"), STREAM)
    with pytest.raises(NoRoomError) as caught:
        list(maker.variants(["s1"]))
    assert str(caught.value) == (
        "hopeless: no admissible variant for 1 student among 1280 candidates; 0 were admissible, fewer than needed.\n"
        f"  rule 'flask' turned away 100 %: {ADVICE['flask']}"
    )


def test_too_few_variants_for_a_class_are_refused(bench: Any) -> None:
    maker = Maker(bench.template(FEW, "few"), STREAM)
    with pytest.raises(NoRoomError) as caught:
        list(maker.variants(["s1", "s2", "s3", "s4", "s5"]))
    first, *rest = str(caught.value).splitlines()
    assert first.startswith("few: no admissible variant for 2 students among ")
    assert first.endswith(" were admissible, fewer than needed.")
    assert rest == []


def test_the_refusal_names_the_rules_in_the_order_of_their_shares(bench: Any) -> None:
    template = bench.template(FEW, "told")
    by_rule = {"flask": 0, "limiting": 20, "conditioning": 30, "coincidence": 0, "mistake": 149}
    rejections = Rejections(200, by_rule, {"least-mass-taken:extent()": 120, "pairs of mistakes": 28, "rare": 1})
    assert no_room(template, rejections, 3) == (
        "told: no admissible variant for 3 students among 200 candidates; 1 were admissible, fewer than needed.\n"
        f"  rule 'mistake' turned away 74 %: {ADVICE['mistake']}\n"
        "    'least-mass-taken:extent()' would be hidden in 60%\n"
        "    'pairs of mistakes' would be hidden in 14%\n"
        f"  rule 'conditioning' turned away 15 %: {ADVICE['conditioning']}\n"
        f"  rule 'limiting' turned away 10 %: {ADVICE['limiting']}"
    )


def test_every_rule_has_advice() -> None:
    assert tuple(ADVICE) == RULES


TO_BALANCE = 'reaction = "propane-combustion"\n[[part]]\nquantity = "balanced_equation"\n'


def test_an_equation_to_balance_is_the_same_for_everybody(bench: Any) -> None:
    template = bench.template(TO_BALANCE, "propane")
    maker = Maker(template, STREAM)
    variants = list(maker.variants(["s1", "s2", "s3"]))
    assert not template.is_drawn
    assert [one.student for one in variants] == ["s1", "s2", "s3"]
    assert {one.answers[0].text for one in variants} == {"C3H8 + 5 O2 -> 3 CO2 + 4 H2O"}
    assert (maker.rejections.candidates, maker.rejections.admitted) == (3, 3)


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "titrations/borax", "formulas/percent"])
def test_practice_numbers_are_never_those_of_a_graded_variant(bench: Any, name: str) -> None:
    template, secret = bench.shipped(name), b"one secret for all"
    graded = {
        numbers(variant)
        for set_id in ("week 1", "week 2", "practice")
        for variant in Maker(template, Stream(secret, set_id, "p1")).variants([f"s{number}" for number in range(400)])
    }
    practice = {
        numbers(variant) for variant in Maker(template, Stream(secret, "practice", "p1", "practice")).variants(STUDENTS)
    }
    assert len(practice) == len(STUDENTS)
    assert practice.isdisjoint(graded)


def test_where_students_bring_the_numbers_everybody_has_the_same_example(bench: Any) -> None:
    maker = Maker(bench.shipped("yield/zinc-iodide"), STREAM, for_all=True)
    variants = list(maker.variants(STUDENTS[:5]))
    assert [variant.student for variant in variants] == STUDENTS[:5]
    assert len({str(sorted(variant.given.items())) for variant in variants}) == 1
    (again,) = Maker(bench.shipped("yield/zinc-iodide"), STREAM, for_all=True).variants(["another"])
    assert again.given == variants[0].given
    assert maker.rejections.admitted >= 1
