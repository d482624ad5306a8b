"""What the installed tables of the `chemicals` package tell of a compound: its identity, its state, its density.

The tables lie on the disk; nothing is asked of a network. What they lack is left out: nothing is estimated, for an
estimate would stand on a sheet as a figure of the substance.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import chemicals
from chemicals import volume
from chemicals.identifiers import get_pubchem_db

from problemgen.chemistry.structure import oxidation_numbers, structure_composition, structure_key
from problemgen.errors import FormulaError

__all__ = ["ROOM", "Compound", "Density", "look_up"]

ROOM = 25.0
"""The temperature in °C at which banks tell a substance's state."""

_ZERO = 273.15
_AT = 20
"""The temperature in °C at which handbooks tell the density of a liquid, and glassware is adjusted."""

_CAS = re.compile(r"[0-9]{2,7}-[0-9]{2}-[0-9]")
_NUMERAL = re.compile(r"\s*\((0|[IVX]+)\)", re.IGNORECASE)
_ROMAN = {"0": 0, "i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8}
_OF_TABLES = re.compile(r"[;]|\([A-Z]|(?:fluor|chlor|brom|iod|oxid|sulf|az)anyl|[^ -~]")
"""What shows that a name was made by a program, of a sort that no label bears: "bromanylethane", "lithium;benzene"."""
_ESTIMATED = frozenset({"JOBACK", "DEFINITION"})
"""Methods of the package that take a melting or boiling point from the structure instead of a table."""


@dataclass(frozen=True)
class Density:
    """A liquid's density in g/mL, as written, at a temperature in °C, and the table that it is from."""

    text: str
    celsius: int
    table: str


@dataclass(frozen=True)
class Compound:
    """A compound of the tables; `formula` is the molecular one.

    `melting` and `boiling` are in °C; `names` has those that a label may bear.
    """

    names: tuple[str, ...]
    cas: str
    formula: str
    smiles: str
    melting: float | None
    boiling: float | None
    density: Density | None

    @property
    def state(self) -> str | None:
        """The state at 25 °C; None where the points do not tell, or contradict each other."""
        melts, boils = self.melting, self.boiling
        if melts is not None and boils is not None and melts > boils:
            return None
        if melts is not None and melts > ROOM:
            return "solid"
        if boils is not None and boils <= ROOM:
            return "gas"
        return "liquid" if melts is not None and boils is not None else None


def look_up(text: str) -> Compound | None:
    """The compound that a name, a CAS number or a SMILES means; None where the tables have none.

    A name is tried without its oxidation number too, where what is found has a metal of that number.
    """
    if not text.strip():
        return None
    found = _found(text, whole=False)
    return found if found is not None else _found(text, whole=True)


def _found(text: str, *, whole: bool) -> Compound | None:
    """The same in the short table of common compounds, which is read in a second, or in the whole one, in six."""
    rows = get_pubchem_db()
    if _CAS.fullmatch(text):
        return _compound(rows.search_CAS(text, whole))
    try:
        structure_composition(text)
    except FormulaError:
        name = text.lower()
        found = _compound(rows.search_name(name, whole))
        numeral = _NUMERAL.search(name)
        if found is not None or numeral is None:
            return found
        found = _compound(rows.search_name(_NUMERAL.sub("", name), whole))
        fits = found is not None and _ROMAN.get(numeral[1]) in oxidation_numbers(found.smiles)
        return found if fits else None
    return _compound(rows.search_InChI_key(structure_key(text), whole))


def _compound(row: Any) -> Compound | None:
    """A row of the tables as a record; None for no row, or one whose structure cannot be read."""
    if not row:
        return None
    try:
        structure_composition(row.smiles)
    except FormulaError:
        return None
    cas = row.CASs
    told = dict.fromkeys(str(one) for one in (row.common_name, row.iupac_name) if one)
    names = tuple(one for one in told if not _OF_TABLES.search(one))
    melting = _celsius(chemicals.Tm, chemicals.Tm_methods, cas)
    boiling = _celsius(chemicals.Tb, chemicals.Tb_methods, cas)
    found = Compound(names, cas, row.formula, row.smiles, melting, boiling, None)
    return replace(found, density=_density(cas, float(row.MW))) if found.state == "liquid" else found


def _celsius(point: Callable[..., Any], methods: Callable[[str], Any], cas: str) -> float | None:
    """A melting or boiling point in °C, of the first table that has one."""
    measured = next((one for one in methods(cas) if one not in _ESTIMATED), None)
    return None if measured is None else round(float(point(cas, method=measured)) - _ZERO, 1)


def _density(cas: str, molar_mass: float) -> Density | None:
    """The density of a liquid at 20 °C, of the first table that has it."""
    for table, found in _densities(cas, _AT + _ZERO, molar_mass):
        return Density(f"{found:.3f}", _AT, table)
    return None


def _densities(cas: str, kelvins: float, molar_mass: float) -> Iterator[tuple[str, float]]:
    """What each table tells, g/mL: the equations are the package's own, the units those of its tables."""
    perry, atlas = volume.rho_data_Perry_8E_105_l, volume.rho_data_VDI_PPDS_2
    line = volume.rho_data_CRC_inorg_l
    if cas in perry.index and cas != "7732-18-5":  # water's row is of another equation
        row = perry.loc[cas]
        per_volume = row.C1 / row.C2 ** (1 + (1 - kelvins / row.C3) ** row.C4)  # mol/m³
        yield "Perry's Handbook, DIPPR equation 105", float(per_volume) * molar_mass / 1e6
    if cas in atlas.index:
        row = atlas.loc[cas]
        left = 1 - kelvins / row.Tc
        powers = (left**0.35, left ** (2 / 3), left, left ** (4 / 3))
        terms = (factor * power for factor, power in zip((row.A, row.B, row.C, row.D), powers, strict=True))
        yield "VDI Heat Atlas", float(row.rhoc + sum(terms)) / 1000
    if cas in line.index:
        row = line.loc[cas]
        yield "CRC Handbook, inorganic liquids", float(row.rho - row.k * (kelvins - row.Tm)) / 1000
