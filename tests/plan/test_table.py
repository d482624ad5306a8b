from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Each, Place, by, error, law

ACID = Quantity("mass", "HCl")


def met(declared: Law, scene: Scene) -> list[dict[str, str]]:
    return [dict(one.ids) for one in declared.instances(declared, scene)]


def density(each: Each, **where: str) -> Law:
    letters = {"m": "mass(X)", "V": "volume(X)", "rho": "density(X)"} | where
    return law("d", "D", "m = rho V", where=letters, each=each, says={"m": "So."}, source="made up")


def ids(_: Scene) -> Iterator[str]:
    yield "HCl"


def all_of_them(scene: Scene) -> Iterator[Species]:
    yield from scene.species.values()


def quantities(_: Scene) -> Iterator[Quantity]:
    yield Quantity("amount", "HCl", Role.ACTUAL)


def in_full(_: Scene) -> Iterator[Place]:
    yield Place("HCl", "NaOH", role="left", words={"kind": "amount", "bulk": "solution"})


@pytest.mark.parametrize(
    ("each", "where", "mass"),
    [
        (ids, {}, "mass(HCl)"),
        (all_of_them, {}, "mass(HCl)"),
        (quantities, {"m": "mass(X,*)"}, "mass(HCl,actual)"),
        (in_full, {"m": "mass(Y,*)"}, "mass(NaOH,left)"),
        (in_full, {"m": "{kind}(X,from:Y)"}, "amount(HCl,from:NaOH)"),
        (in_full, {"m": "mass(X,{bulk})"}, "mass(HCl,solution)"),
        (in_full, {"m": "mass(,sample)"}, "mass(,sample)"),
    ],
)
def test_a_place_fills_in_what_a_table_leaves_open(problems: Any, each: Each, where: dict[str, str], mass: str) -> None:
    assert [one["m"] for one in met(density(each, **where), problems.scene((), others=["HCl"]))] == [mass]


@pytest.mark.parametrize("open_", ["mass(Z)", "mass(X,{unsaid})", "{unsaid}(X)"])
def test_a_letter_that_a_place_leaves_empty_is_left_out(problems: Any, open_: str) -> None:
    (bound,) = met(density(in_full, m=open_), problems.scene((), others=["HCl"]))
    assert sorted(bound) == ["V", "rho"]


@pytest.mark.parametrize(
    ("condition", "given", "wanted", "is_met"),
    [
        ("given", ["mass(HCl)"], [], True),
        ("given", [], ["mass(HCl)"], False),
        ("told", ["mass(HCl)"], [], True),
        ("told", [], ["mass(HCl)"], True),
        ("told", [], [], False),
        ("asked", [], ["mass(HCl)"], True),
        ("asked", ["mass(HCl)"], [], False),
    ],
)
def test_a_law_is_met_where_its_condition_holds(
    problems: Any, condition: str, given: list[str], wanted: list[str], is_met: bool
) -> None:
    told: dict[str, Any] = {condition: "m"}
    declared = law("l", "L", "m = n", where={"m": "mass(X)", "n": "amount(X)"}, says={}, source="made up", **told)
    assert bool(met(declared, problems.scene(given, others=["HCl"], wanted=wanted))) is is_met


DIFFERENCE = law(
    "net", "Net", "net = more - less",
    where={"more": "mass(X)", "less": "mass(X,left)", "net": "mass(X,consumed)", "crude": "mass(X,crude)"},
    says={"net := more - less": "Take it away.", "more": "Add them up."}, source="made up",
    errors=[
        error("crude-taken", "net := crude", "the crude one taken", "Which one is pure?"),
        error("added", "net = more + less", "added", "Is it more?", at="net"),
    ],
)  # fmt: skip


def instance(declared: Law, problems: Any) -> Instance:
    (found,) = declared.instances(declared, problems.scene((), others=["HCl"]))
    return found


def test_a_law_with_formulas_is_worked_as_written_and_solved_for_nothing_else(problems: Any) -> None:
    bound = instance(DIFFERENCE, problems)
    assert bound.solution("net") == ("add", "mass(HCl)", ("neg", "mass(HCl,left)"))
    assert bound.solution("more") is None
    assert DIFFERENCE.words == {"net": "Take it away.", "more": "Add them up."}


def test_what_stands_in_no_relation_is_looked_up_and_not_yielded(problems: Any) -> None:
    bound = instance(DIFFERENCE, problems)
    assert set(bound.binding) == {"more", "less", "net"}
    assert bound.error(DIFFERENCE.errors[0], "net") == "mass(HCl,crude)"


def test_an_error_is_made_where_it_says(problems: Any) -> None:
    bound = instance(DIFFERENCE, problems)
    assert bound.error(DIFFERENCE.errors[1], "net") == ("add", "mass(HCl,left)", "mass(HCl)")
    assert bound.error(DIFFERENCE.errors[1], "more") is None


def test_an_error_goes_by_another_relation_in_another_law() -> None:
    other = by(DIFFERENCE.errors[1], "m = 2 V", at="m V")
    assert (other.id, other.title, other.hint) == ("added", "added", "Is it more?")
    assert (other.relation, other.only_for) == ("m = 2 V", {"m", "V"})


@pytest.mark.parametrize(
    ("ratio", "expression"),
    [
        (Fraction(1), "amount(HCl)"),
        (Fraction(3), ("mul", ("num", "3"), "amount(HCl)")),
        (Fraction(1, 2), ("div", "amount(HCl)", ("num", "2"))),
        (Fraction(2, 3), ("div", ("mul", ("num", "2"), "amount(HCl)"), ("num", "3"))),
    ],
)
def test_a_ratio_of_coefficients_is_put_in_as_a_number(problems: Any, ratio: Fraction, expression: object) -> None:
    def places(_: Scene) -> Iterator[Place]:
        yield Place("HCl", values={"ratio": ratio})

    says = {"n := ratio taken": "So.", "back := taken / ratio": "So."}
    where = {"n": "amount(X,left)", "back": "amount(X,crude)", "taken": "amount(X)"}
    bound = instance(law("r", "R", where=where, each=places, says=says, source="made up"), problems)
    assert bound.solution("n") == expression
    assert bound.solution("back") == instance(
        law("r", "R", where=where, each=lambda _: [Place("HCl", values={"ratio": 1 / ratio})], says=says, source="-"),
        problems,
    ).solution("n")


@pytest.mark.parametrize(
    ("where", "says", "message"),
    [
        ({"m": "mas(X)"}, {}, "'mas(X)': no kind of quantity 'mas'"),
        ({"m": "mass(X,obtained)"}, {}, "no role 'obtained'"),
        ({}, {"N": "So."}, "l: sentences about N, where the relation is m = n"),
    ],
)
def test_a_table_that_speaks_of_what_there_is_not_is_refused(
    where: dict[str, str], says: dict[str, str], message: str
) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        law("l", "L", "m = n", where=where, says=says, source="made up")
