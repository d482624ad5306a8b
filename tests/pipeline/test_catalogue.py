from __future__ import annotations

from itertools import groupby
from pathlib import Path

import pytest

from problemgen.chemistry.equation import check_balanced, read_equation
from problemgen.load.banks.banks import load_banks
from problemgen.load.sets.courses import template_ids
from problemgen.pipeline.catalogue import reactions, substances, templates

ROOT = Path(__file__).parents[2]


def test_all_templates_stand_by_topic_and_the_sets_last() -> None:
    rows = list(templates(()))
    kinds = [kind for kind, _ in groupby("sets" if row[0] == "sets" else "template" for row in rows)]
    assert kinds == ["template", "sets"]
    shown = [row for row in rows if row[0] != "sets"]
    assert shown == sorted(shown)
    assert {row[1] for row in shown} == set(template_ids(ROOT / "templates"))


def test_a_template_is_shown_with_its_level_and_title() -> None:
    assert next(iter(templates(["propane"]))) == (
        "equations and mole ratios",
        "equations/propane-burns",
        "1",
        "Propane burns",
    )


def test_a_set_is_shown_with_the_number_of_its_problems() -> None:
    found = [row for row in templates(["formulas from analyses"]) if row[0] == "sets"]
    assert found == [
        ("sets", "sets/general-3-formulas", "4", "General Chemistry 1: Stoichiometry: Formulas from analyses")
    ]


@pytest.mark.parametrize(
    ("words", "name"),
    [
        (("silver", "chromate"), "limiting-reagent/silver-chromate"),  # several words, all of them
        (("FLUORESCEIN",), "yield/fluorescein"),  # whatever the case
        (("h2so4-naoh",), "titrations/sulfuric-acid"),  # the reaction
        (("brackets",), "amounts/three-weighings"),  # what it trains
    ],
)
def test_a_template_is_found_by_name_title_topic_what_it_trains_or_reaction(words: tuple[str, ...], name: str) -> None:
    assert name in [row[1] for row in templates(words)]


def test_words_that_fit_nothing_find_nothing() -> None:
    words = ("silver", "no such word")
    assert [list(found(words)) for found in (templates, substances, reactions)] == [[], [], []]


def test_a_substance_is_found_by_formula_number_synonym_or_state() -> None:
    for word in ("C7H6O3", "69-72-7", "salicylic"):
        assert ("salicylic-acid", "salicylic acid", "C7H6O3", "69-72-7") in list(substances([word]))
    banks = load_banks(ROOT / "banks")
    assert len(list(substances(()))) == len(banks.substances)
    synonym = banks.substances["acetic-anhydride"].synonyms[0]
    assert "acetic-anhydride" in [row[0] for row in substances([synonym.upper()])]
    assert {banks.substances[row[0]].state for row in substances(["gas"])} >= {"gas"}


def test_a_reaction_is_shown_with_its_equation_and_found_by_a_substance() -> None:
    assert list(reactions(["haematite"])) == [
        (
            "iron-from-haematite",
            "redox",
            "Fe2O3 + 3 CO -> 2 Fe + 3 CO2",
            "reduction of iron(III) oxide by carbon monoxide",
        )
    ]
    assert "aspirin" in [row[0] for row in reactions(["acetylsalicylic acid"])]


def test_every_equation_shown_is_balanced() -> None:
    shown = list(reactions(()))
    for _, _, equation, _ in shown:
        check_balanced(read_equation(equation))
    assert len(shown) == len(load_banks(ROOT / "banks").reactions)
