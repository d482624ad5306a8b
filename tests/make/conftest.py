"""Templates from text, and candidates made by hand."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Candidates, Stream, draw_candidates
from problemgen.model.banks import Banks
from problemgen.model.quantity import kind_named
from problemgen.model.template import Draw, Fixed, Obtained, Template
from problemgen.plan.batch import Batch
from problemgen.plan.windows import given_window

ROOT = Path(__file__).parents[2]


SPARE = """
reaction = "paracetamol"
[given.4-aminophenol]
mass = { from = 1.000, to = 9.900, unit = "g", read = "balance-0.001" }
[given.acetic-anhydride]
volume = { from = 1.00, to = 10.00, unit = "mL", read = "burette-10" }
in_excess = true
[[part]]
quantity = "amount"
of = "4-aminophenol"
unit = "mmol"
[[part]]
quantity = "equivalents"
of = "acetic-anhydride"
from = "4-aminophenol"
"""
"""Acetic anhydride declared in excess, over ranges in which it may run short."""


@cache
def banks() -> Banks:
    return load_banks(ROOT / "banks")


class Bench:
    """Templates written to a folder, and candidates whose given values stand in a table."""

    def __init__(self, folder: Path) -> None:
        """Write templates to this folder."""
        self.folder = folder

    def template(self, text: str, name: str = "made-up") -> Template:
        """A template; the head that every template has stands already."""
        path = self.folder / f"{name}.toml"
        path.write_text(f'title = "Made up"\ntopic = "tests"\ndifficulty = 1\n{text}', encoding="utf-8")
        return load_template(path, name, banks())

    @staticmethod
    def shipped(name: str) -> Template:
        """A template that comes with the program: "topic/name"."""
        path = ROOT / "templates" / f"{name}.toml"
        return load_template(path, path.stem, banks())

    @staticmethod
    def drawn(template: Template, size: int) -> Candidates:
        """So many candidates of a template, drawn."""
        return draw_candidates(template, Stream(b"drawn", "tests", "p1"), ["s"], 0, size)

    @staticmethod
    def candidates(template: Template, rows: Sequence[dict[str, str]]) -> Candidates:
        """Candidates by hand: a value for every given quantity, in the template's unit, with its digits."""
        told: list[Draw | Obtained | Fixed] = [*template.draws, *template.obtained, *template.fixed]
        units = {one.quantity.id: one.unit for one in told}
        fixed = {one.quantity.id: one.written.text for one in template.fixed}
        windows = {}
        for name, unit in units.items():
            numbers = [read_written({**fixed, **row}[name]) for row in rows]
            values = np.array([float(number.value) for number in numbers])
            places = np.array([number.place for number in numbers])
            windows[name] = given_window(values, places, read_unit(unit), Batch(), kind_named(name))
        return Candidates({}, windows)


@pytest.fixture
def bench(tmp_path: Path) -> Any:
    """A bench for templates."""
    return Bench(tmp_path)
