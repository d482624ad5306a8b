"""The banks: files into records, with every relation between them checked."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from problemgen.chemistry.equation import Equation, Term, check_balanced
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import Fault, FaultsError, FormulaError, UnbalancedError
from problemgen.exact.digits import Written
from problemgen.exact.rounding import round_to_place
from problemgen.load.bank_documents import (
    BottlesDocument,
    ElementsDocument,
    GlasswareDocument,
    HazardsDocument,
    MeasuredDocument,
    ReactionDocument,
    ReactionsDocument,
    SubstanceDocument,
    SubstancesDocument,
    WaterVapourDocument,
)
from problemgen.load.documents import Document, read_document
from problemgen.load.fault_log import nearest
from problemgen.model.banks import Banks, Bottle, Glassware, Hazard, Measured, Reaction, Substance
from problemgen.model.problem import Constant
from problemgen.model.quantity import Quantity

__all__ = ["load_banks", "load_weights"]

D = TypeVar("D", bound=Document)
T = TypeVar("T")

_CAS = re.compile(r"([0-9]{2,7})-([0-9]{2})-([0-9])")
_TERM = re.compile(r"(?:([1-9][0-9]*)\s+)?([a-z0-9.-]+)")


class _Faults(list[Fault]):
    """The faults found so far, in a file at a time.

    `spoiled` are the substances whose own entries are faulty, None where their file cannot be read: what refers to
    them is no further fault.
    """

    spoiled: set[str] | None

    def __init__(self) -> None:
        """No fault yet."""
        super().__init__()
        self.spoiled = set()

    def lacks(self, name: str, substances: Mapping[str, Substance]) -> bool:
        """Whether a substance is not there, and no fault of its own explains that."""
        return self.spoiled is not None and name not in substances and name not in self.spoiled

    def read(self, path: Path, shape: type[D]) -> D | None:
        """A bank file; its faults are kept and None is returned where it cannot be read."""
        try:
            return read_document(path, shape, f"banks/{path.name}")
        except FaultsError as error:
            self.extend(error.faults)
            return None

    def unique(self, file: str, things: Iterable[tuple[str, T]]) -> dict[str, T]:
        """The things by key; a key that stands twice is a fault."""
        found: dict[str, T] = {}
        for key, thing in things:
            if key in found:
                self.append(Fault(f"banks/{file}", key, "the same id twice", "an id of its own for each entry"))
            found[key] = thing
        return found


def load_weights(folder: Path) -> tuple[Mapping[str, Constant], str]:
    """The atomic weights by symbol (g/mol), and the name of their edition. Raises FaultsError."""
    document = read_document(folder / "elements.toml", ElementsDocument, "banks/elements.toml")
    return _weights(document), document.about.edition


def _weights(document: ElementsDocument) -> dict[str, Constant]:
    weights = {}
    for element in document.element:
        tables = [element.weight.value, *(earlier.value for earlier in element.earlier)]
        usual = [*tables, *(round_to_place(value, -2) for value in tables)]
        quantity = Quantity("atomic_weight", element.symbol)
        weights[element.symbol] = Constant(quantity, element.weight.value, min(usual), max(usual))
    return weights


def load_banks(folder: Path) -> Banks:
    """All banks of a folder.

    Raises:
        FaultsError: all faults of all files at once: notation, keys that stand twice, formulas, CAS check digits,
            neat liquids without a density, hydrates that are not the anhydrous substance and water, equations that do
            not balance, products that are none, laboratory reagents without a hazard entry, vapour pressures that do
            not rise, references to what is not there.
    """
    faults = _Faults()
    elements = faults.read(folder / "elements.toml", ElementsDocument)
    weights = _weights(elements) if elements else {}
    substances = _substances(faults, faults.read(folder / "substances.toml", SubstancesDocument), weights)
    bottles = _bottles(faults, faults.read(folder / "bottles.toml", BottlesDocument), substances)
    reactions = _reactions(faults, faults.read(folder / "reactions.toml", ReactionsDocument), substances)
    glassware = _glassware(faults, faults.read(folder / "glassware.toml", GlasswareDocument))
    hazards = _hazards(faults, faults.read(folder / "hazards.toml", HazardsDocument), substances)
    water_vapour = _water_vapour(faults, faults.read(folder / "water_vapour.toml", WaterVapourDocument))
    _warned(faults, reactions, hazards)
    if faults or elements is None:
        raise FaultsError(faults)
    return Banks(
        weights=weights,
        edition=elements.about.edition,
        substances=substances,
        bottles=bottles,
        reactions=reactions,
        glassware=glassware,
        hazards=hazards,
        water_vapour=water_vapour,
    )


def _measured(document: MeasuredDocument) -> Measured:
    return Measured(document.value, document.unit, document.at, document.source)


def _substances(
    faults: _Faults, document: SubstancesDocument | None, weights: Mapping[str, Constant]
) -> dict[str, Substance]:
    if document is None:
        faults.spoiled = None
        return {}
    spoiled: set[str] = set()
    faults.spoiled = spoiled
    found = []
    for one in document.substance:
        formula = _formula(faults, one)
        if one.cas is not None and not _right_cas(one.cas):
            expected = "a CAS number whose check digit fits"
            faults.append(Fault("banks/substances.toml", f"{one.id}.cas", repr(one.cas), expected))
        if one.state == "liquid" and one.density is None:
            expected = "a density for every neat liquid"
            faults.append(Fault("banks/substances.toml", f"{one.id}.density", "nothing", expected))
        if formula is not None:
            _check_weights(faults, one.id, formula, weights)
            found.append((one.id, _substance(one, formula)))
        else:
            spoiled.add(one.id)
    substances = faults.unique("substances.toml", found)
    for substance in substances.values():
        if substance.hydrate_of is not None:
            _refer(faults, "substances.toml", f"{substance.id}.hydrate_of", substance.hydrate_of, substances)
            _check_hydrate(faults, substance, substances.get(substance.hydrate_of))
    return substances


def _check_hydrate(faults: _Faults, hydrate: Substance, dry: Substance | None) -> None:
    """A hydrate's atoms are those of the anhydrous substance and of the water written behind the dot."""
    if dry is None:
        return
    expected = Counter(dry.formula.composition)
    expected.update({"H": 2 * hydrate.formula.waters, "O": hydrate.formula.waters})
    if not hydrate.formula.waters or dry.formula.waters or expected != hydrate.formula.composition:
        key, found = f"{hydrate.id}.hydrate_of", f"{hydrate.formula.text} of {dry.formula.text}"
        faults.append(Fault("banks/substances.toml", key, found, "the anhydrous substance, and water behind a dot"))


def _formula(faults: _Faults, one: SubstanceDocument) -> Formula | None:
    try:
        return read_formula(one.formula)
    except FormulaError as error:
        faults.append(Fault("banks/substances.toml", f"{one.id}.formula", str(error), "a chemical formula"))
        return None


def _check_weights(faults: _Faults, name: str, formula: Formula, weights: Mapping[str, Constant]) -> None:
    missing = sorted(formula.composition.keys() - weights.keys()) if weights else []
    if missing:
        expected = "elements with an atomic weight in banks/elements.toml"
        faults.append(Fault("banks/substances.toml", f"{name}.formula", ", ".join(missing), expected))


def _substance(one: SubstanceDocument, formula: Formula) -> Substance:
    density = _measured(one.density) if one.density else None
    return Substance(one.id, one.name, one.synonyms, formula, one.smiles, one.cas, one.state, density, one.hydrate_of)


def _right_cas(text: str) -> bool:
    """Whether a CAS Registry Number's check digit fits: the digits before it, weighted 1, 2, 3 … from the right."""
    match = _CAS.fullmatch(text)
    if match is None:
        return False
    digits = reversed(match[1] + match[2])
    return sum(place * int(digit) for place, digit in enumerate(digits, start=1)) % 10 == int(match[3])


def _bottles(
    faults: _Faults, document: BottlesDocument | None, substances: Mapping[str, Substance]
) -> dict[str, Bottle]:
    found = []
    for one in document.bottle if document else ():
        _refer(faults, "bottles.toml", f"{one.id}.of", one.of, substances)
        concentration = _measured(one.concentration) if one.concentration else None
        bottle = Bottle(one.id, one.name, one.of, one.mass_percent, _measured(one.density), concentration)
        found.append((one.id, bottle))
    return faults.unique("bottles.toml", found)


def _reactions(
    faults: _Faults, document: ReactionsDocument | None, substances: Mapping[str, Substance]
) -> dict[str, Reaction]:
    found = []
    for one in document.reaction if document else ():
        coefficients = _coefficients(faults, one, substances)
        if coefficients is not None:
            found.append((one.id, _reaction(one, coefficients)))
    return faults.unique("reactions.toml", found)


def _reaction(one: ReactionDocument, coefficients: Mapping[str, int]) -> Reaction:
    return Reaction(
        id=one.id,
        name=one.name,
        coefficients=coefficients,
        product=one.product,
        kind=one.kind,
        purpose=one.purpose,
        above=one.above,
        below=one.below,
        yield_percent=one.yield_percent,
        flasks=tuple(sorted(one.flasks, key=lambda flask: flask.value)),
        sessions=dict(one.sessions),
        source=one.source,
    )


def _coefficients(faults: _Faults, one: ReactionDocument, substances: Mapping[str, Substance]) -> dict[str, int] | None:
    """The signed coefficients of an equation in substance ids; None, with the faults kept, where it has any."""
    file, key = "banks/reactions.toml", f"{one.id}.equation"
    sides = one.equation.split("->")
    if len(sides) != 2:
        faults.append(Fault(file, key, repr(one.equation), "reagents -> products, in substance ids"))
        return None
    before = len(faults)
    coefficients: dict[str, int] = {}
    for sign, side in zip((-1, 1), sides, strict=True):
        _add_side(faults, key, sign, side, coefficients)
    for name in coefficients:
        _refer(faults, "reactions.toml", key, name, substances)
    _check_roles(faults, one, coefficients)
    if len(faults) > before or not coefficients.keys() <= substances.keys():
        return None
    try:
        check_balanced(_equation(coefficients, substances))
    except UnbalancedError as error:
        faults.append(Fault(file, key, str(error), "a balanced equation"))
        return None
    return coefficients


def _check_roles(faults: _Faults, one: ReactionDocument, coefficients: Mapping[str, int]) -> None:
    """The product stands on the right of the equation, the reagents of later sessions on the left."""
    for role, names, sign in (("product", [one.product], 1), ("sessions", list(one.sessions), -1)):
        for name in names:
            key, side = f"{one.id}.{role}", "right" if sign > 0 else "left"
            if name not in coefficients:
                faults.append(Fault("banks/reactions.toml", key, repr(name), "a substance of the equation"))
            elif coefficients[name] * sign < 0:
                expected = f"a substance on the {side} of the equation"
                faults.append(Fault("banks/reactions.toml", key, repr(name), expected))


def _add_side(faults: _Faults, key: str, sign: int, side: str, coefficients: dict[str, int]) -> None:
    """Read one side of an equation into the coefficients."""
    file = "banks/reactions.toml"
    for term in side.split(" + "):
        match = _TERM.fullmatch(term.strip())
        if match is None:
            faults.append(Fault(file, key, repr(term.strip()), "a coefficient and a substance id"))
            continue
        if match[2] in coefficients:
            faults.append(Fault(file, key, f"{match[2]!r} twice", "each substance once in an equation"))
        coefficients[match[2]] = sign * int(match[1] or 1)


def _equation(coefficients: Mapping[str, int], substances: Mapping[str, Substance]) -> Equation:
    left = tuple(Term(-nu, substances[name].formula) for name, nu in coefficients.items() if nu < 0)
    right = tuple(Term(nu, substances[name].formula) for name, nu in coefficients.items() if nu > 0)
    return Equation(left, right)


def _glassware(faults: _Faults, document: GlasswareDocument | None) -> dict[str, Glassware]:
    ones = document.glassware if document else ()
    for one in ones:
        if not 0 < one.step.value <= one.capacity.value:
            expected = f"a step above 0 and within the capacity, {one.capacity.text} {one.unit}"
            faults.append(Fault("banks/glassware.toml", f"{one.id}.step", one.step.text, expected))
    return faults.unique(
        "glassware.toml",
        [(one.id, Glassware(one.id, one.name, one.kind, one.capacity, one.unit, one.step)) for one in ones],
    )


def _hazards(
    faults: _Faults, document: HazardsDocument | None, substances: Mapping[str, Substance]
) -> dict[str, Hazard]:
    ones = document.hazard if document else ()
    for one in ones:
        _refer(faults, "hazards.toml", f"{one.of}.of", one.of, substances)
    return faults.unique(
        "hazards.toml",
        [(one.of, Hazard(one.of, one.pictograms, one.signal, one.statements, one.source)) for one in ones],
    )


def _warned(faults: _Faults, reactions: Mapping[str, Reaction], hazards: Mapping[str, Hazard]) -> None:
    """Whether every reagent that a student handles has an entry of hazards, if only an empty one."""
    handled = [r for r in reactions.values() if r.purpose == "laboratory"]
    for name in {name for one in handled for name, nu in one.coefficients.items() if nu < 0} - set(hazards):
        faults.append(Fault("banks/hazards.toml", name, "nothing", "an entry for every reagent of the laboratory"))


def _water_vapour(faults: _Faults, document: WaterVapourDocument | None) -> dict[int, Written]:
    """The vapour pressure of water in kPa by °C: whole degrees without a gap, rising."""
    rows = document.pressure if document else ()
    for before, row in pairwise(rows):
        key = f"{row.celsius} °C"
        if row.celsius != before.celsius + 1:
            faults.append(Fault("banks/water_vapour.toml", key, str(row.celsius), f"{before.celsius + 1}, the next"))
        if row.kilopascals.value <= before.kilopascals.value:
            expected = f"more than at {before.celsius} °C: {before.kilopascals.text}"
            faults.append(Fault("banks/water_vapour.toml", key, row.kilopascals.text, expected))
    return {row.celsius: row.kilopascals for row in rows}


def _refer(faults: _Faults, file: str, key: str, name: str, substances: Mapping[str, Substance]) -> None:
    if faults.lacks(name, substances):
        hint = nearest(name, substances)
        faults.append(Fault(f"banks/{file}", key, repr(name), "the id of a substance in banks/substances.toml", hint))
