"""What is said of a substance that is there: its entry completed, one of ours overlaid, a contradiction refused."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.facts import SubstanceWishes
from problemgen.pipeline.adding.gaps import Gap
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.substances import AddedSubstance, add_substance

OTHER = "Another substance needs a name of its own; a wrong entry of the course is put right in its file."
CODES = "codes of the UN GHS behind Danger or Warning, such as Danger H225 H319"

OWN = """# Ours, of the organic course.

# the aldehyde of week 4
[[substance]]
id = "4-nitrobenzaldehyde"
name = "4-nitrobenzaldehyde" # as its bottle says
formula = "C7H5NO3"
# state = "solid"   # or "liquid" with a density, or "gas", to be filled in

[[substance]]
id = "oil-of-ours"
name = "oil of ours"
formula = "C9H10O"
# Both lines together, when the density is known; until then it is weighed.
# state = "liquid"
# density = { value = 1.000, unit = "g/mL", at = "20 °C" }

[[substance]]
id = "an-alcohol"
name = "an alcohol"
formula = "C3H8O"

# the last one
[[substance]]
id = "resin"
name = "resin"
formula = "C9H8O"
state = "solid"
"""


def added(draft: Draft, text: str, **wishes: str) -> AddedSubstance:
    return add_substance(draft, text, SubstanceWishes(**wishes), proposal)


def listed(found: AddedSubstance, bank: str = "substance") -> dict[str, dict[str, Any]]:
    read = tomllib.loads(found.draft.text(f"banks/{bank}s.toml"), parse_float=Decimal)
    return {one.get("id", one.get("of")): one for one in read.get(bank, ())}


@pytest.fixture
def own(draft: Draft) -> Draft:
    return draft.with_text("banks/substances.toml", OWN)


def test_an_own_entry_is_completed_where_it_stands(own: Draft) -> None:
    found = added(own, "4-nitrobenzaldehyde", smiles="O=Cc1ccc(cc1)[N+](=O)[O-]", state="solid",
                  hazards="Warning H317 H319 H412")  # fmt: skip
    expected = OWN.replace(
        '# state = "solid"   # or "liquid" with a density, or "gas", to be filled in\n',
        'smiles = "O=Cc1ccc(cc1)[N+](=O)[O-]"\nstate = "solid"\n',
    )
    assert found.draft.text("banks/substances.toml") == expected
    assert listed(found, "hazard") == {
        "4-nitrobenzaldehyde": {"of": "4-nitrobenzaldehyde", "signal": "Warning", "codes": ["H317", "H319", "H412"]}
    }
    assert found.told == (
        "4-nitrobenzaldehyde (C7H5NO3) is there already: id 4-nitrobenzaldehyde, found by its id.",
        "  smiles, state: written in its entry in banks/substances.toml.",
        "  hazards: written in an entry of the course in banks/hazards.toml.",
    )
    assert found.left == ()


def test_what_an_own_entry_has_otherwise_is_changed_with_its_comments_kept(own: Draft) -> None:
    once = added(own, "resin", hazards="Warning H315")
    commented = once.draft.with_text(
        "banks/hazards.toml", f"# from the bottle\n{once.draft.text('banks/hazards.toml').rstrip()} # 2026\n"
    )
    found = added(commented, "resin", hazards="Danger H315 H318")
    assert found.draft.text("banks/hazards.toml") == (
        '# from the bottle\n[[hazard]]\nof = "resin"\nsignal = "Danger"\ncodes = ["H315", "H318"] # 2026\n'
    )
    assert found.told[1:] == ("  hazards: written in its entry in banks/hazards.toml.",)


def test_a_liquid_gets_state_and_density_in_the_place_of_their_note(own: Draft) -> None:
    found = added(own, "oil of ours", state="liquid", density="1.032", at="25 °C")
    text = found.draft.text("banks/substances.toml")
    note = OWN[OWN.index("# Both lines") : OWN.index('[[substance]]\nid = "an-alcohol"')]
    assert text == OWN.replace(note, 'density = {value = 1.032, unit = "g/mL", at = "25 °C"}\nstate = "liquid"\n\n')
    assert [one.what for one in found.left] == ["structure", "hazards"]


def test_an_entry_of_ours_is_overlaid_with_its_source(draft: Draft) -> None:
    found = added(draft, "acetone", density="0.788", hazards="Danger H225")
    shipped = draft.banks.substances["acetone"]
    (entry,) = listed(found).values()
    assert entry == {
        "id": "acetone",
        "name": "acetone",
        "synonyms": list(shipped.synonyms),
        "formula": "C3H6O",
        "smiles": shipped.smiles,
        "cas": shipped.cas,
        "state": "liquid",
        "density": {"value": Decimal("0.788"), "unit": "g/mL", "at": "20 °C"},
        "source": "from-memory",
    }
    assert "# In the place of the entry that comes with the program.\n[[substance]]\n" in found.draft.text(
        "banks/substances.toml"
    )
    hazards = found.draft.banks.hazards["acetone"]
    assert (hazards.signal, hazards.codes, hazards.pictograms) == ("Danger", ("H225",), ())
    assert len(found.draft.banks.replaced) == 2
    assert found.told[1:] == (
        "  density: written in an entry of the course in banks/substances.toml.",
        "  hazards: written in an entry of the course in banks/hazards.toml.",
    )


@pytest.mark.parametrize(
    ("text", "wishes"),
    [
        ("acetone", {"formula": "C3H6O", "state": "liquid", "smiles": "O=C(C)C", "name": "propanone"}),
        ("acetone", {"density": "0.790", "at": "20 °C"}),
        ("acetone", {"hazards": "danger H336, H319 H225 EUH066"}),
        ("resin", {"formula": "C9H8O", "state": "solid"}),
    ],
)
def test_what_is_so_already_changes_nothing(own: Draft, text: str, wishes: dict[str, str]) -> None:
    found = added(own, text, **wishes)
    assert found.draft is own
    assert len(found.told) == 1


def test_a_name_that_nobody_has_becomes_a_synonym(draft: Draft) -> None:
    found = added(draft, "dimethyl ketone of ours", name="dimethyl ketone of ours", smiles="CC(C)=O")
    assert found.id == "acetone"
    assert added(found.draft, "dimethyl ketone of ours").id == "acetone"


def test_a_density_makes_a_liquid_of_what_the_tables_have_as_one(draft: Draft) -> None:
    once = added(draft, "2-methylfuran")
    found = added(once.draft, "2-methylfuran", density="0.910")
    assert found.draft.banks.substances["2-methylfuran"].state == "liquid"
    assert "until then" not in found.draft.text("banks/substances.toml")
    assert found.left == (Gap("2-methylfuran", "2-methylfuran", "hazards"),)


@pytest.mark.parametrize(
    ("text", "wishes", "faults"),
    [
        (
            "4-nitrobenzaldehyde",
            {"formula": "C7H7NO3", "smiles": "CCO", "hazards": "Danger H999"},
            [
                ("add: formula: found C7H7NO3; expected C7H5NO3, as the banks have 4-nitrobenzaldehyde. " + OTHER),
                f"add: hazards: found 'H999'; expected {CODES}",
                (
                    "add: smiles: found 'CCO', which is C2H6O; expected a structure of the formula C7H5NO3, as the "
                    "banks have 4-nitrobenzaldehyde"
                ),
            ],
        ),
        (
            "oil of ours",
            {"density": "1.03"},
            [
                (
                    "add: state: found a density without a state; "
                    "expected the state at 25 °C beside it: solid, liquid or gas"
                )
            ],
        ),
        (
            "oil of ours",
            {"state": "liquid"},
            ["add: density: found nothing; expected a density in g/mL beside the state of a liquid"],
        ),
        (
            "resin",
            {"name": "acetone"},
            ["add: name: found 'acetone', a name of 'acetone'; expected a name of 'resin', or a new one"],
        ),
        (
            "an alcohol",
            {"smiles": "CC(C)O"},
            [f"add: smiles: found 'CC(C)O', the structure of 'propan-2-ol'; expected that of 'an-alcohol'. {OTHER}"],
        ),
        (
            "67-63-0",
            {"name": "propan-1-ol"},
            ["add: name: found 'propan-1-ol', which the tables have as CAS 71-23-8; expected a name of 'propan-2-ol'"],
        ),
    ],
)
def test_a_contradiction_is_refused(own: Draft, text: str, wishes: dict[str, str], faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        added(own, text, **wishes)
    assert [str(one) for one in caught.value.faults] == faults


def test_an_entry_in_another_notation_is_not_changed(draft: Draft) -> None:
    inline = draft.with_text(
        "banks/substances.toml", 'substance = [{ id = "resin", name = "resin", formula = "C9H8O" }]\n'
    )
    with pytest.raises(FaultsError) as caught:
        added(inline, "resin", state="solid")
    (fault,) = caught.value.faults
    assert (fault.found, fault.expected) == ("the entry 'resin' in another notation", "entries as tables in [[ ]]")
