"""What is said of a substance that the banks have: put into its entry, in the course's own banks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.salts import is_organometallic, written_formula
from problemgen.chemistry.structure import structure_composition, structure_key
from problemgen.errors import FormulaError
from problemgen.load.banks.compounds import Compound, look_up
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Banks, Substance
from problemgen.pipeline.adding.drafts import Draft
from problemgen.pipeline.adding.entries import Bank, is_own, with_values
from problemgen.pipeline.adding.facts import SubstanceWishes, positive
from problemgen.pipeline.adding.gaps import read_hazards, without_notes
from problemgen.pipeline.adding.names import Names

__all__ = ["completed"]


def completed(draft: Draft, one: Substance, wishes: SubstanceWishes) -> tuple[Draft, list[str]]:
    """A draft with what an author says of a substance that is there, and what to say; the same where it is so already.

    What is empty stays as it is. The wishes can be read (`facts.check_typed`).

    Raises:
        FaultsError: for what contradicts the banks, all at once: a formula of other atoms, a structure of other atoms
            or of another substance, another substance's name, a liquid without a density, codes that no statement has.
    """
    changes = _changes(draft.banks, one, wishes)
    told = []
    wanted: tuple[tuple[Bank, Mapping[str, Any]], ...] = (("substance", changes.values), ("hazard", changes.hazards))
    for bank, values in wanted:
        if values:
            there = is_own(draft, bank, one.id)
            draft = with_values(draft, bank, one.id, values, without_notes if "state" in values else str)
            told.append(_told(bank, values, own=there))
    if told:
        draft.banks  # noqa: B018 - what the banks would refuse is refused here
    return draft, told


def _told(bank: Bank, values: Mapping[str, Any], *, own: bool) -> str:
    said = ", ".join(values) if bank == "substance" else "hazards"
    how = "in its entry in" if own else "in an entry of the course in"
    return f"  {said}: written {how} banks/{bank}s.toml."


@dataclass(frozen=True)
class _Changes:
    """What the entries of a substance and of its hazards are to have otherwise."""

    values: Mapping[str, Any] = field(default_factory=dict)
    hazards: Mapping[str, Any] = field(default_factory=dict)


def _changes(banks: Banks, one: Substance, wishes: SubstanceWishes) -> _Changes:
    faults = FaultLog("add")
    _check_formula(faults, one, wishes)
    values = {
        **_name(faults, banks, one, wishes),
        **_structure(faults, banks, one, wishes),
        **_state(faults, one, wishes),
    }
    known = banks.hazard_statements
    read = faults.tried(lambda: read_hazards(wishes.hazards, known)) or {}
    faults.stop()
    return _Changes(values, _hazards(banks, one, read))


def _check_formula(faults: FaultLog, one: Substance, wishes: SubstanceWishes) -> None:
    """The banks' formula is not overwritten: another one is another substance, or a slip."""
    if not wishes.formula:
        return
    said = read_formula(wishes.formula)
    if (said.composition, said.charge) != (one.formula.composition, one.formula.charge):
        faults.add("formula", said.text, f"{one.formula.text}, as the banks have {one.name}", _OTHER)


_OTHER = "Another substance needs a name of its own; a wrong entry of the course is put right in its file."


def _name(faults: FaultLog, banks: Banks, one: Substance, wishes: SubstanceWishes) -> Mapping[str, Any]:
    """A name by which nobody is known yet is one more of its synonyms."""
    if not wishes.name:
        return {}
    found = Names(banks).find(wishes.name)
    if found is not None:
        if found[0] != one.id:
            faults.add("name", f"{wishes.name!r}, a name of {found[0]!r}", f"a name of {one.id!r}, or a new one")
        return {}
    compound = look_up(wishes.name)
    if compound is not None and not _is_of(compound, one):
        found_there = f"{wishes.name!r}, which the tables have as CAS {compound.cas}"
        faults.add("name", found_there, f"a name of {one.id!r}")
    return {"synonyms": [*one.synonyms, wishes.name]}


def _is_of(compound: Compound, one: Substance) -> bool:
    """Whether a row of the tables may be of a substance: of its structure, where both have one, and of its atoms."""
    if one.cas is not None and compound.cas == one.cas:
        return True
    try:
        if one.smiles is not None and compound.smiles:
            return structure_key(compound.smiles) == structure_key(one.smiles)
        return dict(read_formula(compound.formula).composition) == dict(one.formula.composition)
    except FormulaError:
        return False


def _structure(faults: FaultLog, banks: Banks, one: Substance, wishes: SubstanceWishes) -> Mapping[str, Any]:
    smiles = wishes.smiles
    if not smiles or is_organometallic(smiles):
        return {}
    if dict(structure_composition(smiles)) != dict(one.formula.composition):
        found = f"{smiles!r}, which is {written_formula(smiles)}"
        faults.add("smiles", found, f"a structure of the formula {one.formula.text}, as the banks have {one.name}")
        return {}
    if one.smiles is not None and structure_key(smiles) == structure_key(one.smiles):
        return {}
    other = Names(banks).of_structure(smiles)
    if other is not None:
        faults.add("smiles", f"{smiles!r}, the structure of {other[0]!r}", f"that of {one.id!r}", _OTHER)
    return {"smiles": smiles}


def _state(faults: FaultLog, one: Substance, wishes: SubstanceWishes) -> Mapping[str, Any]:
    """State and density: a liquid has both, and a density needs a state."""
    values: dict[str, Any] = {}
    if wishes.density:
        density = positive("density", wishes.density, "g/mL")
        said = (format(density, "f"), wishes.at)
        if one.density is None or said != (one.density.value.text, one.density.at or wishes.at):
            values["density"] = {"value": density, "unit": "g/mL", "at": wishes.at}
    state = wishes.state or one.state or (_state_of_tables(one) if values else None)
    if state is None and values:
        faults.add("state", "a density without a state", "the state at 25 °C beside it: solid, liquid or gas")
    if state == "liquid" and one.density is None and not values:
        faults.add("density", "nothing", "a density in g/mL beside the state of a liquid")
    if state != one.state:
        values["state"] = state
    return values


def _state_of_tables(one: Substance) -> str | None:
    """The state at 25 °C that the tables know of a substance."""
    for text in filter(None, (one.cas, one.name)):
        found = look_up(text)
        if found is not None and _is_of(found, one):
            return found.state
    return None


def _hazards(banks: Banks, one: Substance, said: Mapping[str, Any]) -> Mapping[str, Any]:
    """Signal word and codes, where they are others; pictograms of ours go, for they follow from the codes."""
    before = banks.hazards.get(one.id)
    if not said or (before and (before.signal, set(before.codes)) == (said["signal"], set(said["codes"]))):
        return {}
    return {**({"pictograms": None} if before and before.pictograms else {}), **said}
