"""Substances added: looked up, typed in, there already."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.facts import SubstanceWishes, hydrate_parts
from problemgen.pipeline.adding.gaps import Gap
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.substances import AddedSubstance, add_substance

CODES = "codes of the UN GHS behind Danger or Warning, such as Danger H225 H319"


def added(draft: Draft, text: str, **wishes: str) -> AddedSubstance:
    return add_substance(draft, text, SubstanceWishes(**wishes), proposal)


def entries(found: AddedSubstance, bank: str = "substance") -> list[dict[str, Any]]:
    text = found.draft.text(f"banks/{bank}s.toml")
    read: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal).get(bank, [])
    return read


def test_a_liquid_is_written_with_what_the_tables_have(draft: Draft) -> None:
    found = added(draft, "propanoic acid")
    assert entries(found) == [
        {
            "id": "propanoic-acid",
            "name": "propanoic acid",
            "synonyms": ["propionic acid"],
            "formula": "C3H6O2",
            "smiles": "CCC(=O)O",
            "cas": "79-09-4",
            "state": "liquid",
            "density": {
                "value": Decimal("0.993"),
                "unit": "g/mL",
                "at": "20 °C",
                "source": "chemicals: Perry's Handbook, DIPPR equation 105",
            },
            "source": "chemicals: name, CAS number, structure, melting and boiling point",
        }
    ]
    assert 'state = "liquid" # melts at −21 °C, boils at 141.5 °C\n' in found.draft.text("banks/substances.toml")
    assert found.told == (
        "propanoic acid: id propanoic-acid",
        "  also        propionic acid",
        "  formula     C3H6O2",
        "  structure   CCC(=O)O (its atoms are those of the formula)",
        "  CAS number  79-09-4",
        "  state       liquid (melts at −21 °C, boils at 141.5 °C)",
        "  density     0.993 g/mL at 20 °C, from Perry's Handbook, DIPPR equation 105",
        "  source      chemicals: name, CAS number, structure, melting and boiling point",
        "  Written to banks/substances.toml.",
    )
    assert found.left == (Gap("propanoic-acid", "propanoic acid", "hazards"),)


def test_a_liquid_without_a_density_is_weighed_until_it_is_filled_in(draft: Draft) -> None:
    found = added(draft, "2-methylfuran")
    (entry,) = entries(found)
    assert not {"state", "density"} & entry.keys()
    assert found.left == tuple(Gap("2-methylfuran", "2-methylfuran", what) for what in ("density", "hazards"))
    filled = (
        found.draft.text("banks/substances.toml").replace("# state =", "state =").replace("# density =", "density =")
    )
    last = filled.rindex("[[substance]]")
    whole = found.draft.with_text("banks/substances.toml", filled[last:])
    assert whole.banks.substances["2-methylfuran"].state == "liquid"


def test_what_is_typed_in_goes_before_the_tables(draft: Draft) -> None:
    found = added(draft, "2-methylfuran", density="0.910", at="25 °C", hazards="danger H225, H302", name="sylvan")
    (entry,) = entries(found)
    assert (entry["id"], entry["density"]["value"], entry["density"]["at"]) == ("sylvan", Decimal("0.910"), "25 °C")
    assert entries(found, "hazard") == [{"of": "sylvan", "signal": "Danger", "codes": ["H225", "H302"]}]
    assert found.left == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("aspirin", "acetylsalicylic acid (C9H8O4) is there already: id acetylsalicylic-acid, found by its synonym."),
        ("64-17-5", "ethanol (C2H6O) is there already: id ethanol, found by its CAS number."),
        ("OCC", "ethanol (C2H6O) is there already: id ethanol, found by its structure."),
        ("ethyl alcohol", "ethanol (C2H6O) is there already: id ethanol, found by its"),
    ],
)
def test_one_that_is_there_is_said_and_nothing_is_added(draft: Draft, text: str, told: str) -> None:
    found = added(draft, text)
    assert found.told[0].startswith(told)
    assert found.draft is draft
    assert found.left == ()


def test_one_that_was_added_is_there(draft: Draft) -> None:
    once = added(draft, "propionic acid")
    for text in ("propanoic acid", "79-09-4", "CCC(O)=O"):
        assert added(once.draft, text).draft is once.draft


def test_a_hydrate_brings_its_anhydrous_salt(draft: Draft) -> None:
    found = added(draft, "nickel(II) nitrate hexahydrate")
    dry, hydrate = entries(found)
    assert (dry["id"], dry["formula"]) == ("nickel-ii-nitrate", "Ni(NO3)2")
    assert (hydrate["formula"], hydrate["hydrate_of"], hydrate["cas"]) == (
        "Ni(NO3)2.6H2O",
        "nickel-ii-nitrate",
        "13478-00-7",
    )


def test_a_hydrate_that_the_tables_have_wrongly_is_written_by_its_name(draft: Draft) -> None:
    without = draft.with_text("banks/substances.toml", "")
    found = added(without, "copper(II) chloride dihydrate")
    assert entries(found)[-1]["formula"] == "CuCl2.2H2O"
    assert found.draft.banks.substances["copper-ii-chloride-dihydrate"].hydrate_of == "copper-ii-chloride"


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("nickel(II) chloride hexahydrate", ("nickel(II) chloride", 6)),
        ("citric acid monohydrate", ("citric acid", 1)),
        ("aluminium sulfate-octadecahydrate", ("aluminium sulfate", 18)),
        ("chloral hydrate", None),
        ("ethanol", None),
    ],
)
def test_waters_are_counted_by_the_name(name: str, parts: tuple[str, int] | None) -> None:
    assert hydrate_parts(name) == parts


def test_a_solution_that_is_sold_is_a_bottle_and_no_pure_substance(draft: Draft) -> None:
    found = added(draft, "phenyllithium", concentration="1.8", solvent="dibutyl ether")
    lithium, ether = entries(found)
    assert (lithium["formula"], "smiles" in lithium, "state" in lithium) == ("C6H5Li", False, False)
    assert ether["id"] == "dibutyl-ether"
    assert entries(found, "bottle") == [
        {
            "id": "phenyllithium-1.8-in-dibutyl-ether",
            "name": "phenyllithium, 1.8 mol/L in dibutyl ether",
            "of": "phenyllithium",
            "concentration": {"value": Decimal("1.8"), "unit": "mol/L"},
            "solvent": "dibutyl-ether",
        }
    ]
    again = added(found.draft, "phenyllithium", concentration="1.8", solvent="dibutyl ether")
    assert again.draft is found.draft
    assert again.told[-1].endswith("is there already: id phenyllithium-1.8-in-dibutyl-ether.")


def test_what_no_table_has_is_its_authors(draft: Draft) -> None:
    found = added(draft, "dianisalacetone", formula="C19H18O3", state="solid")
    assert entries(found) == [
        {"id": "dianisalacetone", "name": "dianisalacetone", "formula": "C19H18O3", "state": "solid"}
    ]
    drawn = added(draft, "my ketone", smiles="CC(=O)CCCC(F)F")
    assert entries(drawn)[0]["formula"] == "C6H10F2O"


@pytest.mark.parametrize(
    ("text", "wishes", "faults"),
    [
        (
            "quux",
            {},
            [
                (
                    "add: found 'quux', which neither the banks nor the tables of the chemicals package have; "
                    "expected a name, a CAS number or a SMILES of a compound. Say what it is: problemgen add "
                    "substance 'quux' --formula C10H12O2, or --smiles."
                )
            ],
        ),
        (
            "FC(F)(F)CCCCCCCBr",
            {},
            [
                (
                    "add: name: found a structure that has no name in the tables; expected `--name`. "
                    "problemgen add substance 'FC(F)(F)CCCCCCCBr' --name NAME"
                )
            ],
        ),
        (
            "x",
            {"formula": "C2", "smiles": "C(", "density": "-1", "state": "plasma", "solvent": "water"},
            [
                "add: density: found '-1'; expected a number above 0, in g/mL, such as 0.910",
                (
                    "add: smiles: found formula 'C(', character 1: no structure can be read from this SMILES; "
                    "expected one that can be read"
                ),
                (
                    "add: solvent: found a solvent without a concentration; expected `--concentration`, in mol/L, "
                    "beside it"
                ),
                "add: state: found 'plasma'; expected one of solid, liquid, gas",
            ],
        ),
        (
            "x",
            {"formula": "C3H8", "smiles": "FCCCCCCCCC"},
            ["add: smiles: found 'FCCCCCCCCC', which is C9H19F; expected a structure of the formula C3H8"],
        ),
        (
            "2-methylfuran",
            {"hazards": "Danger H225 H999 X"},
            [
                f"add: hazards: found 'H999'; expected {CODES}",
                f"add: hazards: found 'X'; expected {CODES}",
            ],
        ),
        (
            "2-methylfuran",
            {"name": "Ethanol"},
            ["add: name: found 'Ethanol', the id of another substance; expected another name"],
        ),
        (
            "2-methylfuran",
            {"name": "水"},
            ["add: name: found '水'; expected a name with letters or figures from a to z"],
        ),
    ],
)
def test_what_cannot_be_is_told_all_at_once(draft: Draft, text: str, wishes: dict[str, str], faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        added(draft, text, **wishes)
    assert [str(one) for one in caught.value.faults] == faults


def test_at_a_terminal_gaps_are_asked_and_slips_asked_again(draft: Draft) -> None:
    asked: list[str] = []
    answers = iter(["0,91", "0.910", "Danger H225"])

    def ask(question: str, _: str) -> str:
        asked.append(question)
        return next(answers)

    found = add_substance(draft, "2-methylfuran", SubstanceWishes(), ask)
    density = "2-methylfuran, C5H6O, 534-22-5: density at 20 °C in g/mL, from its label (empty: left open)"
    assert asked == [
        density,
        f"add: density: found '0,91'; expected a number above 0, in g/mL, such as 0.910\n{density}",
        "2-methylfuran: hazards from its safety data sheet, such as Danger H225 H319 (empty: left open)",
    ]
    assert found.left == ()
    assert found.draft.banks.substances["2-methylfuran"].state == "liquid"
