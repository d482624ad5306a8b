"""Banks: each relation between the files is checked, and all faults of all files come at once."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.exact.digits import read_written
from problemgen.load.banks.banks import load_banks, load_weights
from problemgen.model.banks import Banks
from problemgen.model.citation import Citation

ABOUT = """[about]
title = "T"
edition = "E 1"
source = "s-2007 2.1"
taken = 2026-01-02
maker = "problemgen"
"""
ELEMENTS = """[[element]]
symbol = "H"
weight = 1.0080
uncertainty = 0.0002
earlier = ["1.00794"]
[[element]]
symbol = "O"
weight = 15.999
[[element]]
symbol = "N"
weight = 14.007
"""
WATER = """[[substance]]
id = "water"
name = "water"
formula = "H2O"
cas = "7732-18-5"
state = "liquid"
density = { value = 0.9982, unit = "g/mL", at = "20 °C" }
"""
GASES = "".join(
    f'[[substance]]\nid = "{name}"\nname = "{name}"\nformula = "{formula}"\ncas = "{cas}"\nstate = "gas"\n'
    for name, formula, cas in (
        ("hydrogen", "H2", "1333-74-0"),
        ("oxygen", "O2", "7782-44-7"),
        ("nitrogen", "N2", "7727-37-9"),
        ("ammonia", "NH3", "7664-41-7"),
    )
)
BOTTLE = """[[bottle]]
id = "ammonia-25"
name = "ammonia, 25 % by mass"
of = "ammonia"
mass_percent = 25.0
density = { value = 0.91, unit = "g/mL", at = "20 °C" }
"""
REACTION = """[[reaction]]
id = "synthesis"
name = "ammonia from the elements"
equation = "nitrogen + 3 hydrogen -> 2 ammonia"
product = "ammonia"
kind = "inorganic preparation"
purpose = "paper"
yield_percent = [10, 20]
flasks = [250, 50, 100]
source = "derived: it balances"
"""
GLASSWARE = """[[glassware]]
id = "burette-50"
name = "burette, 50 mL"
kind = "burette"
capacity = 50
unit = "mL"
step = 0.05
"""
STATEMENTS = """[[statement]]
code = "H314"
text = "Causes severe skin burns and eye damage"
[[statement]]
code = "H315"
text = "Causes skin irritation"
"""
AMMONIA = """[[hazard]]
of = "ammonia"
pictograms = ["GHS05"]
signal = "Danger"
codes = ["H314"]
in_water = [{ from = 5, codes = ["H314"] }, { from = 1, codes = ["H315"] }]
source = "from-memory"
"""
HAZARD = STATEMENTS + AMMONIA
VAPOUR = """[[pressure]]
celsius = 20
kilopascals = 2.339
[[pressure]]
celsius = 21
kilopascals = 2.488
"""
SOURCES = """[[publication]]
id = "s-2007"
author = "A"
title = "T"
edition = "2007"
place = "section"
taken = "from memory"
[[statement]]
id = "from-memory"
title = "T"
[[statement]]
id = "derived"
title = "T"
words = "the reasoning"
"""
FILES = {
    "elements": ELEMENTS,
    "substances": WATER + GASES,
    "bottles": BOTTLE,
    "reactions": REACTION,
    "glassware": GLASSWARE,
    "hazards": HAZARD,
    "water_vapour": VAPOUR,
    "sources": SOURCES,
}

Load = Callable[..., Banks]


@pytest.fixture
def load(tmp_path: Path) -> Load:
    def loaded(**changed: str) -> Banks:
        for name, text in (FILES | changed).items():
            (tmp_path / f"{name}.toml").write_text(ABOUT + text, encoding="utf-8")
        return load_banks(tmp_path)

    return loaded


@pytest.fixture
def faults_of(load: Load, tmp_path: Path) -> Callable[..., list[str]]:
    def faults(**changed: str) -> list[str]:
        with pytest.raises(FaultsError) as caught:
            load(**changed)
        return [str(fault).replace(f"{tmp_path}/", "banks/") for fault in caught.value.faults]

    return faults


FaultsOf = Callable[..., list[str]]


def test_everything_is_found_by_its_id(load: Load) -> None:
    banks = load()
    assert banks.edition == "E 1"
    assert list(banks.substances) == ["water", "hydrogen", "oxygen", "nitrogen", "ammonia"]
    assert banks.reactions["synthesis"].coefficients == {"nitrogen": -1, "hydrogen": -3, "ammonia": 2}
    assert [flask.text for flask in banks.reactions["synthesis"].flasks] == ["50", "100", "250"]
    assert str(banks.bottles["ammonia-25"].mass_percent) == str(read_written("25.0"))
    assert banks.glassware["burette-50"].step.text == "0.05"
    assert banks.hazards["ammonia"].signal == "Danger"
    assert banks.hazards["ammonia"].source == (Citation("from-memory"),)
    assert [one.least.text for one in banks.hazards["ammonia"].in_water] == ["5", "1"]
    assert banks.hazard_statements["H315"] == "Causes skin irritation"
    assert {key: type(source).__name__ for key, source in banks.sources.items()} == {
        "s-2007": "Publication",
        "from-memory": "Statement",
        "derived": "Statement",
    }


def test_a_weight_spans_the_tables_in_use_and_two_decimals(load: Load, tmp_path: Path) -> None:
    hydrogen = load().weights["H"]
    # This table's 1.0080, an earlier one's 1.00794, and both rounded to 1.01.
    assert (hydrogen.value, hydrogen.low, hydrogen.high) == (Fraction("1.008"), Fraction("1.00794"), Fraction("1.01"))
    weights, edition = load_weights(tmp_path)
    assert weights["H"] == hydrogen
    assert edition == "E 1"


@pytest.mark.parametrize(
    ("file", "old", "new", "expected"),
    [
        ("substances", '"H2O"', '"H2o"', "banks/substances.toml: water.formula: found formula 'H2o', character 3: "),
        ("substances", '"H2O"', '"Xx2"', ("banks/substances.toml: water.formula: found formula 'Xx2', character 1: "
         "no element has the symbol 'Xx'; expected a chemical formula")),
        ("substances", '"N2"', '"Tc2"', ("banks/substances.toml: nitrogen.formula: found Tc; expected elements with an "
         "atomic weight in banks/elements.toml")),
        ("substances", "7732-18-5", "7732-18-4", ("banks/substances.toml: water.cas: found '7732-18-4'; expected a CAS "
         "number whose check digit fits")),
        ("substances", "7732-18-5", "77321-8-5", ("banks/substances.toml: water.cas: found '77321-8-5'; expected a CAS "
         "number whose check digit fits")),
        ("substances", 'density = { value = 0.9982, unit = "g/mL", at = "20 °C" }', "",
         "banks/substances.toml: water.density: found nothing; expected a density for every neat liquid"),
        ("substances", 'id = "oxygen"', 'id = "water"', ("banks/substances.toml: water: found the same id twice; "
         "expected an id of its own for each entry")),
        ("substances", 'state = "liquid"', 'state = "liquid"\nhydrate_of = "hydrogem"', ("banks/substances.toml: "
         "water.hydrate_of: found 'hydrogem'; expected the id of a substance in banks/substances.toml. "
         "Did you mean 'hydrogen'?")),
        ("substances", 'state = "liquid"', 'state = "plasma"', ("banks/substances.toml: substance.water.state: found "
         "'plasma'; expected 'solid', 'liquid' or 'gas'")),
        ("bottles", 'of = "ammonia"', 'of = "amonia"', ("banks/bottles.toml: ammonia-25.of: found 'amonia'; expected "
         "the id of a substance in banks/substances.toml. Did you mean 'ammonia'?")),
        ("hazards", 'of = "ammonia"', 'of = "amonia"', ("banks/hazards.toml: amonia.of: found 'amonia'; expected the "
         "id of a substance in banks/substances.toml. Did you mean 'ammonia'?")),
        ("hazards", '"Danger"', '"Peril"', ("banks/hazards.toml: hazard.1.signal: found 'Peril'; expected 'Danger', "
         "'Warning' or ''")),
        ("hazards", '5, codes = ["H314"]', '5, codes = ["H318"]', ("banks/hazards.toml: ammonia.codes: found 'H318'; "
         "expected the code of a [[statement]]")),
        ("hazards", "from = 1,", "from = 10,", ("banks/hazards.toml: ammonia.in_water: found 5, 10; expected the "
         "strongest first")),
        ("hazards", '"H315"\ntext', '"H314"\ntext', ("banks/hazards.toml: H314: found the same id twice; expected an "
         "id of its own for each entry")),
        ("reactions", "3 hydrogen", "hydrogen", ("banks/reactions.toml: synthesis.equation: found N2 + H2 -> 2 NH3 is "
         "not balanced: H 2 on the left, 6 on the right. Balanced: N2 + 3 H2 -> 2 NH3; expected a balanced equation")),
        ("reactions", "3 hydrogen", "3 hydrogn", ("banks/reactions.toml: synthesis.equation: found 'hydrogn'; expected "
         "the id of a substance in banks/substances.toml. Did you mean 'hydrogen'?")),
        ("reactions", "3 hydrogen", "3hydrogen", ("banks/reactions.toml: synthesis.equation: found '3hydrogen'; "
         "expected the id of a substance in banks/substances.toml. Did you mean 'hydrogen'?")),
        ("reactions", "3 hydrogen", "03 hydrogen", ("banks/reactions.toml: synthesis.equation: found '03 hydrogen'; "
         "expected a coefficient and a substance id")),
        ("reactions", "->", "=", ("banks/reactions.toml: synthesis.equation: found 'nitrogen + 3 hydrogen = 2 "
         "ammonia'; expected reagents -> products, in substance ids")),
        ("reactions", 'product = "ammonia"', 'product = "water"', ("banks/reactions.toml: synthesis.product: found "
         "'water'; expected a substance of the equation")),
        ("reactions", 'source = "d', 'sessions = { water = 2 }\nsource = "d', ("banks/reactions.toml: "
         "synthesis.sessions: found 'water'; expected a substance of the equation")),
        ("reactions", 'source = "d', 'auxiliaries = ["watr"]\nsource = "d', ("banks/reactions.toml: "
         "synthesis.auxiliaries: found 'watr'; expected the id of a substance in banks/substances.toml. Did you mean "
         "'water'?")),
        ("reactions", 'source = "d', 'auxiliaries = ["hydrogen"]\nsource = "d', ("banks/reactions.toml: "
         "synthesis.auxiliaries: found 'hydrogen'; expected no reagent of the equation again")),
        ("reactions", "yield_percent", "yield_procent", ("banks/reactions.toml: reaction.synthesis.yield_percent: "
         "found nothing; expected a value for this key")),
        ("glassware", 'unit = "mL"', 'unit = "mls"', ("banks/glassware.toml: glassware.burette-50.unit: found 'mls'; "
         "expected a unit of the list: unknown unit 'mls'")),
        ("reactions", "derived: it", "derivd: it", ("banks/reactions.toml: synthesis.source: found 'derivd'; expected "
         "a key of banks/sources.toml. Did you mean 'derived'?")),
        ("reactions", "derived: it balances", "derived", ("banks/reactions.toml: synthesis.source: found 'derived'; "
         "expected the reasoning behind a colon")),
        ("reactions", "derived: it", "Derived: it", ("banks/reactions.toml: reaction.synthesis.source: found "
         "'Derived: it balances'; expected citations: 'Derived: it balances' is not a citation: key place: words; "
         "another key")),
        ("bottles", '"20 °C" }', '"20 °C", source = "s-2007: c" }', ("banks/bottles.toml: ammonia-25.density.source: "
         "found 's-2007'; expected the section behind s-2007 and a space")),
        ("hazards", '"from-memory"', '""', ("banks/hazards.toml: hazard.1.source: found ''; expected citations: '' is "
         "not a citation: key place: words; another key")),
        ("sources", '"derived"', '"from-memory"', ("banks/sources.toml: from-memory: found the same id twice; "
         "expected an id of its own for each entry")),
        ("glassware", "step = 0.05", "step = 0", ("banks/glassware.toml: burette-50.step: found 0; expected a step "
         "above 0 and within the capacity, 50 mL")),
    ],
)  # fmt: skip
def test_a_fault_of_a_bank(faults_of: FaultsOf, file: str, old: str, new: str, expected: str) -> None:
    assert old in FILES[file]
    found = faults_of(**{file: FILES[file].replace(old, new, 1)})
    assert any(line.startswith(expected) for line in found), found


def test_a_substance_on_both_sides_is_a_fault(faults_of: FaultsOf) -> None:
    both = REACTION.replace("-> 2 ammonia", "-> 2 ammonia + hydrogen")
    (fault,) = faults_of(reactions=both)
    assert fault.startswith(
        "banks/reactions.toml: synthesis.equation: found 'hydrogen' twice; expected each substance once in an equation"
    )


def test_all_faults_of_all_files_come_at_once(faults_of: FaultsOf) -> None:
    found = faults_of(
        substances=(WATER + GASES).replace("7732-18-5", "7732-18-0").replace('"H2O"', '"H2"'),
        bottles=BOTTLE.replace('of = "ammonia"', 'of = "x"'),
        reactions="[[reaction]\n",
        hazards=HAZARD + AMMONIA,
    )
    assert [line.split(": ")[:2] for line in found] == [
        ["banks/bottles.toml", "ammonia-25.of"],
        ["banks/hazards.toml", "ammonia"],
        ["banks/reactions.toml", "found a slip in the notation"],
        ["banks/substances.toml", "water.cas"],
    ]


def test_an_unreadable_file_of_elements_does_not_hide_the_others(faults_of: FaultsOf) -> None:
    found = faults_of(elements="[[element]\n", bottles=BOTTLE.replace('of = "ammonia"', 'of = "x"'))
    assert [line.split(":")[0] for line in found] == ["banks/bottles.toml", "banks/elements.toml"]


def test_without_sources_no_citation_is_a_fault(faults_of: FaultsOf) -> None:
    (fault,) = faults_of(sources="[[publication]\n")
    assert fault.startswith("banks/sources.toml: found a slip in the notation")


def test_a_missing_file_is_a_fault(tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        load_banks(tmp_path)
    assert [fault.found for fault in caught.value.faults] == ["no such file or directory"] * len(FILES)


NAPHTHALENE = """[[substance]]
id = "naphthalene"
name = "naphthalene"
formula = "C10H8"
"""
OWN_AMMONIA = """[[substance]]
id = "ammonia"
name = "ammonia, dry"
formula = "NH3"
state = "gas"
"""


@pytest.fixture
def with_own(load: Load, tmp_path: Path) -> Callable[..., Banks]:
    def loaded(**files: str) -> Banks:
        load()
        own = tmp_path / "own"
        own.mkdir(exist_ok=True)
        for name, text in files.items():
            (own / f"{name}.toml").write_text(text, encoding="utf-8")
        return load_banks(tmp_path, own)

    return loaded


def test_the_entries_of_a_course_stand_over_ours(with_own: Callable[..., Banks], tmp_path: Path) -> None:
    elements = ELEMENTS + '[[element]]\nsymbol = "C"\nweight = 12.011\n'
    (tmp_path / "elements.toml").write_text(ABOUT + elements, encoding="utf-8")
    with pytest.raises(FaultsError, match=r"naphthalene.formula: found C; expected elements with an atomic weight"):
        with_own(substances=NAPHTHALENE)  # `load` of the fixture has written the elements without carbon
    banks = with_own(substances=OWN_AMMONIA, sources='[[statement]]\nid = "own-scale"\ntitle = "Weighed in our room"\n')
    assert banks.substances["ammonia"].name == "ammonia, dry"
    assert banks.substances["water"].name == "water"
    assert list(banks.sources) == ["s-2007", "from-memory", "derived", "own-scale"]
    assert banks.replaced == (f"{tmp_path}/own/substances.toml: ammonia",)


def test_an_own_substance_needs_no_state_and_has_names_in_other_languages(
    with_own: Callable[..., Banks], tmp_path: Path
) -> None:
    water = '[[substance]]\nid = "ice"\nname = "ice"\nsynonyms = ["frost"]\nformula = "H2O"\n'
    (tmp_path / "own" / "names").mkdir(parents=True)
    (tmp_path / "own" / "names" / "de.toml").write_text('[substances]\nice = "Eis"\n', encoding="utf-8")
    banks = with_own(substances=water)
    ice = banks.substances["ice"]
    assert (ice.state, banks.also_called(ice)) == (None, ("frost", "Eis"))


def test_a_name_of_what_there_is_not_is_a_fault(with_own: Callable[..., Banks], tmp_path: Path) -> None:
    (tmp_path / "own" / "names").mkdir(parents=True)
    (tmp_path / "own" / "names" / "de.toml").write_text('[substances]\nwatr = "Wasser"\n', encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        with_own()
    assert str(caught.value) == (
        f"{tmp_path}/own/names/de.toml: substances.watr: found 'watr'; expected the id of an entry of "
        "banks/substances.toml. Did you mean 'water'?"
    )


def test_an_own_reaction_needs_no_entry_of_hazards(with_own: Callable[..., Banks]) -> None:
    for_students = REACTION.replace('"paper"', '"laboratory"').replace('"synthesis"', '"ours"')
    assert "ours" in with_own(reactions=for_students).reactions


def test_a_bottle_may_be_sold_by_its_concentration(with_own: Callable[..., Banks]) -> None:
    bottle = '[[bottle]]\nid = "a"\nname = "ammonia, 0.5 mol/L in water"\nof = "ammonia"\nsolvent = "water"\n'
    sold = bottle + 'concentration = { value = 0.50, unit = "mol/L" }\n'
    assert with_own(bottles=sold).bottles["a"].mass_percent is None


@pytest.mark.parametrize(
    ("file", "text", "expected"),
    [
        ("bottles", BOTTLE.replace("mass_percent = 25.0\n", ""),
         "own/bottles.toml: ammonia-25: found no strength; expected `mass_percent` and `density`, or `concentration`"),
        ("bottles", BOTTLE.replace("density = { value = 0.91", "concentration = { value = 0.91"),
         ("own/bottles.toml: ammonia-25.density: found nothing; expected a density beside `mass_percent`: a volume of "
         "the solution is weighed by it")),
        ("bottles", BOTTLE + 'solvent = "watr"\n',
         ("own/bottles.toml: ammonia-25.solvent: found 'watr'; expected the id of a substance in banks/substances.toml"
         ". Did you mean 'water'?")),
        ("reactions", REACTION.replace("3 hydrogen", "hydrogen"),
         "own/reactions.toml: synthesis.equation: found N2 + H2 -> 2 NH3 is not balanced"),
        ("substances", OWN_AMMONIA + OWN_AMMONIA,
         "own/substances.toml: ammonia: found the same id twice; expected an id of its own for each entry"),
        ("substance", OWN_AMMONIA, ("own: found 'substance.toml'; expected one of substances.toml, bottles.toml, "
         "reactions.toml, glassware.toml, hazards.toml, sources.toml. Did you mean 'substances.toml'?")),
        ("elements", ELEMENTS, "own: found 'elements.toml'; expected one of"),
    ],
)  # fmt: skip
def test_a_fault_of_a_courses_bank_names_its_file(
    with_own: Callable[..., Banks], tmp_path: Path, file: str, text: str, expected: str
) -> None:
    with pytest.raises(FaultsError) as caught:
        with_own(**{file: text})
    (fault,) = (str(fault).removeprefix(f"{tmp_path}/") for fault in caught.value.faults)
    assert fault.startswith(expected), fault


def test_the_shipped_banks_have_no_fault(banks: Banks) -> None:
    assert banks.edition == "IUPAC 2021"
    assert len(banks.substances) > 100
    assert len(banks.reactions) > 20
