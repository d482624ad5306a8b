"""The banks: files as records, with every relation between them checked."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import pairwise
from pathlib import Path

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.equation import Equation, Term, check_balanced
from problemgen.chemistry.formula import Formula
from problemgen.errors import FormulaError, UnbalancedError
from problemgen.exact.digits import Written
from problemgen.load.banks.documents import (
    BottlesDocument,
    ElementsDocument,
    GlasswareDocument,
    HazardsDocument,
    NamesDocument,
    ReactionsDocument,
    SubstancesDocument,
    WaterVapourDocument,
)
from problemgen.load.banks.files import NAMES, BankFiles, Entry, records_of
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Banks, Bottle, Glassware, Names, Reaction, Substance, VapourPressure
from problemgen.model.hazards import Hazard
from problemgen.model.problem import Constant

__all__ = ["load_banks", "load_weights"]

_CAS = re.compile(r"([0-9]{2,7})-([0-9]{2})-([0-9])")


def load_weights(folder: Path) -> tuple[Mapping[str, Constant], str]:
    """The atomic weights by symbol (g/mol), and the name of their edition. Raises FaultsError."""
    document = read_document(folder / "elements.toml", ElementsDocument)
    return _weights(document), _edition(document)


def _weights(document: ElementsDocument) -> dict[str, Constant]:
    return {element.symbol: element.constant for element in document.element}


def _edition(document: ElementsDocument) -> str:
    return document.about.edition if document.about is not None else ""


def load_banks(folder: Path, own: Path | None = None) -> Banks:
    """All banks of a folder, and over them those of a course's folder: its entries stand for ours of the same id.

    Raises:
        FaultsError: all faults of all files at once: notation, keys that stand twice in a file, formulas, CAS check
            digits, neat liquids without a density, hydrates that are not the anhydrous substance and water, bottles
            without a strength, equations that do not balance, products that are none, laboratory reagents of ours
            without a hazard entry, vapour pressures that do not rise, references to what is not there, citations of no
            source.
    """
    faults = FaultLog(str(folder))
    files = BankFiles(faults, folder, own)
    elements = files.read("elements", ElementsDocument)
    weights = {symbol: weight for _, _, one in elements for symbol, weight in _weights(one).items()}
    documents = files.read("substances", SubstancesDocument)
    given = files.entries(documents, lambda one: one.substance, lambda one: one.id)
    substances = _Substances(given, weights, is_read=bool(documents))
    bottles = files.entries(files.read("bottles", BottlesDocument), lambda one: one.bottle, lambda one: one.id)
    listed = files.entries(files.read("reactions", ReactionsDocument), lambda one: one.reaction, lambda one: one.id)
    glassware = files.entries(files.read("glassware", GlasswareDocument), lambda one: one.glassware, lambda one: one.id)
    labels = files.read("hazards", HazardsDocument)
    statements = files.entries(labels, lambda one: one.statement, lambda one: one.code)
    hazards = files.entries(labels, lambda one: one.hazard, lambda one: one.of)
    water_vapour = files.read("water_vapour", WaterVapourDocument)
    _check_bottles(bottles, substances)
    _check_glassware(glassware)
    _check_hazards(hazards, statements, substances)
    reactions = _readable(listed, substances)
    if labels:
        _check_warned(labels[0][0], reactions, hazards)
    banks = Banks(
        weights=weights,
        edition=_edition(elements[0][2]) if elements else "",
        substances=records_of(substances.entries),
        bottles=records_of(bottles),
        reactions=records_of(reactions),
        glassware=records_of(glassware),
        hazards=records_of(hazards),
        hazard_statements={code: entry.record.text for code, entry in statements.items()},
        water_vapour={c: kpa for log, _, one in water_vapour for c, kpa in _water_vapour(log, one.pressure).items()},
        sources=files.sources,
        names=_names(
            files,
            {
                "substances": substances.entries,
                "elements": ELEMENTS,
                "glassware": glassware,
                "bottles": bottles,
                "statements": statements,
            },
        ),
        replaced=tuple(files.replaced),
    )
    faults.stop()
    return banks


def _names(files: BankFiles, entries: Mapping[str, Collection[str]]) -> dict[str, Names]:
    """What the entries, by bank, are called in each language: a course's names go before ours."""
    found: dict[str, Names] = {}
    for language in files.languages():
        told: dict[str, dict[str, str]] = {bank: {} for bank in entries}
        for log, _, document in files.read(f"{NAMES}/{language}", NamesDocument):
            for bank, names in told.items():
                here: Mapping[str, str] = getattr(document, bank)
                for name in here.keys() - set(entries[bank]):
                    known = entries[bank]
                    expected = (
                        "the symbol of an element" if known is ELEMENTS else f"the id of an entry of banks/{bank}.toml"
                    )
                    log.at(bank).unknown(name, name, known, expected)
                names |= here
        found[language] = Names(**told)
    return found


class _Substances:
    """The substances, checked, and the references of other entries to them."""

    def __init__(
        self, entries: Mapping[str, Entry[Substance]], weights: Mapping[str, Constant], *, is_read: bool
    ) -> None:
        """Check each; where not all could be read, nothing that refers to a substance is a fault."""
        self._is_read = is_read
        self._readable: set[str] = set()
        self.entries = entries
        for one in entries.values():
            self._check_alone(one.faults, one.record, weights)
        for one in entries.values():
            self._check_hydrate(one.faults, one.record)

    def refer(self, faults: FaultLog, key: str, name: str) -> None:
        """Keep a fault where a name is no substance's."""
        if self._is_read and name not in self.entries:
            faults.unknown(key, name, self.entries, "the id of a substance in banks/substances.toml")

    def have_formulas(self, names: Iterable[str]) -> bool:
        """Whether all of these are substances whose formulas can be read."""
        return self._readable.issuperset(names)

    def formula(self, name: str) -> Formula:
        """The formula of a substance."""
        return self.entries[name].record.formula

    def _check_alone(self, faults: FaultLog, one: Substance, weights: Mapping[str, Constant]) -> None:
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

    def _check_hydrate(self, faults: FaultLog, hydrate: Substance) -> None:
        """A hydrate's atoms are those of the anhydrous substance and of the water written behind the dot."""
        name = hydrate.hydrate_of
        if name is None:
            return
        self.refer(faults, "hydrate_of", name)
        if not self.have_formulas((hydrate.id, name)):
            return
        dry, waters = self.formula(name), hydrate.formula.crystal_water
        expected = Counter(dry.composition)
        expected.update({"H": 2 * waters, "O": waters})
        if not waters or dry.crystal_water or expected != hydrate.formula.composition:
            found = f"{hydrate.formula.text} of {dry.text}"
            faults.add("hydrate_of", found, "the anhydrous substance, and water behind a dot")


def _right_cas(text: str) -> bool:
    """Whether a CAS Registry Number's check digit fits: the digits before it, weighted 1, 2, 3 … from the right."""
    match = _CAS.fullmatch(text)
    if match is None:
        return False
    digits = reversed(match[1] + match[2])
    return sum(place * int(digit) for place, digit in enumerate(digits, start=1)) % 10 == int(match[3])


def _check_bottles(bottles: Mapping[str, Entry[Bottle]], substances: _Substances) -> None:
    for one in bottles.values():
        bottle, faults = one.record, one.faults
        substances.refer(faults, "of", bottle.of)
        if bottle.solvent is not None:
            substances.refer(faults, "solvent", bottle.solvent)
        if bottle.mass_percent is None and bottle.concentration is None:
            faults.add("", "no strength", "`mass_percent` and `density`, or `concentration`")
        if bottle.mass_percent is not None and bottle.density is None:
            faults.add(
                "density", "nothing", "a density beside `mass_percent`: a volume of the solution is weighed by it"
            )


def _readable(reactions: Mapping[str, Entry[Reaction]], substances: _Substances) -> dict[str, Entry[Reaction]]:
    """The reactions whose equations can be read, by id, checked."""
    readable = {name: one for name, one in reactions.items() if _check_terms(one.faults, one.record)}
    for one in readable.values():
        reaction, faults = one.record, one.faults
        for name in reaction.coefficients:
            substances.refer(faults, "equation", name)
        for name in reaction.auxiliaries:
            substances.refer(faults, "auxiliaries", name)
            if reaction.coefficients.get(name, 0) < 0:
                faults.add("auxiliaries", repr(name), "no reagent of the equation again")
        _check_places(faults, reaction)
        if substances.have_formulas(reaction.coefficients):
            _check_balance(faults, reaction, substances)
    return readable


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


def _check_balance(faults: FaultLog, reaction: Reaction, substances: _Substances) -> None:
    terms = [(nu, substances.formula(name)) for name, nu in reaction.coefficients.items()]
    left = tuple(Term(-nu, formula) for nu, formula in terms if nu < 0)
    right = tuple(Term(nu, formula) for nu, formula in terms if nu > 0)
    try:
        check_balanced(Equation(left, right))
    except UnbalancedError as error:
        faults.add("equation", str(error), "a balanced equation")


def _check_glassware(glassware: Mapping[str, Entry[Glassware]]) -> None:
    for entry in glassware.values():
        one = entry.record
        if not 0 < one.step.value <= one.capacity.value:
            expected = f"a step above 0 and within the capacity, {one.capacity.text} {one.unit}"
            entry.faults.add("step", one.step.text, expected)


def _check_hazards(hazards: Mapping[str, Entry[Hazard]], statements: Collection[str], substances: _Substances) -> None:
    for entry in hazards.values():
        one, faults = entry.record, entry.faults
        substances.refer(faults, "of", one.of)
        for code in dict.fromkeys(one.all_codes):
            if code not in statements:
                faults.unknown("codes", code, statements, "the code of a [[statement]]")
        limits = [solution.least.value for solution in one.in_water]
        if limits != sorted(limits, reverse=True):
            faults.add("in_water", ", ".join(s.least.text for s in one.in_water), "the strongest first")


def _check_warned(faults: FaultLog, reactions: Mapping[str, Entry[Reaction]], hazards: Collection[str]) -> None:
    """Everything that a student handles in a reaction of ours has an entry of hazards, if only an empty one.

    For a course's own, sheets say that nothing is on file.
    """
    handled = [one.record for one in reactions.values() if one.record.purpose == "laboratory" and not one.is_own]
    reagents = {name for one in handled for name, nu in one.coefficients.items() if nu < 0}
    for name in (reagents | {name for one in handled for name in one.auxiliaries}) - set(hazards):
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
