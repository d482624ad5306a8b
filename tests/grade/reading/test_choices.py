"""Substances chosen by name, synonym or formula."""

from __future__ import annotations

import random
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.grade.reading.choices import ChoiceOption, read_choice

OPTIONS = (
    ChoiceOption("vitriol", ("copper(II) sulfate pentahydrate", "blue vitriol"), "CuSO4.5H2O"),
    ChoiceOption("sodium-hydroxide", ("sodium hydroxide", "caustic soda"), "NaOH"),
    ChoiceOption("acetic-acid", ("acetic acid", "ethanoic acid"), "C2H4O2"),
    ChoiceOption("methanol", ("methanol", "methyl alcohol"), "CH4O"),
    ChoiceOption("sodium", ("sodium",), "Na"),
    ChoiceOption("glauber", ("sodium sulfate",), "Na2SO4"),
)
LISTED = (
    "copper(II) sulfate pentahydrate, sodium hydroxide, acetic acid, methanol, sodium, sodium sulfate"  # all of them
)


@pytest.mark.parametrize(
    ("text", "chosen"),
    [
        ("copper(II) sulfate pentahydrate", "vitriol"),
        ("Copper (II) Sulphate Pentahydrate", "vitriol"),
        ("copper-II-sulfate-pentahydrate", "vitriol"),
        ("copper Ⅱ sulfate pentahydrate", "vitriol"),
        ("Blue Vitriol", "vitriol"),
        ("CuSO4.5H2O", "vitriol"),
        ("CuSO4·5H2O", "vitriol"),
        ("CuSO₄·5H₂O", "vitriol"),
        ("CuSO4 * 5 H2O", "vitriol"),
        ("cuso4·5h2o", "vitriol"),
        ("NaOH", "sodium-hydroxide"),
        ("naoh", "sodium-hydroxide"),
        ("NAOH", "sodium-hydroxide"),
        ("NaOH(aq)", "sodium-hydroxide"),
        ("NaOH (s)", "sodium-hydroxide"),
        ("2 NaOH", "sodium-hydroxide"),
        ("HONa", "sodium-hydroxide"),
        ("ＮａＯＨ", "sodium-hydroxide"),
        ("sodium-hydroxide", "sodium-hydroxide"),
        ("  SODIUM   HYDROXIDE. ", "sodium-hydroxide"),
        ("sodium\nhydroxide", "sodium-hydroxide"),
        ("sodiumhydroxide", "sodium-hydroxide"),
        ('"caustic soda"', "sodium-hydroxide"),
        ("sodium hydroxide (NaOH)", "sodium-hydroxide"),
        ("NaOH (caustic soda)", "sodium-hydroxide"),
        ("NaOH is limiting", "sodium-hydroxide"),
        ("The limiting reagent is NaOH.", "sodium-hydroxide"),
        ("limiting reagent = NaOH", "sodium-hydroxide"),
        ("limiting: sodium hydroxide (s)", "sodium-hydroxide"),
        ("CH3COOH", "acetic-acid"),
        ("HC2H3O2", "acetic-acid"),
        ("acétic acid", "acetic-acid"),
        ("CH3OH", "methanol"),
        ("Methanol!", "methanol"),
        ("Na", "sodium"),
        ("na", "sodium"),
        ("sodium", "sodium"),
        ("sodium sulphate", "glauber"),
        ("Na₂SO₄", "glauber"),
        ("AcOH", "acetic-acid"),
        ("MeCO2H", "acetic-acid"),
        ("MeOH", "methanol"),
        ("copper(2) sulfate pentahydrate", "vitriol"),
        ("copper (ll) sulfate pentahydrate", "vitriol"),
        ("Na?", "sodium"),
        ("sodium metal", "sodium"),
        ("NaOH pellets", "sodium-hydroxide"),
        ("NaOH because there is less of it", "sodium-hydroxide"),
        ("NaOH, it has the smallest amount", "sodium-hydroxide"),
        ("NaOH is used up first", "sodium-hydroxide"),
        ("the limiting reactant would be sodium", "sodium"),
    ],
)
def test_chosen(text: str, chosen: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id, reading.reason, reading.text) == ("chosen", chosen, "", text)


@pytest.mark.parametrize(
    ("text", "chosen", "name"),
    [
        ("sodum hydroxide", "sodium-hydroxide", "sodium hydroxide"),
        ("Sodium Hydorxide", "sodium-hydroxide", "sodium hydroxide"),
        ("sodium hydorxide is limiting", "sodium-hydroxide", "sodium hydroxide"),
        ("cuastic soda", "sodium-hydroxide", "sodium hydroxide"),
        ("acetic acd", "acetic-acid", "acetic acid"),
        ("acetic", "acetic-acid", "acetic acid"),
        ("Acetic is limiting", "acetic-acid", "acetic acid"),
        ("metanol", "methanol", "methanol"),
        ("methyl alchohol", "methanol", "methanol"),
        ("soduim", "sodium", "sodium"),
        ("sodium slufate", "glauber", "sodium sulfate"),
        ("copper(II) sulfat pentahydrat", "vitriol", "copper(II) sulfate pentahydrate"),
        ("copper sulfate", "vitriol", "copper(II) sulfate pentahydrate"),
        ("copper(II) sulfate", "vitriol", "copper(II) sulfate pentahydrate"),
        ("copper sulphate pentahydrate", "vitriol", "copper(II) sulfate pentahydrate"),
        ("CuSO4", "vitriol", "copper(II) sulfate pentahydrate"),
    ],
)
def test_chosen_with_a_remark(text: str, chosen: str, name: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id) == ("chosen", chosen)
    assert reading.reason == f'"{text}" is read as {name}.'


def test_an_acid_without_the_word_is_in_doubt_beside_its_anhydride() -> None:
    both = (OPTIONS[2], ChoiceOption("acetic-anhydride", ("acetic anhydride",), "C4H6O3"))
    reading = read_choice("acetic", both)
    assert (reading.status, reading.reason) == (
        "ambiguous",
        '"acetic" can mean acetic acid or acetic anhydride; name one.',
    )
    assert read_choice("salicylic", (ChoiceOption("s", ("salicylic acid",), "C7H6O3"), both[1])).id == "s"


@pytest.mark.parametrize(
    "text",
    [
        "ethanol",
        "sodium sulfite",
        "sodium sulfide",
        "Na2SO3",
        "Na2S",
        "copper(I) sulfate pentahydrate",
        "CuSO4.4H2O",
        "not NaOH",
        "NaOH in excess",
        "hydroxide",
        "hydrochloric acid",
        "G",
        "7",
        "0",
        "AB",
        "A NaOH and more",
        "A: no idea",
        "=SUM(A1)",
        "no idea",
        "both",
        "the limiting reagent",
        "NaOHH",
        "NaOH is not limiting",
        "more NaOH",
        "CH3",
        "copper(1) sulfate pentahydrate",
        "sodium chloride",
        "<script>alert(1)</script>",
    ],
)
def test_unreadable(text: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id) == ("unreadable", None)
    assert reading.reason == f'"{text}" is not clear; name one of: {LISTED}.'


def test_too_long() -> None:
    reading = read_choice("NaOH " * 50, OPTIONS)
    assert (reading.status, reading.id) == ("unreadable", None)
    assert reading.reason == "An answer of 249 characters is not read; write one substance."


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("NaOH or CH3OH", "sodium hydroxide or methanol"),
        ("NaOH/MeOH", "sodium hydroxide or methanol"),
        ("NaOH, acetic acid", "sodium hydroxide or acetic acid"),
        ("NaOH and methanol are both limiting", "sodium hydroxide or methanol"),
        ("NaOH because methanol is in excess", "sodium hydroxide or methanol"),
    ],
)
def test_two_options_named(text: str, meant: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id) == ("ambiguous", None)
    assert reading.reason == f'"{text}" can mean {meant}; name one.'


@pytest.mark.parametrize(
    ("text", "chosen"),
    [
        *((text, "vitriol") for text in ("A", "a", "1", "A.", "(a)", "[A]", "a)", "1)", "1.", "Option A", "answer: a")),
        *(
            (text, "sodium-hydroxide")
            for text in ("B", " b ", "2", "option 2", "no. 2", "The answer is B.", "B?", "Ｂ")
        ),
        *((text, "methanol") for text in ("D: methanol", "d) CH3OH", "D (MeOH)", "4. methanol", "D) has the least")),
        ("F", "glauber"),
    ],
)
def test_chosen_by_its_place_on_the_sheet(text: str, chosen: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id, reading.reason) == ("chosen", chosen, "")


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("A: NaOH", "copper(II) sulfate pentahydrate or sodium hydroxide"),
        ("2) methanol", "sodium hydroxide or methanol"),
        ("B (Na2SO4)", "sodium hydroxide or sodium sulfate"),
    ],
)
def test_a_letter_beside_the_name_of_another_option(text: str, meant: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.reason) == ("ambiguous", f'"{text}" can mean {meant}; name one.')


def test_a_letter_that_is_another_option_s_formula() -> None:
    ore = [ChoiceOption("oxide", ("iron(III) oxide",), "Fe2O3"), ChoiceOption("carbon", ("carbon",), "C")]
    assert read_choice("C", ore).id == "carbon"
    more = [*ore, ChoiceOption("lime", ("calcium oxide",), "CaO")]
    assert read_choice("C", more).reason == '"C" can mean carbon or calcium oxide; name one.'
    assert read_choice("B", more).id == "carbon"


def test_two_options_that_share_a_spelling() -> None:
    isomers = [ChoiceOption("e", ("ethanol",), "C2H6O"), ChoiceOption("d", ("dimethyl ether",), "C2H6O")]
    assert read_choice("C2H6O", isomers).reason == '"C2H6O" can mean ethanol or dimethyl ether; name one.'
    assert read_choice("C2H5OH", isomers).status == "ambiguous"
    carbon = [ChoiceOption("co", ("carbon monoxide",), "CO"), ChoiceOption("Co", ("cobalt",), "Co")]
    assert (read_choice("CO", carbon).id, read_choice("Co", carbon).id) == ("co", "Co")
    assert read_choice("co", carbon).status == "ambiguous"
    copper = [ChoiceOption("1", ("copper(I) oxide",), "Cu2O"), ChoiceOption("2", ("copper(II) oxide",), "CuO")]
    assert read_choice("copper oxide", copper).status == "ambiguous"
    assert (read_choice("copper(I) oxide", copper).id, read_choice("copper II oxyde", copper).id) == ("1", "2")


def test_a_note_behind_a_name_may_be_left_out() -> None:
    acid = ChoiceOption("hcl", ("hydrogen chloride", "hydrochloric acid (in water)"), "HCl")
    options = [acid, ChoiceOption("zn", ("zinc",), "Zn")]
    for text in ("hydrochloric acid", "Hydrochloric acid (in water)", "HCl(aq)", "hydrochloric acid (HCl)"):
        reading = read_choice(text, options)
        assert (reading.id, reading.reason) == ("hcl", "")
    assert read_choice("hydrochlorc acid", options).reason == '"hydrochlorc acid" is read as hydrogen chloride.'


def test_two_options_as_near_as_each_other() -> None:
    bases = [ChoiceOption("a", ("aniline",), ""), ChoiceOption("b", ("anisine",), "")]
    reading = read_choice("anixine", bases)
    assert (reading.status, reading.reason) == ("ambiguous", '"anixine" can mean aniline or anisine; name one.')


@pytest.mark.parametrize("text", ["", " ", "-", "–", "?", "n/a", "N.A.", "...", "\N{ZERO WIDTH SPACE}"])
def test_blank(text: str) -> None:
    reading = read_choice(text, OPTIONS)
    assert (reading.status, reading.id, reading.reason) == ("blank", None, "")


def test_na_is_blank_only_where_sodium_is_no_option() -> None:
    assert read_choice("NA", OPTIONS).id == "sodium"
    assert read_choice("NA", OPTIONS[:4]).status == "blank"


def test_sulfur_is_no_state_and_a_state_is_no_sulfur() -> None:
    options = [ChoiceOption("sulfur", ("sulfur",), "S"), ChoiceOption("iron", ("iron",), "Fe")]
    assert (read_choice("S", options).id, read_choice("s", options).id) == ("sulfur", "sulfur")
    assert read_choice("iron (s)", options).id == "iron"


def test_no_option_is_no_choice() -> None:
    assert read_choice("NaOH", []).status == "unreadable"


BANK = tomllib.loads((Path(__file__).parents[3] / "banks" / "substances.toml").read_text(encoding="utf-8"))
SUBSTANCES = [ChoiceOption(s["id"], (s["name"], *s["synonyms"]), s["formula"]) for s in BANK["substance"]]


@given(st.data())
def test_every_name_of_the_bank_chooses_its_substance_among_others(data: st.DataObject) -> None:
    options = data.draw(st.lists(st.sampled_from(SUBSTANCES), min_size=2, max_size=4, unique=True))
    option = options[0]
    name = data.draw(st.sampled_from(option.names))
    typed = data.draw(st.sampled_from([name, name.upper(), name.title(), f"the {name}", f"{name} is limiting"]))
    assert read_choice(typed, options).id == option.id


@given(st.data())
def test_another_substance_of_the_bank_is_never_taken_for_an_option(data: st.DataObject) -> None:
    other, *options = data.draw(st.lists(st.sampled_from(SUBSTANCES), min_size=3, max_size=5, unique=True))
    reading = read_choice(other.names[0], options)
    chosen = [name for option in options if option.id == reading.id for name in option.names]
    # Only the name without its water of crystallisation stands for the hydrate.
    assert reading.id is None or any(other.names[0] in name for name in chosen)


def test_three_thousand_random_texts_raise_nothing_and_say_why() -> None:
    draw = random.Random(20261125)  # noqa: S311 - a fuzz test keeps no secret
    usual = "NaOHCuS4.5·₂2 sodium hydroxide(acetic) -,?\n⁻+^"
    for turn in range(3_000):
        length = draw.randrange(30)
        letters = [draw.choice(usual) if turn % 2 else chr(draw.randrange(0x110000)) for _ in range(length)]
        reading = read_choice("".join(letters), OPTIONS)
        assert (reading.status == "chosen") == (reading.id is not None)
        assert reading.reason or reading.status in {"chosen", "blank"}
