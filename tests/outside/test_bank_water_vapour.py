"""The bank's vapour pressure of water against the `chemicals` package and against handbook values.

`chemicals` computes the newer IAPWS-95 formulation; the bank's table is from the older saturation equation of 1993.
"""

from __future__ import annotations

import tomllib
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from chemicals import iapws

from problemgen.load.banks.banks import load_banks
from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"
TABLE = {
    row["celsius"]: row["kilopascals"]
    for row in tomllib.loads((BANKS / "water_vapour.toml").read_text(encoding="utf-8"), parse_float=Decimal)["pressure"]
}
# Wall tables, in millimetres of mercury.
MILLIMETRES = {0: "4.579", 10: "9.209", 15: "12.788", 20: "17.535", 25: "23.756", 30: "31.824", 40: "55.324"}


def test_every_degree_from_0_to_40_stands_once() -> None:
    assert list(TABLE) == list(range(41))


@for_every(TABLE)
def test_four_figures(celsius: int) -> None:
    assert len(TABLE[celsius].as_tuple().digits) == 4


@pytest.mark.source("chemicals: the saturation pressure; wagner-pruss-2002: the formulation that it computes")
@for_every(TABLE)
def test_agrees_with_chemicals(celsius: int) -> None:
    # 0.06 %: rounding to four figures moves a value by up to 0.05 %, and the two equations differ by less than 0.01 %.
    assert float(TABLE[celsius]) == pytest.approx(iapws.iapws95_Psat(celsius + 273.15) / 1000, rel=6e-4)


@pytest.mark.source(
    "crc-handbook: vapour pressure of water in millimetres of mercury; "
    "nist-sp-811-2008 B.8: the conventional millimetre of mercury, 0.133322387415 kPa"
)
@for_every(MILLIMETRES)
def test_agrees_with_wall_tables(celsius: int) -> None:
    # 0.15 %: those tables are older than the equation.
    assert float(TABLE[celsius]) == pytest.approx(float(MILLIMETRES[celsius]) * 0.133322387415, rel=1.5e-3)


def test_the_loaded_record_keeps_the_digits() -> None:
    loaded = load_banks(BANKS).water_vapour
    assert {celsius: pressure.text for celsius, pressure in loaded.items()} == {c: str(p) for c, p in TABLE.items()}
    assert (loaded[25].value, loaded[25].figures) == (Fraction("3.170"), 4)
