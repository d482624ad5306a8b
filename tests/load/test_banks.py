"""Banks: each relation between the files is checked, and all faults of all files come at once."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks import load_banks, load_weights
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
def faults_of(load: Load) -> Callable[..., list[str]]:
    def faults(**changed: str) -> list[str]:
        with pytest.raises(FaultsError) as caught:
            load(**changed)
        return [str(fault) for fault in caught.value.faults]

    return faults


FaultsOf = Callable[..., list[str]]


def test_everything_is_found_by_its_id(load: Load) -> None:
    banks = load()
    assert banks.edition == "E 1"
    assert list(banks.substances) == ["water", "hydrogen", "oxygen", "nitrogen", "ammonia"]
    assert banks.reactions["synthesis"].coefficients == {"nitrogen": -1, "hydrogen": -3, "ammonia": 2}
    assert [flask.text for flask in banks.reactions["synthesis"].flasks] == ["50", "100", "250"]
    assert banks.bottles["ammonia-25"].mass_percent.text == "25.0"
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
        ("substances", 'state = "liquid"', 'state = "plasma"', ("banks/substances.toml: substance.1.state: found "
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
        ("reactions", "yield_percent", "yield_procent", ("banks/reactions.toml: reaction.1.yield_percent: found "
         "nothing; expected a value for this key")),
        ("glassware", 'unit = "mL"', 'unit = "mls"', ("banks/glassware.toml: glassware.1.unit: found 'mls'; expected a "
         "unit of the list: unknown unit 'mls'")),
        ("reactions", "derived: it", "derivd: it", ("banks/reactions.toml: synthesis.source: found 'derivd'; expected "
         "a key of banks/sources.toml. Did you mean 'derived'?")),
        ("reactions", "derived: it balances", "derived", ("banks/reactions.toml: synthesis.source: found 'derived'; "
         "expected the reasoning behind a colon")),
        ("reactions", "derived: it", "Derived: it", ("banks/reactions.toml: reaction.1.source: found 'Derived: it "
         "balances'; expected citations: 'Derived: it balances' is not a citation: key place: words; another key")),
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


def test_the_shipped_banks_have_no_fault(banks: Banks) -> None:
    assert banks.edition == "IUPAC 2021"
    assert len(banks.substances) > 100
    assert len(banks.reactions) > 20
