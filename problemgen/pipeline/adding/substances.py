"""A substance added to a course's bank: looked up, checked, told, written with what is left to fill in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from problemgen.errors import Fault, FaultsError
from problemgen.model.banks import Substance
from problemgen.pipeline.adding.completing import completed
from problemgen.pipeline.adding.drafts import Draft, entry_text
from problemgen.pipeline.adding.facts import (
    STATES,
    Facts,
    SubstanceWishes,
    check_typed,
    facts_of,
    hydrate_parts,
    positive,
)
from problemgen.pipeline.adding.gaps import Gap, gaps_of, gaps_there, notes, read_hazards
from problemgen.pipeline.adding.names import Names
from problemgen.pipeline.adding.questions import Ask, answered

__all__ = ["AddedSubstance", "add_substance"]


@dataclass(frozen=True)
class AddedSubstance:
    """The id of a substance, the draft that has it, and what to say.

    `left` is what is left to fill in.
    """

    id: str
    draft: Draft
    told: tuple[str, ...]
    left: tuple[Gap, ...] = ()


def add_substance(draft: Draft, text: str, wishes: SubstanceWishes, ask: Ask) -> AddedSubstance:
    """Add what a name, a CAS number or a SMILES means; one that is there already gets what is said of it otherwise.

    Raises:
        FaultsError: for what neither the banks nor the tables nor the author tell, what does not fit together, and what
            contradicts the banks.
    """
    check_typed(wishes)
    found = Names(draft.banks).find(text) or (Names(draft.banks).of_structure(wishes.smiles) if wishes.smiles else None)
    if found is not None:
        return _there(draft, *found, wishes, ask)
    told: list[str] = []
    left: list[Gap] = []
    dry = None if wishes.formula or wishes.smiles else _dry(draft, text, ask)
    if dry is not None:
        draft, told, left = dry.draft, list(dry.told), list(dry.left)
    facts = facts_of(text, wishes, draft.banks, draft.banks.substances[dry.id] if dry is not None else None)
    same = _same(draft, facts)
    if same is not None:
        return _there(draft, *same, wishes, ask)
    facts = _asked(facts, wishes, ask)
    draft = draft.with_entry("substances", _entry(facts))
    told += [*_told(facts), "  Written to banks/substances.toml."]
    left += gaps_of(facts)
    draft, more = _with_hazards(draft, facts, wishes, ask)
    left += more
    if wishes.concentration:
        draft, bottle = _with_bottle(draft, draft.banks.substances[facts.id], wishes, ask)
        told += bottle
    draft.banks  # noqa: B018 - what the banks would refuse is refused here
    return AddedSubstance(facts.id, draft, tuple(told), tuple(left))


def _there(draft: Draft, name: str, how: str, wishes: SubstanceWishes, ask: Ask) -> AddedSubstance:
    """A substance that the banks have, with what is said of it; of a solution that they do not, the bottle is added."""
    one = draft.banks.substances[name]
    told = [f"{one.name} ({one.formula.text}) is there already: id {one.id}, found by its {how}."]
    draft, more = completed(draft, one, wishes)
    told += more
    if wishes.concentration:
        draft, bottle = _with_bottle(draft, one, wishes, ask)
        told += bottle
    return AddedSubstance(name, draft, tuple(told), tuple(gaps_there(draft.banks, name)))


def _dry(draft: Draft, text: str, ask: Ask) -> AddedSubstance | None:
    """The anhydrous substance of a hydrate, added where it is not there; None for no hydrate, or one not known."""
    parts = hydrate_parts(text)
    if parts is None:
        return None
    try:
        found = add_substance(draft, parts[0], SubstanceWishes(), ask)
    except FaultsError:
        return None
    return found if found.draft is not draft else replace(found, told=())


def _same(draft: Draft, facts: Facts) -> tuple[str, str] | None:
    """A substance of the banks with this CAS number or structure."""
    names = Names(draft.banks)
    number = names.find(facts.cas) if facts.cas else None
    return number or (names.of_structure(facts.smiles) if facts.smiles else None)


def _asked(facts: Facts, wishes: SubstanceWishes, ask: Ask) -> Facts:
    """With what the author answers to questions about gaps."""
    called = ", ".join(filter(None, (facts.name, facts.formula, facts.cas)))
    if facts.state is None and not wishes.concentration:
        state = answered(ask, f"{called}: state at 25 °C, solid, liquid or gas (empty: left open)", "", _read_state)
        facts = replace(facts, state=state)
    if facts.state == "liquid" and facts.density is None:
        question = f"{called}: density at 20 °C in g/mL, from its label (empty: left open)"
        facts = replace(facts, density=answered(ask, question, "", _read_density), at="20 °C")
    return facts


def _read_state(text: str) -> str | None:
    if text and text not in STATES:
        raise FaultsError([Fault("add", "state", repr(text), f"one of {', '.join(STATES)}")])
    return text or None


def _read_density(text: str) -> Decimal | None:
    return positive("density", text, "g/mL") if text else None


def _entry(facts: Facts) -> str:
    """An entry without what is not known; a liquid without a density has no state yet: the bank would refuse it."""
    is_vague = facts.state == "liquid" and facts.density is None
    density = {"value": facts.density, "unit": "g/mL", "at": facts.at}
    if facts.table:
        density["source"] = f"chemicals: {facts.table}"
    told: dict[str, Any] = {
        "id": facts.id,
        "name": facts.name,
        "synonyms": list(facts.synonyms),
        "formula": facts.formula,
        "smiles": facts.smiles,
        "cas": facts.cas,
        "state": None if is_vague else facts.state,
        "density": None if facts.density is None else density,
        "hydrate_of": facts.hydrate_of,
        "source": facts.source,
    }
    values = {key: value for key, value in told.items() if value}
    remarks = {"state": facts.why_state, "density": "" if facts.table else "typed in: check it against the label"}
    return entry_text("[[substance]]", values, remarks, tuple(notes(facts)))


def _told(facts: Facts) -> Iterator[str]:
    yield f"{facts.name}: id {facts.id}"
    fits = " (its atoms are those of the formula)"
    density = f"{facts.density} g/mL at {facts.at}" + (f", from {facts.table}" if facts.table else ", as typed in")
    rows = (
        ("also", ", ".join(facts.synonyms)),
        ("formula", facts.formula),
        ("structure", f"{facts.smiles}{fits}" if facts.smiles else "none"),
        ("CAS number", facts.cas or "not known"),
        ("state", f"{facts.state or 'left open'}{f' ({facts.why_state})' if facts.why_state else ''}"),
        ("density", density if facts.density is not None else ""),
        ("hydrate of", facts.hydrate_of or ""),
        ("source", facts.source or "its author"),
    )
    yield from (f"  {label:<11} {text}" for label, text in rows if text)
    yield from (f"  remark: {one}" for one in facts.remarks)


def _with_hazards(draft: Draft, facts: Facts, wishes: SubstanceWishes, ask: Ask) -> tuple[Draft, list[Gap]]:
    """With the hazard statements that the author knows, and what is to say where there are none."""
    known = draft.banks.hazard_statements
    question = f"{facts.name}: hazards from its safety data sheet, such as Danger H225 H319 (empty: left open)"
    if wishes.hazards:
        values = read_hazards(wishes.hazards, known)
    else:
        values = answered(ask, question, "", lambda text: read_hazards(text, known))
    if not values:
        return draft, [Gap(facts.id, facts.name, "hazards")]
    return draft.with_entry("hazards", entry_text("[[hazard]]", {"of": facts.id, **values})), []


def _with_bottle(draft: Draft, of: Substance, wishes: SubstanceWishes, ask: Ask) -> tuple[Draft, list[str]]:
    """With the solution that is sold: its concentration, and the solvent where it is not water."""
    told: list[str] = []
    strength: Decimal = positive("concentration", wishes.concentration, "mol/L")
    values: dict[str, Any] = {
        "id": f"{of.id}-{wishes.concentration}",
        "name": f"{of.name} solution, {strength} mol/L",
        "of": of.id,
        "concentration": {"value": strength, "unit": "mol/L"},
    }
    if wishes.solvent:
        solvent = add_substance(draft, wishes.solvent, SubstanceWishes(), ask)
        told += list(solvent.told) if solvent.draft is not draft else []
        draft = solvent.draft
        name = draft.banks.substances[solvent.id].name
        values |= {"id": f"{values['id']}-in-{solvent.id}", "name": f"{of.name}, {strength} mol/L in {name}"}
        if solvent.id != "water":
            values["solvent"] = solvent.id
    if values["id"] in draft.banks.bottles:
        return draft, [*told, f"The bottle {values['name']} is there already: id {values['id']}."]
    remarks = {"concentration": "what the label says: check it"}
    draft = draft.with_entry("bottles", entry_text("[[bottle]]", values, remarks))
    return draft, [*told, f"  Written to banks/bottles.toml: {values['name']}, id {values['id']}."]
