"""What is to stand in the bank of a substance: what its author says, else what the tables have, else what follows."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from typing import NoReturn

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.salts import is_organometallic, written_formula
from problemgen.chemistry.structure import structure_composition
from problemgen.errors import Fault, FaultsError, FormulaError
from problemgen.load.banks.compounds import Compound, look_up
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Banks, Substance
from problemgen.pipeline.adding.names import Names, id_of

__all__ = ["STATES", "Facts", "SubstanceWishes", "check_typed", "facts_of", "hydrate_parts", "positive"]

STATES = ("solid", "liquid", "gas")

_WATERS = {
    "mono": 1, "di": 2, "tri": 3, "tetra": 4, "penta": 5, "hexa": 6, "hepta": 7, "octa": 8, "nona": 9, "deca": 10,
    "undeca": 11, "dodeca": 12, "hexadeca": 16, "octadeca": 18,
}  # fmt: skip
_HYDRATE = re.compile(rf"(.+?)[\s-]+({'|'.join(_WATERS)})hydrate", re.IGNORECASE)
_IDENTITY = "chemicals: name, CAS number, structure, melting and boiling point"


@dataclass(frozen=True)
class SubstanceWishes:
    """What an author says of a substance; "" where the tables are asked.

    density: g/mL, `at` a temperature. concentration: mol/L, of the solution that is sold, in a `solvent`. hazards:
    signal word and codes, "Danger H225 H319".
    """

    name: str = ""
    formula: str = ""
    smiles: str = ""
    state: str = ""
    density: str = ""
    at: str = "20 °C"
    concentration: str = ""
    solvent: str = ""
    hazards: str = ""


@dataclass(frozen=True)
class Facts:
    """A substance as it is to be written. `density` in g/mL; `remarks` tell what was left out, and why."""

    id: str
    name: str
    formula: str
    synonyms: tuple[str, ...] = ()
    smiles: str | None = None
    cas: str | None = None
    state: str | None = None
    why_state: str = ""
    density: Decimal | None = None
    at: str = ""
    table: str = ""
    hydrate_of: str | None = None
    source: str = ""
    remarks: tuple[str, ...] = ()


def hydrate_parts(name: str) -> tuple[str, int] | None:
    """The name of the anhydrous substance and the number of waters; None for no hydrate.

    >>> hydrate_parts("nickel(II) chloride hexahydrate")
    ('nickel(II) chloride', 6)
    """
    match = _HYDRATE.fullmatch(name.strip())
    return (match[1], _WATERS[match[2].lower()]) if match else None


def positive(key: str, text: str, unit: str) -> Decimal:
    """A number above 0 that was typed. Raises FaultsError."""
    try:
        number = Decimal(text)
    except InvalidOperation:
        number = Decimal(0)
    if not number.is_finite() or number <= 0:
        raise FaultsError([Fault("add", key, repr(text), f"a number above 0, in {unit}, such as 0.910")])
    return number


def facts_of(text: str, wishes: SubstanceWishes, banks: Banks, dry: Substance | None) -> Facts:
    """The facts of a substance that is not in the banks; `dry` is what a hydrate is without its water.

    Raises:
        FaultsError: for what neither the tables nor the author tell, and what does not fit together.
    """
    compound = look_up(text)
    if compound is not None and _is_ion(compound):
        compound = None
    formula, smiles = _composition(text, wishes, compound, dry)
    remarks: tuple[str, ...] = ()
    if compound is not None and not _fits(formula, compound):
        remarks = (_differs(compound),)
        compound = None
    name = wishes.name or _name(text, compound)
    if not name:
        hint = f"problemgen add substance {text!r} --name NAME"
        raise FaultsError([Fault("add", "name", "a structure that has no name in the tables", "`--name`", hint)])
    found = Facts(id_of(name), name, formula, smiles=smiles, remarks=remarks)
    if dry is not None:
        found = replace(found, hydrate_of=dry.id)
    if not found.id:
        raise FaultsError([Fault("add", "name", repr(name), "a name with letters or figures from a to z")])
    if found.id in banks.substances:
        raise FaultsError([Fault("add", "name", f"{name!r}, the id of another substance", "another name")])
    if compound is not None:
        found = replace(
            found, cas=compound.cas, source=_IDENTITY, synonyms=tuple(_synonyms(compound, name, Names(banks)))
        )
    return _with_state(found, wishes, compound)


def check_typed(wishes: SubstanceWishes) -> None:
    """Refuse what cannot be meant. Raises FaultsError with all of it at once."""
    faults = FaultLog("add")
    if wishes.state and wishes.state not in STATES:
        faults.unknown("state", wishes.state, STATES)
    for key, text, unit in (
        ("density", wishes.density, "g/mL"),
        ("concentration", wishes.concentration, "mol/L"),
    ):
        if text:
            faults.tried(lambda key=key, text=text, unit=unit: positive(key, text, unit))  # type: ignore[misc]
    if wishes.solvent and not wishes.concentration:
        faults.add("solvent", "a solvent without a concentration", "`--concentration`, in mol/L, beside it")
    if wishes.formula:
        _check_read(faults, "formula", wishes.formula, read_formula)
    if wishes.smiles:
        _check_read(faults, "smiles", wishes.smiles, structure_composition)
    faults.stop()


def _check_read(faults: FaultLog, key: str, text: str, read: Callable[[str], object]) -> None:
    try:
        read(text)
    except FormulaError as error:
        faults.add(key, str(error), "one that can be read")


def _composition(
    text: str, wishes: SubstanceWishes, compound: Compound | None, dry: Substance | None
) -> tuple[str, str | None]:
    """The formula as it is written, and the structure that goes with it, where there is one. Raises FaultsError."""
    typed = wishes.smiles or (text if _is_structure(text) else "")
    smiles = typed or (compound.smiles if compound is not None else "")
    waters = hydrate_parts(text)
    if wishes.formula:
        formula = read_formula(wishes.formula).text
        if typed and not _same_atoms(formula, typed):
            found = f"{typed!r}, which is {written_formula(typed)}"
            raise FaultsError([Fault("add", "smiles", found, f"a structure of the formula {formula}")])
    elif dry is not None and waters is not None:
        number = waters[1]
        formula = read_formula(f"{dry.formula.text}.{number if number > 1 else ''}H2O").text
    elif smiles:
        formula = written_formula(smiles)
    else:
        _refuse(text)
    drawn = bool(smiles) and _same_atoms(formula, smiles) and not is_organometallic(smiles)
    return formula, smiles if drawn else None


def _refuse(text: str) -> NoReturn:
    hint = f"Say what it is: problemgen add substance {text!r} --formula C10H12O2, or --smiles."
    found = f"{text!r}, which neither the banks nor the tables of the chemicals package have"
    raise FaultsError([Fault("add", "", found, "a name, a CAS number or a SMILES of a compound", hint)])


def _differs(compound: Compound) -> str:
    return f"the tables have it as {compound.formula} (CAS {compound.cas}), other atoms: nothing was taken from them"


def _is_structure(text: str) -> bool:
    try:
        structure_composition(text)
    except FormulaError:
        return False
    return True


def _same_atoms(formula: str, smiles: str) -> bool:
    return dict(read_formula(formula).composition) == dict(structure_composition(smiles))


def _is_ion(compound: Compound) -> bool:
    """Whether a row of the tables is an ion's, or its formula cannot be read: that is no substance of a bottle."""
    try:
        return read_formula(compound.formula).charge != 0
    except FormulaError:
        return True


def _fits(formula: str, compound: Compound) -> bool:
    """Whether the tables' formula and their structure both have the atoms of a formula."""
    atoms = dict(read_formula(formula).composition)
    return atoms == dict(read_formula(compound.formula).composition) and _same_atoms(formula, compound.smiles)


def _name(text: str, compound: Compound | None) -> str:
    """What the author typed, where it is a name; else what the tables call it."""
    is_name = not _is_structure(text) and not re.fullmatch(r"[0-9-]+", text)
    if is_name:
        return text.strip()
    return compound.names[0] if compound is not None and compound.names else ""


def _synonyms(compound: Compound, name: str, names: Names) -> Iterator[str]:
    """The names of the tables that are no other substance's, and not this one's spelt otherwise."""
    seen = {id_of(name)}
    for one in compound.names:
        if id_of(one) not in seen and names.find(one) is None:
            seen.add(id_of(one))
            yield one


def _with_state(found: Facts, wishes: SubstanceWishes, compound: Compound | None) -> Facts:
    """With the state at 25 °C and, for a liquid, the density: a liquid without one cannot stand in the bank."""
    if wishes.concentration and not wishes.state:
        return replace(found, why_state="at hand in solution only")
    state = wishes.state or (compound.state if compound is not None else None)
    why = "" if wishes.state else _points(compound)
    if wishes.density:
        found = replace(found, density=positive("density", wishes.density, "g/mL"), at=wishes.at)
    elif state == "liquid" and compound is not None and compound.density is not None:
        one = compound.density
        found = replace(found, density=Decimal(one.text), at=f"{one.celsius} °C", table=one.table)
    return replace(found, state=state, why_state=why)


def _points(compound: Compound | None) -> str:
    """The points from which a state follows: "melts at 53 °C, boils at 202 °C"."""
    if compound is None:
        return ""
    told: Mapping[str, float | None] = {"melts": compound.melting, "boils": compound.boiling}
    return ", ".join(f"{verb} at {point:g} °C".replace("-", "−") for verb, point in told.items() if point is not None)
