"""Reactions added: substances found and looked up, the unknown product worked out, balanced, on a scale."""

from __future__ import annotations

import pytest

from problemgen.errors import FaultsError
from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.reactions import AddedReaction, ReactionWishes, add_reaction


def added(draft: Draft, text: str, **wishes: str) -> AddedReaction:
    return add_reaction(draft, text, ReactionWishes(**wishes), proposal)


def test_an_unknown_product_is_made_of_the_atoms_left_over(draft: Draft) -> None:
    found = added(draft, "2-methylfuran + maleic anhydride -> adduct")
    banks = found.draft.banks
    assert (found.id, banks.substances["adduct"].written) == ("adduct", "C9H8O4")
    one = banks.reactions["adduct"]
    assert one.equation == "2-methylfuran + maleic-anhydride -> adduct"
    assert (one.name, one.kind, one.purpose) == (
        "adduct from 2-methylfuran and maleic anhydride",
        "organic preparation",
        "laboratory",
    )
    assert [number.text for number in (*one.yield_percent, *(one.product_scale_mmol or ()))] == ["50", "85", "5", "20"]
    assert found.told[-5:] == (
        "adduct from 2-methylfuran and maleic anhydride: id adduct",
        "  equation    2-methylfuran + maleic-anhydride -> adduct",
        "  scale       5 to 20 mmol (0.9 to 3.6 g)",
        "  yield       50 to 85 %: own choice, as the scale is: check both against your procedure",
        "  Written to banks/reactions.toml.",
    )
    text = found.draft.text("banks/reactions.toml")
    assert "yield_percent = [50, 85] # own choice: check against your procedure\n" in text
    assert "source" not in text


def test_name_and_structure_of_the_product_are_the_authors(draft: Draft) -> None:
    smiles = "CC12C=CC(O1)C1C2C(=O)OC1=O"
    text = "2-methylfuran + maleic anhydride -> adduct"
    found = added(draft, text, product_name="the adduct", product_smiles=smiles, scale="8 to 12", id="diels-alder")
    one = found.draft.banks.substances["the-adduct"]
    assert (one.written, one.smiles, found.id) == ("C9H8O4", smiles, "diels-alder")
    assert [end.text for end in found.draft.banks.reactions["diels-alder"].product_scale_mmol or ()] == ["8", "12"]


def test_coefficients_are_worked_out_where_they_are_not_written(draft: Draft) -> None:
    text = "benzaldehyde + acetophenone + hydrazine -> 3,5-diphenyl-2-pyrazoline + water"
    found = added(draft, text, product_formula="C15H14N2")
    equation = found.draft.banks.reactions[found.id].equation
    assert equation.endswith("-> 3-5-diphenyl-2-pyrazoline + 2 water")
    assert any(line.startswith("  balanced    ") for line in found.told)


def test_a_complex_is_written_as_its_author_does(draft: Draft) -> None:
    text = "nickel(II) nitrate hexahydrate + 3 ethylenediamine -> tris(ethylenediamine)nickel(II) nitrate + 6 water"
    found = added(draft, text, product_formula="[Ni(C2H8N2)3](NO3)2")
    one = found.draft.banks.reactions["tris-ethylenediamine-nickel-ii-nitrate"]
    assert one.kind == "inorganic preparation"
    assert found.draft.banks.substances[one.product].written == "[Ni(C2H8N2)3](NO3)2"


def test_a_common_word_is_not_taken_for_a_trade_name(draft: Draft) -> None:
    found = added(draft, "acetone + benzaldehyde -> stuff + water")
    assert found.draft.banks.substances["stuff"].written == "C10H10O"


def test_an_id_that_is_taken_gets_a_number(draft: Draft) -> None:
    lithium = draft.with_entry(
        "substances", '[[substance]]\nid = "phenyllithium"\nname = "phenyllithium"\nformula = "C6H5Li"\n'
    )
    found = added(lithium, "phenyllithium + benzophenone + HCl -> triphenylmethanol + lithium chloride")
    assert found.id == "triphenylmethanol-2"


@pytest.mark.parametrize(
    ("text", "wishes", "faults"),
    [
        (
            "salicylic acid + acetic anhydride -> aspirin + acetic acid",
            {},
            [
                (
                    "add: equation: found the reaction 'aspirin' of the banks; expected a reaction that the banks do "
                    "not have. problemgen add template aspirin"
                )
            ],
        ),
        (
            "propan-1-ol + propanoic acid -> propyl propanoate",
            {},
            [
                (
                    "add: equation: found no positive coefficients balance C3H8O + C3H6O2 -> C6H12O2; expected an "
                    "equation that can be balanced. It balances with water or with methanol or with ethanol on the "
                    "right."
                )
            ],
        ),
        (
            "acetone + benzaldehyde -> this stuff + that stuff",
            {},
            [
                (
                    "add: equation: found 'this stuff' and 'that stuff'; expected one product at most that neither the "
                    "banks nor the tables have. Add all but one of them first: problemgen add substance NAME "
                    "--formula FORMULA"
                )
            ],
        ),
        (
            "acetone + benzaldehyde -> quuux",
            {"scale": "5"},
            ["add: scale: found '5'; expected a range that rises, in mmol, such as 5 to 20"],
        ),
        (
            "acetone + benzaldehyde -> quuux",
            {"scale": "9 to 5"},
            ["add: scale: found '9 to 5'; expected a range that rises, in mmol, such as 5 to 20"],
        ),
    ],
)
def test_what_cannot_be_is_told(draft: Draft, text: str, wishes: dict[str, str], faults: list[str]) -> None:
    with pytest.raises(FaultsError) as caught:
        added(draft, text, **wishes)
    assert [str(one) for one in caught.value.faults] == faults


EQUATION = "2 4-nitrobenzaldehyde + acetone -> the dienone + 2 water"
ARROW = {"above": "NaOH (catalyst),  ethanol", "below": "room temperature", "auxiliaries": "NaOH; ethanol\nethanol"}


def test_what_stands_at_the_arrow_is_written_as_by_hand(draft: Draft) -> None:
    found = added(draft, EQUATION, **ARROW)
    one = found.draft.banks.reactions["the-dienone"]
    assert (one.above, one.below) == ("NaOH (catalyst), ethanol", "room temperature")
    assert one.auxiliaries == ("sodium-hydroxide", "ethanol")
    assert (
        'purpose = "laboratory" # or "paper", for what is only calculated\n'
        'above = "NaOH (catalyst), ethanol"\n'
        'below = "room temperature"\n'
        'auxiliaries = ["sodium-hydroxide", "ethanol"]\n'
        "yield_percent"
    ) in found.draft.text("banks/reactions.toml")
    assert "# What stands at the arrow" not in found.draft.text("banks/reactions.toml")


def test_what_else_is_in_the_flask_is_looked_up_as_reagents_are(draft: Draft) -> None:
    found = added(draft, EQUATION, auxiliaries="2-methylfuran")
    assert "2-methylfuran" in found.draft.banks.substances
    assert {one.what for one in found.left if one.id == "2-methylfuran"} == {"density", "hazards"}
    assert '# above = "H2SO4 (catalyst)"' in found.draft.text("banks/reactions.toml")


def test_a_reaction_of_the_course_gets_its_arrow_later(draft: Draft) -> None:
    once = added(draft, EQUATION).draft
    commented = once.with_text("banks/reactions.toml", f"# of week 4\n{once.text('banks/reactions.toml')}")
    found = added(commented, EQUATION, scale="2 to 8", **ARROW)
    one = found.draft.banks.reactions[found.id]
    assert (found.id, one.above, one.auxiliaries) == (
        "the-dienone",
        "NaOH (catalyst), ethanol",
        ("sodium-hydroxide", "ethanol"),
    )
    assert [end.text for end in one.product_scale_mmol or ()] == ["2", "8"]
    text = found.draft.text("banks/reactions.toml")
    assert text.startswith("# of week 4\n[[reaction]]\n")
    assert "H2SO4" not in text
    assert "[2, 8] # own choice: check against your procedure" in text
    assert found.told[-1] == (
        "the dienone from 4-nitrobenzaldehyde and acetone is there already: id the-dienone; above, below, auxiliaries, "
        "product_scale_mmol: written in its entry in banks/reactions.toml."
    )


@pytest.mark.parametrize(
    ("text", "wishes", "faults"),
    [
        (
            EQUATION,
            {"above": "x" * 61, "auxiliaries": "ethanol"},
            ["add: above: found 61 letters; expected 60 at most, as they stand at the arrow"],
        ),
        (
            EQUATION,
            {"auxiliaries": "propanone; quux"},
            [
                (
                    "add: found 'quux', which neither the banks nor the tables of the chemicals package have; expected "
                    "a name, a CAS number or a SMILES of a compound. Say what it is: problemgen add substance 'quux' "
                    "--formula C10H12O2, or --smiles."
                ),
                (
                    "add: auxiliaries: found 'propanone'; expected what is in the flask beside the reagents of the "
                    "equation"
                ),
            ],
        ),
        (
            "salicylic acid + acetic anhydride -> aspirin + acetic acid",
            {"above": "H3PO4"},
            [
                (
                    "add: equation: found the reaction 'aspirin' of the banks; expected a reaction that the banks do "
                    "not have. problemgen add template aspirin"
                )
            ],
        ),
    ],
)
def test_what_cannot_stand_at_an_arrow_is_told(
    draft: Draft, text: str, wishes: dict[str, str], faults: list[str]
) -> None:
    with pytest.raises(FaultsError) as caught:
        added(draft, text, **wishes)
    assert [str(one) for one in caught.value.faults] == faults


def test_all_reagents_that_nobody_knows_are_told_together(draft: Draft) -> None:
    with pytest.raises(FaultsError) as caught:
        added(draft, "quux + quuz -> water")
    assert [one.found.split(",")[0] for one in caught.value.faults] == ["'quux'", "'quuz'"]
