"""The banks: files as records, with every relation between them checked."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from problemgen.chemistry.equation import Equation, Term, check_balanced
from problemgen.errors import FormulaError, UnbalancedError
from problemgen.exact.digits import Written
from problemgen.load.bank_documents import (
    BottlesDocument,
    ElementsDocument,
    GlasswareDocument,
    HazardsDocument,
    ReactionsDocument,
    SourcesDocument,
    SubstancesDocument,
    WaterVapourDocument,
)
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.sources import check_document
from problemgen.model.banks import Banks, Bottle, Glassware, Reaction, Source, Substance, VapourPressure
from problemgen.model.document import Document
from problemgen.model.hazards import Hazard
from problemgen.model.problem import Constant

__all__ = ["load_banks", "load_weights"]

D = TypeVar("D", bound=Document)
T = TypeVar("T")

_CAS = re.compile(r"([0-9]{2,7})-([0-9]{2})-([0-9])")


def load_weights(folder: Path) -> tuple[Mapping[str, Constant], str]:
    """The atomic weights by symbol (g/mol), and the name of their edition. Raises FaultsError."""
    document = read_document(folder / "elements.toml", ElementsDocument, "banks/elements.toml")
    return _weights(document), document.about.edition


def _weights(document: ElementsDocument) -> dict[str, Constant]:
    return {element.symbol: element.constant for element in document.element}


def load_banks(folder: Path) -> Banks:
    """All banks of a folder.

    Raises:
        FaultsError: all faults of all files at once: notation, keys that stand twice, formulas, CAS check digits,
            neat liquids without a density, hydrates that are not the anhydrous substance and water, equations that do
            not balance, products that are none, laboratory reagents without a hazard entry, vapour pressures that do
            not rise, references to what is not there, citations of no source.
    """
    faults = FaultLog("banks")
    files = _Files(faults, folder)
    elements = files.read("elements", ElementsDocument)
    weights = _weights(elements) if elements else {}
    substances = _Substances(faults, files.read("substances", SubstancesDocument), weights)
    bottles = files.read("bottles", BottlesDocument)
    reactions = files.read("reactions", ReactionsDocument)
    glassware = files.read("glassware", GlasswareDocument)
    hazards = files.read("hazards", HazardsDocument)
    water_vapour = files.read("water_vapour", WaterVapourDocument)
    banks = Banks(
        weights=weights,
        edition=elements.about.edition if elements else "",
        substances=substances.by_id,
        bottles=_bottles(_at(faults, "bottles"), bottles.bottle if bottles else (), substances),
        reactions=_reactions(_at(faults, "reactions"), reactions.reaction if reactions else (), substances),
        glassware=_glassware(_at(faults, "glassware"), glassware.glassware if glassware else ()),
        hazards=_hazards(_at(faults, "hazards"), hazards, substances) if hazards else {},
        hazard_statements={one.code: one.text for one in hazards.statement} if hazards else {},
        water_vapour=_water_vapour(_at(faults, "water_vapour"), water_vapour.pressure if water_vapour else ()),
        sources=files.sources,
    )
    _check_warned(_at(faults, "hazards"), banks)
    faults.stop()
    return banks


def _at(faults: FaultLog, name: str) -> FaultLog:
    return faults.of(f"banks/{name}.toml")


class _Files:
    """The bank files of a folder, read with their faults kept; what they cite is checked while they are."""

    def __init__(self, faults: FaultLog, folder: Path) -> None:
        """Read the sources; without them no citation is a fault."""
        self._faults = faults
        self._folder = folder
        self.sources: dict[str, Source] = {}
        document = self.read("sources", SourcesDocument)
        if document is not None:
            kinds = (document.publication, document.package, document.statement)
            self.sources = _unique(_at(faults, "sources"), ((one.id, one) for kind in kinds for one in kind))
            check_document(_at(faults, "sources"), document, self.sources)

    def read(self, name: str, shape: type[D]) -> D | None:
        """A bank file; None where it cannot be read."""
        file = f"banks/{name}.toml"
        document = self._faults.tried(lambda: read_document(self._folder / f"{name}.toml", shape, file))
        if document is not None and self.sources:
            check_document(self._faults.of(file), document, self.sources)
        return document


def _unique(faults: FaultLog, things: Iterable[tuple[str, T]]) -> dict[str, T]:
    """The things by key; a key that stands twice is a fault."""
    found: dict[str, T] = {}
    for key, thing in things:
        if key in found:
            faults.add(key, "the same id twice", "an id of its own for each entry")
        found[key] = thing
    return found


class _Substances:
    """The substances, checked, and the references of other entries to them."""

    def __init__(self, faults: FaultLog, document: SubstancesDocument | None, weights: Mapping[str, Constant]) -> None:
        """Check each; without a document nothing that refers to a substance is a fault."""
        self._faults = _at(faults, "substances")
        self._is_read = document is not None
        self._readable: set[str] = set()
        entries = document.substance if document else ()
        self.by_id = _unique(self._faults, ((one.id, one) for one in entries))
        for one in entries:
            self._check_alone(one, weights)
        for one in entries:
            self._check_hydrate(one)

    def refer(self, faults: FaultLog, key: str, name: str) -> None:
        """Keep a fault where a name is no substance's."""
        if self._is_read and name not in self.by_id:
            faults.unknown(key, name, self.by_id, "the id of a substance in banks/substances.toml")

    def have_formulas(self, names: Iterable[str]) -> bool:
        """Whether all of these are substances whose formulas can be read."""
        return self._readable.issuperset(names)

    def _check_alone(self, one: Substance, weights: Mapping[str, Constant]) -> None:
        faults = self._faults.at(one.id)
        if one.cas is not None and not _right_cas(one.cas):
            faults.add("cas", repr(one.cas), "a CAS number whose check digit fits")
        if one.state == "liquid" and one.density is None:
            faults.add("density", "nothing", "a density for every neat liquid")
        try:
            missing = sorted(one.formula.composition.keys() - weights.keys()) if weights else []
        except FormulaError as error:
            faults.add("formula", str(error), "a chemical formula")
            return
        self._readable.add(one.id)
        if missing:
            faults.add("formula", ", ".join(missing), "elements with an atomic weight in banks/elements.toml")

    def _check_hydrate(self, hydrate: Substance) -> None:
        """A hydrate's atoms are those of the anhydrous substance and of the water written behind the dot."""
        name, faults = hydrate.hydrate_of, self._faults.at(hydrate.id)
        if name is None:
            return
        self.refer(faults, "hydrate_of", name)
        if not self.have_formulas((hydrate.id, name)):
            return
        dry, waters = self.by_id[name].formula, hydrate.formula.waters
        expected = Counter(dry.composition)
        expected.update({"H": 2 * waters, "O": waters})
        if not waters or dry.waters or expected != hydrate.formula.composition:
            found = f"{hydrate.formula.text} of {dry.text}"
            faults.add("hydrate_of", found, "the anhydrous substance, and water behind a dot")


def _right_cas(text: str) -> bool:
    """Whether a CAS Registry Number's check digit fits: the digits before it, weighted 1, 2, 3 … from the right."""
    match = _CAS.fullmatch(text)
    if match is None:
        return False
    digits = reversed(match[1] + match[2])
    return sum(place * int(digit) for place, digit in enumerate(digits, start=1)) % 10 == int(match[3])


def _bottles(faults: FaultLog, bottles: Sequence[Bottle], substances: _Substances) -> dict[str, Bottle]:
    for one in bottles:
        substances.refer(faults, f"{one.id}.of", one.of)
    return _unique(faults, ((one.id, one) for one in bottles))


def _reactions(faults: FaultLog, reactions: Iterable[Reaction], substances: _Substances) -> dict[str, Reaction]:
    """The reactions whose equations can be read, by id."""
    readable = [one for one in reactions if _check_terms(faults.at(one.id), one)]
    for one in readable:
        for name in one.coefficients:
            substances.refer(faults, f"{one.id}.equation", name)
        for name in one.auxiliaries:
            substances.refer(faults, f"{one.id}.auxiliaries", name)
            if one.coefficients.get(name, 0) < 0:
                faults.add(f"{one.id}.auxiliaries", repr(name), "no reagent of the equation again")
        _check_places(faults.at(one.id), one)
        if substances.have_formulas(one.coefficients):
            _check_balance(faults.at(one.id), one, substances.by_id)
    return _unique(faults, ((one.id, one) for one in readable))


def _check_terms(faults: FaultLog, reaction: Reaction) -> bool:
    """Whether an equation has two sides, of coefficients and ids, each id once."""
    if len(reaction.sides) != 2:
        faults.add("equation", repr(reaction.equation), "reagents -> products, in substance ids")
        return False
    before = len(faults)
    seen: set[str] = set()
    for term in (term for side in reaction.sides for term in side):
        _, name = reaction.read_term(term)
        if not name:
            faults.add("equation", repr(term), "a coefficient and a substance id")
        elif name in seen:
            faults.add("equation", f"{name!r} twice", "each substance once in an equation")
        seen.add(name)
    return len(faults) == before


def _check_places(faults: FaultLog, reaction: Reaction) -> None:
    """The product stands on the right of the equation, the reagents of later sessions on the left."""
    places = [("product", "right", reaction.product), *(("sessions", "left", name) for name in reaction.sessions)]
    for key, side, name in places:
        nu = reaction.coefficients.get(name)
        if nu is None:
            faults.add(key, repr(name), "a substance of the equation")
        elif (nu > 0) != (side == "right"):
            faults.add(key, repr(name), f"a substance on the {side} of the equation")


def _check_balance(faults: FaultLog, reaction: Reaction, substances: Mapping[str, Substance]) -> None:
    terms = [(nu, substances[name].formula) for name, nu in reaction.coefficients.items()]
    left = tuple(Term(-nu, formula) for nu, formula in terms if nu < 0)
    right = tuple(Term(nu, formula) for nu, formula in terms if nu > 0)
    try:
        check_balanced(Equation(left, right))
    except UnbalancedError as error:
        faults.add("equation", str(error), "a balanced equation")


def _glassware(faults: FaultLog, glassware: Sequence[Glassware]) -> dict[str, Glassware]:
    for one in glassware:
        if not 0 < one.step.value <= one.capacity.value:
            expected = f"a step above 0 and within the capacity, {one.capacity.text} {one.unit}"
            faults.add(f"{one.id}.step", one.step.text, expected)
    return _unique(faults, ((one.id, one) for one in glassware))


def _hazards(faults: FaultLog, document: HazardsDocument, substances: _Substances) -> dict[str, Hazard]:
    sentences = _unique(faults, ((one.code, one) for one in document.statement))
    for one in document.hazard:
        substances.refer(faults, f"{one.of}.of", one.of)
        for code in dict.fromkeys(one.all_codes):
            if code not in sentences:
                faults.unknown(f"{one.of}.codes", code, sentences, "the code of a [[statement]]")
        limits = [solution.least.value for solution in one.in_water]
        if limits != sorted(limits, reverse=True):
            faults.add(f"{one.of}.in_water", ", ".join(s.least.text for s in one.in_water), "the strongest first")
    return _unique(faults, ((one.of, one) for one in document.hazard))


def _check_warned(faults: FaultLog, banks: Banks) -> None:
    """Everything that a student handles has an entry of hazards, if only an empty one."""
    handled = [r for r in banks.reactions.values() if r.purpose == "laboratory"]
    reagents = {name for one in handled for name, nu in one.coefficients.items() if nu < 0}
    for name in (reagents | {name for one in handled for name in one.auxiliaries}) - set(banks.hazards):
        faults.add(name, "nothing", "an entry for every reagent of the laboratory")


def _water_vapour(faults: FaultLog, rows: Sequence[VapourPressure]) -> dict[int, Written]:
    """The vapour pressure of water in kPa by °C: whole degrees without a gap, rising."""
    for before, row in pairwise(rows):
        key = f"{row.celsius} °C"
        if row.celsius != before.celsius + 1:
            faults.add(key, str(row.celsius), f"{before.celsius + 1}, the next")
        if row.kilopascals.value <= before.kilopascals.value:
            faults.add(key, row.kilopascals.text, f"more than at {before.celsius} °C: {before.kilopascals.text}")
    return {row.celsius: row.kilopascals for row in rows}
