"""Problems with fixed numbers from a JSON file.

The file is a list of objects with `id`, `kind`, `equation` (or null), `given` and `asked`: lists of
`{of, formula, quantity, value | answer, unit, role?}`. Numbers are text, so that their figures survive.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.equation import balance, check_balanced, read_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.chemistry.units import read_unit
from problemgen.errors import DimensionError, Fault, FaultsError, ProblemgenError, UnderivableError
from problemgen.load.analyses import FORMULAS, formula_problem
from problemgen.load.content_roles import DEFAULT_SOLVENT, content_placed, solvent_of, traced
from problemgen.load.problem_documents import EntryDocument, ProblemDocument, datum_of, measured, unit_of
from problemgen.load.roles import placed
from problemgen.load.rows import Entry, Row
from problemgen.model.fixed import ATOMS, Datum, FixedProblem, Question, Ranking
from problemgen.model.problem import Asked, Constant, Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role

__all__ = ["load_fixed_problems"]


_FILE = TypeAdapter(tuple[ProblemDocument, ...])

_RANKINGS = {
    "greatest": True,
    "most": True,
    "largest": True,
    "least": False,
    "fewest": False,
    "smallest": False,
}
_PARTICLES = ("molecules", "particles", "formula_units", "ions", "moles", ATOMS)


def load_fixed_problems(path: Path, weights: Mapping[str, Constant]) -> tuple[FixedProblem, ...]:
    """The problems of a file. One that cannot be expressed keeps the reason in `error`.

    Raises:
        FaultsError: for a file that cannot be read or has another shape: all faults at once.
    """
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        found = (error.strerror or "unreadable").lower()
        raise FaultsError([Fault(str(path), "", found, "a readable JSON file")]) from None
    except ValueError as error:
        raise FaultsError([Fault(str(path), "", f"a slip in the notation: {error}", "valid JSON")]) from None
    try:
        documents = _FILE.validate_python(data)
    except ValidationError as error:
        faults = [
            Fault(str(path), ".".join(map(str, one["loc"])), repr(one["input"])[:60], one["msg"])
            for one in error.errors()
        ]
        raise FaultsError(faults) from None
    return tuple(_problem(document, weights) for document in documents)


def _problem(document: ProblemDocument, weights: Mapping[str, Constant]) -> FixedProblem:
    try:
        return _expressed(document, weights)
    except ProblemgenError as error:
        questions = tuple(Question(a.quantity, a.of, a.unit, "", a.answer) for a in document.asked)
        return FixedProblem(document.id, document.kind, None, {}, questions, str(error), document.erratum_suspected)


def _expressed(document: ProblemDocument, weights: Mapping[str, Constant]) -> FixedProblem:
    reader = _reader(document)
    _check_weights(reader.species, weights)
    if any(entry.quantity in FORMULAS for entry in document.asked):
        return formula_problem(document, reader.species, weights)
    document = traced(measured(document))
    reader = _reader(document)
    given: dict[Quantity, Datum] = {}
    for entry in document.given:
        quantity = reader.quantity(entry, asked=False)
        if quantity in given:
            raise UnderivableError(f"{quantity.id} is given twice; a role has to tell the two apart")
        if quantity is not None:
            given[quantity] = datum_of(quantity, entry)
    questions = tuple(
        Question(entry.quantity, entry.of, entry.unit, reader.target(entry), entry.answer) for entry in document.asked
    )
    product = next((q.target.quantity.of for q in questions if isinstance(q.target, Asked)), "")
    scene = Scene(
        reader.species,
        frozenset(given),
        weights,
        product=product if product in reader.species else "",
        solvent=reader.solvent,
    )
    return FixedProblem(document.id, document.kind, scene, given, questions, None, document.erratum_suspected)


def _species(document: ProblemDocument) -> dict[str, Species]:
    """The species by id: canonical formula where there is one, else the name. Those of the equation come first."""
    species: dict[str, Species] = {}
    text = document.equation or _from_atoms(document)
    if text:
        equation = read_equation(text)
        check_balanced(equation)
        for sign, side in ((-1, equation.left), (1, equation.right)):
            for term in side:
                name = term.formula.text
                species[name] = Species(name, name, term.formula, sign * term.coefficient)
    for entry in (*document.given, *document.asked):
        formula = _formula(entry)
        name = formula.text if formula else (entry.of or "")
        if name and name not in species:
            species[name] = Species(name, entry.of or name, formula, stands_for=_anhydrous(formula, species))
        elif name and entry.of and species[name].name == name:
            species[name] = replace(species[name], name=entry.of)
    return species


def _check_weights(species: Mapping[str, Species], weights: Mapping[str, Constant]) -> None:
    """Raise UnderivableError for elements without an atomic weight."""
    used = {symbol for one in species.values() if one.formula for symbol in one.formula.composition}
    missing = sorted(used - weights.keys())
    if missing:
        raise UnderivableError(f"banks/elements.toml has no atomic weight of {', '.join(missing)}")


def _anhydrous(formula: Formula | None, species: Mapping[str, Species]) -> str:
    """The species of the equation in whose place a hydrate is weighed; "" where there is none."""
    name = formula.text.rpartition(".")[0] if formula is not None and formula.waters else ""
    return name if name in species and species[name].coefficient else ""


def _formula(entry: EntryDocument) -> Formula | None:
    return read_formula(entry.formula) if entry.formula else None


def _role(entry: EntryDocument) -> Role:
    """The role that a line names. Raises UnderivableError for one that no law knows."""
    try:
        return Role(entry.role or "")
    except ValueError:
        raise UnderivableError(f"no law knows the role {entry.role!r}") from None


def _from_atoms(document: ProblemDocument) -> str:
    """The equation that makes whole molecules from counted atoms; "" for other problems."""
    counted = [entry for entry in document.given if entry.quantity == "count" and entry.formula]
    made = [entry for entry in document.asked if entry.quantity == "count" and entry.formula]
    if document.equation or len(counted) < 2 or len(made) != 1 or len(counted) != len(document.given):
        return ""
    left = " + ".join(entry.formula or "" for entry in counted)
    return balance(read_equation(f"{left} -> {made[0].formula}")).text


def _reader(document: ProblemDocument) -> _Reader:
    """The reader of a problem; the solvent that a problem leaves unsaid is among its species."""
    species = _species(document)
    solvent = solvent_of(_Reader(species, document).row())
    if solvent == DEFAULT_SOLVENT and solvent not in species:
        species[solvent] = Species(solvent, "water", read_formula(solvent))
    return _Reader(species, document, solvent)


@dataclass(frozen=True)
class _Reader:
    """Turns the lines of one problem into quantities of its species."""

    species: Mapping[str, Species]
    document: ProblemDocument
    solvent: str = ""

    def entry(self, document: EntryDocument, *, asked: bool) -> Entry:
        """A line with its species' id."""
        formula = _formula(document)
        name = formula.text if formula else (document.of or "")
        return Entry(name, document.quantity, _role(document), asked, document.formula is not None)

    def row(self) -> Row:
        """All lines of the problem."""
        given: Iterable[Entry] = (self.entry(e, asked=False) for e in self.document.given)
        asked: Iterable[Entry] = (self.entry(e, asked=True) for e in self.document.asked)
        return Row(self.species, (*given, *asked))

    def quantity(self, document: EntryDocument, *, asked: bool) -> Quantity | None:
        """The quantity that a line is about; None for a line that only names a formula."""
        if document.quantity in ("molecular_formula", "unbalanced_equation", "solvent_formula"):
            return None
        entry, row = self.entry(document, asked=asked), self.row()
        return content_placed(entry, row, self.solvent) or placed(entry, row)

    def target(self, document: EntryDocument) -> Asked | Ranking | str:
        """What an asked line asks for."""
        name = document.quantity
        if name == "balanced_equation":
            return self._unbalanced()
        if name == "limiting_reactant":
            return Asked(Quantity("extent", ""), "mol", form="species")
        first, _, rest = name.partition("_")
        element = rest.removeprefix("mass_of_")
        if first in _RANKINGS and (element in ELEMENTS or rest in _PARTICLES):
            return Ranking(_RANKINGS[first], element if element in ELEMENTS or rest == ATOMS else "")
        quantity = self.quantity(document, asked=True)
        if quantity is None:
            raise UnderivableError(f"no law leads to the quantity {name!r}")
        unit = unit_of("molar_mass" if name == "element_mass_contribution" else quantity.kind, document.unit)
        if read_unit(unit).dimension != KINDS[quantity.kind].dimension:
            expected = KINDS[quantity.kind].unit
            raise DimensionError(f"{quantity.id}: {unit} is no unit of {quantity.kind} (such as {expected})")
        return Asked(quantity, unit)

    def _unbalanced(self) -> str:
        for entry in self.document.given:
            if entry.quantity == "unbalanced_equation" and entry.value:
                return entry.value
        raise UnderivableError("no unbalanced equation is given")
