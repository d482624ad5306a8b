"""Templates written for reactions: a check finds nothing, and a set with them builds."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.errors import FaultsError, OutputError
from problemgen.load.sets.courses import course_of
from problemgen.pipeline.adding.drafts import Draft, draft_of
from problemgen.pipeline.adding.facts import SubstanceWishes
from problemgen.pipeline.adding.measures import measures_of
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.reactions import ReactionWishes, add_reaction
from problemgen.pipeline.adding.substances import add_substance
from problemgen.pipeline.adding.templates import add_template
from problemgen.pipeline.check import check
from tests.support.every_row import for_every
from tests.support.small_set import banks

SHIPPED = ("isopentyl-acetate", "aspirin", "salen", "benzhydrol", "tin-iv-iodide", "cyclohexanone", "triphenylmethanol")

OWN = (
    "propan-1-ol + propanoic acid -> propyl propanoate + water",
    "2 4-methoxybenzaldehyde + acetone -> dianisalacetone + 2 water",
    (
        "chromium(III) chloride hexahydrate + 3 acetylacetone + 3 ammonia -> chromium(III) acetylacetonate"
        " + 3 ammonium chloride + 6 water"
    ),
    "methylmagnesium bromide + benzophenone + HCl -> 1,1-diphenylethanol + magnesium bromide chloride",
)


@pytest.mark.parametrize("name", SHIPPED)
def test_a_check_finds_nothing_in_a_template_of_a_reaction_of_ours(draft: Draft, name: str) -> None:
    found = add_template(draft, name, "")
    assert (found.faults, found.remarks) == ((), ())


def test_own_reactions_go_through_to_the_sheets(draft: Draft, course: Path, tmp_path: Path) -> None:
    wishes = SubstanceWishes(concentration="3.0", solvent="tetrahydrofuran")
    draft = add_substance(draft, "methylmagnesium bromide", wishes, proposal).draft
    for text in OWN:
        reaction = add_reaction(draft, text, ReactionWishes(), proposal)
        added = add_template(reaction.draft, reaction.id, "week-1")
        assert (added.faults, added.remarks) == ((), ())
        draft = added.draft
    draft.write()
    report = check([course], lambda *_: None)
    assert (report.faults, report.remarks, report.templates) == ((), (), len(OWN))
    assert main(["build", str(course / "sets" / "week-1"), "--out", str(tmp_path / "out"), "--quiet"]) == 0
    assert (tmp_path / "out" / "sheets" / "a01.pdf").is_file()


def test_the_file_says_what_a_student_meets(draft: Draft) -> None:
    wishes = SubstanceWishes(concentration="1.8", solvent="dibutyl ether")
    draft = add_substance(draft, "phenyllithium", wishes, proposal).draft
    text = "phenyllithium + benzophenone + HCl -> triphenylmethanol + lithium chloride"
    found = add_template(add_reaction(draft, text, ReactionWishes(), proposal).draft, "triphenylmethanol-2", "")
    lines = found.draft.text("templates/preparations/triphenylmethanol-2.toml").splitlines()
    assert lines[:6] == [
        'title = "Triphenylmethanol"',
        'topic = "preparations"',
        "difficulty = 3",
        (
            'trains = "amounts as a solution and by mass, what each could give, the limiting reagent, theoretical '
            'yield before the session, percent yield after it"'
        ),
        'reaction = "triphenylmethanol-2"',
        (
            'story = "Phenyllithium, benzophenone and hydrogen chloride give triphenylmethanol. In the second session '
            'the product is\\nweighed dry."'
        ),
    ]
    assert 'bottle = "phenyllithium-1.8-in-dibutyl-ether"' in lines
    assert 'concentration = {choose = [1.75, 1.80, 1.85], unit = "mol/L"}' in lines
    assert lines[lines.index("[given.hydrogen-chloride]") + 1] == "in_excess = true"
    assert found.told == (
        "Written to templates/preparations/triphenylmethanol-2.toml.",
        "To use it, add to the set.toml of a set:",
        "  [[problem]]",
        '  template = "preparations/triphenylmethanol-2"',
        "and a sheet for the second session, where it has none:",
        "  [[sheet]]",
        "  session = 2",
        '  title = "After the session"',
    )


@for_every([one.id for one in banks().reactions.values() if one.purpose == "laboratory"])
def test_every_reagent_of_ours_is_measured_on_glassware_that_holds_it(name: str) -> None:
    for one in measures_of(banks().reactions[name], banks(), 10.0, (0.75, 1.35)):
        for key in ("mass", "volume"):
            value = one.values.get(key)
            if value is not None and "read" in value:
                glass = banks().glassware[value["read"]]
                assert 0 < value["from"] < value["to"] <= glass.capacity.value
                assert (Fraction(value["from"]) / glass.step.value).denominator == 1


def test_a_set_gets_one_sheet_for_the_second_session(draft: Draft) -> None:
    once = add_template(draft, "salen", "week-1")
    assert once.told[-1] == "Added to sets/week-1/set.toml as its last problem, with a sheet for the second session."
    twice = add_template(once.draft, "aspirin", "sets/week-1")
    assert twice.told[-1] == "Added to sets/week-1/set.toml as its last problem."
    assert twice.draft.text("sets/week-1/set.toml").count("session = 2") == 1


def test_a_reaction_goes_by_its_product_too(draft: Draft) -> None:
    assert add_template(draft, "acetylsalicylic acid", "").id == "preparations/aspirin-own"


@pytest.mark.parametrize(
    ("name", "into", "fault"),
    [
        ("asprin", "", "add: reaction: found 'asprin'; expected the id of a reaction, or its product. Did you mean"),
        ("carbon dioxide", "", "expected the id of a reaction, or its product. One of "),
        ("aspirin", "first-week", "add: set: found 'first-week'; expected a set of the course. "),
    ],
)  # fmt: skip
def test_what_there_is_not_is_told(draft: Draft, name: str, into: str, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        add_template(draft, name, into)
    assert fault in str(caught.value)


def test_a_template_that_is_there_is_left_alone(draft: Draft, course: Path) -> None:
    add_template(draft, "salen", "").draft.write()
    again = draft_of(course_of(course), course)
    second = add_template(again, "salen", "")
    assert second.id == "preparations/salen-own"
    second.draft.write()
    with pytest.raises(OutputError, match=r"salen-own.toml is there already; nothing was written. Change it"):
        add_template(draft_of(course_of(course), course), "salen", "")
