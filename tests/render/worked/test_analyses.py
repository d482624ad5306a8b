from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines

ROOT = Path(__file__).parents[3]


def lines(name: str) -> list[str]:
    template = load_template(ROOT / "templates/formulas" / f"{name}.toml", name, load_banks(ROOT / "banks"))
    (variant,) = Maker(template, Stream(b"analyses", "analyses", "p1")).variants(["s1"])
    return list(text_lines(variant_solution(variant)))


def test_the_amounts_are_compared_in_one_table() -> None:
    told = lines("manganese-oxide")
    assert told.count("Amounts compared") == 1
    at = told.index("Amounts compared")
    assert told[at + 1].split() == ["Element", "Amount", "over", "the", "smallest", "amount", "Whole", "number"]
    symbols, ratios, wholes = zip(*(row.split() for row in told[at + 2 : at + 4]), strict=True)
    assert symbols == ("Mn", "O")
    assert min(map(float, ratios)) == 1
    times = {round(int(whole) / float(ratio)) for whole, ratio in zip(wholes, ratios, strict=True)}
    assert len(times) == 1  # all ratios are multiplied by one whole number


@pytest.mark.parametrize("name", ["percent", "phosphorus-sulfide", "salt-of-sulfur", "combustion"])
def test_the_multiple_is_divided_out_and_both_formulas_are_told(name: str) -> None:
    told = lines(name)
    (over,) = [line for line in told if " g/mol over " in line]
    quotient, _, multiple = over.partition(" is ")[2].rstrip(".").partition(": ")
    assert round(float(quotient)) == int(multiple)
    assert len([line for line in told if line.startswith("The formula is ")]) == 2
