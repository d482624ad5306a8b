"""Whole templates: what is loaded, and what an author is told when a part cannot be derived."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.errors import Fault, FaultsError
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.template import check_drawn, load_template
from problemgen.model.banks import Banks
from problemgen.model.template import Template
from tests.load.conftest import HEAD
from tests.support.every_row import for_every
from tests.support.shipped import NAMES, shipped

ROOT = Path(__file__).parents[3]
SILVER = """[given.silver-nitrate]
volume = { from = 25.00, to = 30.00, unit = "mL", read = "burette-50" }
concentration = { value = 0.1000, unit = "mol/L" }
"""
CHROMATE = """[given.potassium-chromate]
mass = { from = 0.300, to = 0.500, unit = "g", step = 0.001 }
"""
REACTION = 'reaction = "silver-chromate"\n'
MASS = '[[part]]\nquantity = "mass"\n'

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]


def part(quantity: str, *more: str) -> str:
    return "\n".join(["[[part]]", f'quantity = "{quantity}"', *more, ""])


@pytest.mark.parametrize(
    ("parts", "expected"),
    [
        (
            part("percent_yield"),
            (
                "the percent yield of silver chromate cannot be derived from what is given; missing: the mass of "
                "silver chromate (actual)"
            ),
        ),
        (
            part("mass", 'of = "potassium-chromate"', 'role = "left"'),
            (
                "the mass of potassium chromate (left) cannot be told from the equation; missing: the amount of "
                "potassium chromate"
            ),
        ),
        (
            part("limiting_reagent"),
            "the limiting reagent cannot be told; missing: the amounts of two reagents or more",
        ),
    ],
)
def test_a_part_that_cannot_be_derived_says_what_is_missing(faults_of: FaultsOf, parts: str, expected: str) -> None:
    line = f"t.toml: part: found {expected}; expected parts that follow from what is given"
    assert faults_of(REACTION + SILVER + MASS + parts) == [line]


def test_all_parts_that_cannot_be_derived_come_at_once(faults_of: FaultsOf) -> None:
    found = faults_of(REACTION + SILVER + part("percent_yield") + part("limiting_reagent"))
    assert [line.split(": ")[1] for line in found] == ["part", "part"]
    assert len(found) == 2


def test_a_drawn_value_that_no_part_needs_is_refused(faults_of: FaultsOf) -> None:
    water = '[given.potassium-nitrate]\nmass = { from = 1.00, to = 2.00, unit = "g", step = 0.01 }\n'
    assert faults_of(REACTION + SILVER + water + MASS) == [
        (
            "t.toml: given.potassium-nitrate: found mass(potassium-nitrate,theoretical), which no part needs; "
            "expected a part that needs it"
        )
    ]


def test_an_unknown_reaction_gets_the_nearest_one(faults_of: FaultsOf) -> None:
    assert faults_of('reaction = "silver-cromate"\n' + SILVER + MASS) == [
        (
            "t.toml: reaction: found 'silver-cromate'; expected an id in banks/reactions.toml. "
            "Did you mean 'silver-chromate'?"
        )
    ]


def test_a_value_cites_one_of_the_banks_sources(faults_of: FaultsOf) -> None:
    cited = SILVER.replace('unit = "mol/L"', 'unit = "mol/L", source = "from-memry: the label"')
    assert faults_of(REACTION + cited + MASS) == [
        (
            "t.toml: given.silver-nitrate.concentration.source: found 'from-memry'; expected a key of "
            "banks/sources.toml. Did you mean 'from-memory'?"
        )
    ]


def test_a_substance_outside_the_equation_is_refused(faults_of: FaultsOf) -> None:
    salt = '[given.sodium-chloride]\nmass = { from = 1.00, to = 2.00, unit = "g", step = 0.01 }\n'
    assert faults_of(REACTION + SILVER + salt + MASS) == [
        (
            "t.toml: given.sodium-chloride: found a substance outside the equation; expected one of silver-nitrate, "
            "potassium-chromate, silver-chromate, potassium-nitrate"
        )
    ]


def test_a_hydrate_of_another_substance_is_refused(faults_of: FaultsOf) -> None:
    soda = '[given.sodium-carbonate]\nmass = { value = 1.00, unit = "g" }\n'
    text = soda + 'weighed_as = "copper-ii-sulfate-pentahydrate"\n' + part("amount", 'of = "sodium-carbonate"')
    (fault,) = faults_of(text)
    assert fault.startswith(
        "t.toml: given.sodium-carbonate.weighed_as: found 'copper-ii-sulfate-pentahydrate'; "
        "expected a hydrate of sodium-carbonate: sodium-carbonate-"
    )


@pytest.mark.parametrize("story", ["{{ mass", "{% if %}", "{% for x in y %}"])
def test_prose_that_cannot_be_read_is_refused(faults_of: FaultsOf, story: str) -> None:
    (fault,) = faults_of(f'story = "{story}"\n' + REACTION + SILVER + MASS)
    assert fault.startswith("t.toml: story: found line 1: ")
    assert fault.endswith("Only placeholders for given values are filled in; loops, conditions and sums are not.")


def test_a_story_can_be_that_of_the_template_beside(template: Load, written: Callable[[str, str], Path]) -> None:
    written("beside.toml", HEAD + 'story = "Two solutions meet."\n' + REACTION + SILVER + MASS)
    assert template('story_as_in = "beside"\n' + REACTION + SILVER + MASS).story == "Two solutions meet."


@pytest.mark.parametrize(
    ("beside", "own", "expected"),
    [
        ("", "", "found 'beside'; expected the name of a template in the same folder"),
        (REACTION, "", "found 'beside', which has no story; expected a template with a story of its own"),
        ('story = "Two meet."\n' + REACTION, 'story = "One."\n', "found a story as well; expected one of the two"),
    ],
)
def test_a_story_that_is_not_there_is_a_fault(
    faults_of: FaultsOf, written: Callable[[str, str], Path], beside: str, own: str, expected: str
) -> None:
    if beside:
        written("beside.toml", HEAD + beside + SILVER + MASS)
    text = f'story_as_in = "beside"\n{own}{REACTION}{SILVER}{MASS}'
    assert faults_of(text) == [f"t.toml: story_as_in: {expected}"]


def test_an_impure_sample_has_a_name(template: Load) -> None:
    text = SILVER.replace("volume = {", 'called = "the old bottle"\nvolume = {')
    assert template(REACTION + text + MASS).samples == {"silver-nitrate": "the old bottle"}
    assert template(REACTION + SILVER + MASS).samples == {}


def test_faults_of_equation_prose_and_parts_come_together(faults_of: FaultsOf) -> None:
    salt = '[given.sodium-chloride]\nmass = { from = 1.00, to = 2.00, unit = "g", step = 0.01 }\n'
    text = 'story = "{{"\n' + REACTION + SILVER + salt + part("masss")
    assert [line.split(": ")[1] for line in faults_of(text)] == ["given.sodium-chloride", "part.1.quantity", "story"]


def test_a_reagent_in_excess_never_competes(template: Load) -> None:
    loaded = template(REACTION + SILVER + CHROMATE + "in_excess = true\n" + MASS)
    assert loaded.plan.sources == ("silver-nitrate",)
    assert {draw.quantity.of for draw in loaded.draws} == {"silver-nitrate", "potassium-chromate"}


def test_each_species_knows_its_session(template: Load) -> None:
    path = ROOT / "templates" / "preparations" / "triphenylmethanol.toml"
    loaded = template(path.read_text(encoding="utf-8").partition("difficulty = 4\n")[2])
    assert loaded.session_of["hydrogen-chloride"] == 2
    assert loaded.session_of["magnesium"] == 1
    assert loaded.sessions == 2
    assert {part.session for part in loaded.parts_of(2)} == {2}


def _undrawn(template: Template) -> tuple[Fault, ...]:
    log = FaultLog("t.toml")
    check_drawn(log, template)
    return log.faults


def test_a_template_without_draws_can_be_solved_but_not_handed_out(template: Load) -> None:
    fixed = template('[given.glucose]\nmass = { value = 9.00, unit = "g" }\n' + part("amount"))
    (fault,) = _undrawn(fixed)
    assert str(fault) == (
        "t.toml: given: found no value that is drawn; expected a value with a range or a choice, so that every "
        "student gets numbers of their own"
    )
    assert _undrawn(template(REACTION + SILVER + MASS)) == ()


@for_every(NAMES)
def test_every_shipped_template_loads_without_a_fault(name: str) -> None:
    loaded = shipped(name)
    assert loaded.id == name
    assert loaded.parts
    assert _undrawn(loaded) == ()
    assert all(part.asked in loaded.plan.asked for part in loaded.parts)


def test_a_missing_template_is_a_fault(banks: Banks, tmp_path: Path) -> None:
    with pytest.raises(FaultsError, match="no such file or directory; expected a readable TOML file"):
        load_template(tmp_path / "none.toml", "none", banks)
