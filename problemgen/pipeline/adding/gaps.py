"""What nobody knows of a substance yet: told, kept in its entry ready to be filled in, read when it is typed."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

from problemgen.chemistry.formula import read_formula
from problemgen.errors import Fault, FaultsError
from problemgen.model.banks import Banks
from problemgen.pipeline.adding.facts import Facts

__all__ = ["Gap", "Lacking", "gaps_of", "gaps_there", "notes", "read_hazards", "without_notes"]

Lacking: TypeAlias = Literal["density", "state", "structure", "hazards"]

_SIGNALS = ("Danger", "Warning")

_DRAWN = frozenset(["C", "H", "N", "O", "F", "P", "S", "Cl", "Br", "I", "Si", "B"])
"""The elements of what is drawn as a skeleton; of anything else a formula says enough."""

_WORDS: Mapping[Lacking, str] = {
    "density": "density, in banks/substances.toml (or --density); until then it is weighed, not poured",
    "state": "state at 25 °C, in banks/substances.toml (or --state); until then it is weighed",
    "structure": "structure, in banks/substances.toml (or --smiles); until then sheets show its formula",
    "hazards": (
        "hazard statements, in banks/hazards.toml (or --hazards); until then sheets say that none are on file and to "
        "read the safety data sheet"
    ),
}


@dataclass(frozen=True)
class Gap:
    """What is left to fill in of a substance."""

    id: str
    name: str
    what: Lacking

    @property
    def told(self) -> str:
        """What it is and where it is filled in, as the command line says it."""
        return _WORDS[self.what]


def gaps_of(facts: Facts) -> Iterator[Gap]:
    """What a new entry lacks; its hazards are told apart."""
    if facts.state == "liquid" and facts.density is None:
        yield Gap(facts.id, facts.name, "density")
    if facts.state is None and not facts.why_state:
        yield Gap(facts.id, facts.name, "state")
    if facts.smiles is None and _is_drawn(facts.formula):
        yield Gap(facts.id, facts.name, "structure")


def gaps_there(banks: Banks, name: str) -> Iterator[Gap]:
    """What an entry of the banks lacks."""
    one = banks.substances[name]
    if one.state is None and all(bottle.of != name for bottle in banks.bottles.values()):
        yield Gap(name, one.name, "state")
    if one.smiles is None and _is_drawn(one.formula.text):
        yield Gap(name, one.name, "structure")
    if name not in banks.hazards:
        yield Gap(name, one.name, "hazards")


def _is_drawn(formula: str) -> bool:
    elements = read_formula(formula).composition.keys()
    return {"C", "H"} <= elements <= _DRAWN


_LIQUID = (
    "Both lines together, when the density is known; until then it is weighed.",
    'state = "liquid"',
    'density = { value = 1.000, unit = "g/mL", at = "20 °C" }',
)
_OPEN = 'state = "solid"   # or "liquid" with a density, or "gas"'
_NOTE = re.compile(rf"# (?:{'|'.join(map(re.escape, _LIQUID))}|{re.escape(_OPEN)}.*)\n?")


def notes(facts: Facts) -> Iterator[str]:
    """The lines of an entry that are to be filled in, ready to be."""
    if facts.state == "liquid" and facts.density is None:
        yield from _LIQUID
    elif facts.state is None:
        why = f": {facts.why_state}" if facts.why_state else ", to be filled in"
        yield f"{_OPEN}{why}"


def without_notes(entry: str) -> str:
    """An entry without these lines: what they ask for stands above them now."""
    return "".join(line for line in entry.splitlines(keepends=True) if not _NOTE.fullmatch(line))


def read_hazards(text: str, known: Container[str]) -> Mapping[str, Any]:
    """The signal word and the codes of a text; empty for an empty one. Raises FaultsError for all unknown codes."""
    words = [one for one in re.split(r"[\s,;]+", text.strip()) if one]
    signal = words[0].capitalize() if words and words[0].capitalize() in _SIGNALS else ""
    codes = words[1:] if signal else words
    expected = "codes of the UN GHS behind Danger or Warning, such as Danger H225 H319"
    wrong = [Fault("add", "hazards", repr(code), expected) for code in codes if code not in known]
    if wrong:
        raise FaultsError(wrong)
    return {"signal": signal, "codes": codes} if words else {}
