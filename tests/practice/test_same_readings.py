"""The page reads single cells as the grader does: rows judged by hand, words round a number, and malformed cells."""

from __future__ import annotations

import random
from collections.abc import Iterable
from typing import Any

from playwright.sync_api import Browser

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.cell import Reading, read_answer
from problemgen.grade.reading.spelling import LONGEST
from problemgen.practice.lists import units_list
from problemgen.practice.modules import joined
from problemgen.practice.rules import RULES, page_rules
from tests.support.judged_in_page import ASSETS
from tests.support.malformed_cells import malformed_cells
from tests.support.vectors import read_cells

_ENTRY = """
import { readAnswer } from "./reading.js";
import { useRules } from "./rules.js";
import { readUnitText, useUnits } from "./units.js";
const readAll = ({ rules, units, cells }) => {
  useRules(rules);
  useUnits(units);
  return cells.map(([asked, cell]) => {
    const { status, written, unit, remark } = readAnswer(cell, readUnitText(asked), ".");
    const isRead = status === "number" || status === "ambiguous";
    return [status, written?.text ?? "", unit?.text ?? "", isRead && remark !== null];
  });
};
"""
_ASKED = ("mmol", "g", "mol/L", "°C", "%", "g/mol", "1", "molecules")
_BEFORE = (
    *(
        "",
        "",
        "",
        "m = ",
        "n/mol = ",
        "n(K) = ",
        "mass (kg): ",
        "M = ",
        "in mg: ",
        "of NaOH ",
        "kilos = ",
        "a) ",
        "(g) ",
    ),
    *(
        "Q1: ",
        "c/mol/L = ",
        "% yield = ",
        "m(CO2)(g) = ",
        "T(C): ",
        "amount in {} ",
        "{} = ",
        "n({}) = ",
        "mass of {}: ",
    ),
)
_NUMBERS = ("39.5", "39,5(1)", "2x10e3", "3.95 ± 0.05", "(39.5)", "1,234", "3.95 g ± 1 %", "3/4", "39.5 mol =", "-2")
_BEHIND = (
    *(
        "",
        "",
        " g",
        " mol",
        " per L",
        " mol %",
        " in mg",
        " (approx)",
        " of {}",
        " {}",
        " g of {}",
        " mol {}",
        " g {} {}",
    ),
    *(" g per mol", " mmol in total", " = {}", " million mol", " mL (in L)", " by {}", " M", " °C", ", {} solution"),
)


def told(reading: Reading) -> list[Any]:
    """What the page tells of a reading too: a remark is told, not its words."""
    written, unit = reading.written.text if reading.written else "", reading.unit.text if reading.unit else ""
    return [reading.status, written, unit, reading.status in {"number", "ambiguous"} and bool(reading.reason)]


def composed(count: int) -> Iterable[tuple[str, str]]:
    """Cells with words and labels round a number, the same on every run."""
    draw = random.Random("read alike")  # noqa: S311 - a test keeps no secret
    lists: Any = RULES["words"]
    words = sorted({*lists["listed"], *lists["stems"], *lists["meaning"], "2-propanol", "NaCl", "copper(II)", "blorf"})
    for _ in range(count):
        cell = draw.choice(_BEFORE) + draw.choice(_NUMBERS) + draw.choice(_BEHIND)
        while "{}" in cell:
            cell = cell.replace("{}", "".join(draw.choices(words, k=draw.choice((1, 1, 1, 2)))), 1)
        yield draw.choice(_ASKED), cell


def test_the_page_reads_every_cell_as_the_grader_does(browser: Browser) -> None:
    cells = [(asked, cell) for asked, cell, _ in read_cells()]
    cells += composed(8_000)
    cells += [
        (_ASKED[turn % len(_ASKED)], cell)
        for turn, cell in enumerate(malformed_cells(20261127, 3_000))
        if len(cell) <= LONGEST and cell.isprintable()
    ]
    script = joined(
        {**{path.name: path.read_text(encoding="utf-8") for path in ASSETS.glob("*.js")}, "entry.js": _ENTRY.lstrip()},
        "entry.js",
    )
    page = browser.new_page()
    data = {"rules": page_rules(), "units": units_list(), "cells": cells}
    theirs = page.evaluate(f"data => {{ {script}; return readAll(data); }}", data)
    page.close()
    ours = [told(read_answer(cell, read_unit(asked))) for asked, cell in cells]
    assert [(cell, mine, read) for cell, mine, read in zip(cells, ours, theirs, strict=True) if mine != read] == []
    assert sum(status == "number" for status, *_ in ours) > 1_000
