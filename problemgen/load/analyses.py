"""Problems with fixed numbers that ask for a formula: analyses by mass, percent, combustion, or counted atoms."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import UnderivableError
from problemgen.exact.digits import read_written
from problemgen.load.problem_documents import EntryDocument, ProblemDocument, datum_of, unit_of
from problemgen.model.fixed import Datum, FixedProblem, Question
from problemgen.model.problem import Asked, Constant, Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.plan.laws.formulas import COMPOUND

__all__ = ["FORMULAS", "formula_problem"]

FORMULAS = {"empirical_formula": Role.EMPIRICAL, "molecular_formula": Role.MOLECULAR}
"""What is asked, and the role of the formula's mass."""


def formula_problem(
    document: ProblemDocument, species: Mapping[str, Species], weights: Mapping[str, Constant]
) -> FixedProblem:
    """The problem as quantities of its elements and of the unknown compound.

    Raises UnderivableError for a problem that does not tell the compound's elements.
    """
    elements = _elements(document)
    analysis = _Analysis(document, elements)
    answers = {formula.text for entry in document.asked if (formula := _formula(entry))}
    told = {name: one for name, one in species.items() if name not in answers or one.coefficient}
    everything = {**told, **{symbol: Species(symbol, symbol, read_formula(symbol)) for symbol in elements}}
    everything[COMPOUND] = Species(COMPOUND, COMPOUND)
    given = dict(analysis.given())
    scene = Scene(
        species=everything,
        given=frozenset(given),
        weights=weights,
        unknown=elements,
        unknown_rest=_rest(elements, everything, given),
    )
    questions = tuple(
        Question(entry.quantity, entry.of, entry.unit, analysis.target(entry), entry.answer) for entry in document.asked
    )
    return FixedProblem(document.id, document.kind, scene, given, questions, None, document.erratum_suspected)


def _elements(document: ProblemDocument) -> tuple[str, ...]:
    """The elements of the compound: those analysed, then those that the asked formula names beside them."""
    analysed = [f.counts[0][0] for e in document.given if (f := _formula(e)) and len(f.counts) == 1]
    counted = [s for e in document.given if e.quantity == "molecular_formula" for s, _ in _read(e).counts]
    named = [s for e in document.asked if (f := _formula(e)) for s, _ in f.counts]
    elements = tuple(dict.fromkeys(symbol for symbol in (*counted, *analysed, *named) if symbol in named or not named))
    if not elements:
        raise UnderivableError("the elements of the compound are not told")
    return elements


def _formula(entry: EntryDocument) -> Formula | None:
    return read_formula(entry.formula) if entry.formula else None


def _read(entry: EntryDocument) -> Formula:
    return read_formula(entry.value or entry.formula or "")


def _rest(elements: Iterable[str], species: Mapping[str, Species], given: Iterable[Quantity]) -> str:
    """The element that only a difference can tell: it has no data, and no one substance brings it alone."""
    with_data = {quantity.of for quantity in given}
    rest = [e for e in elements if e not in with_data and len(_bearers(e, species)) != 1]
    return rest[0] if len(rest) == 1 else ""


def _bearers(element: str, species: Mapping[str, Species]) -> list[str]:
    """The other substances of the problem, products aside, that contain an element."""
    others = [s for s in species.values() if s.id != element and s.formula is not None and s.coefficient <= 0]
    return [s.id for s in others if s.formula is not None and s.formula.count(element)]


@dataclass(frozen=True)
class _Analysis:
    """The lines of one problem, placed."""

    document: ProblemDocument
    elements: tuple[str, ...]

    def given(self) -> Iterator[tuple[Quantity, Datum]]:
        """The given quantities with their data."""
        for entry in self.document.given:
            if entry.quantity == "molecular_formula":
                yield from self.counted(_read(entry))
            else:
                quantity = self.quantity(entry)
                yield quantity, datum_of(quantity, entry)

    def counted(self, formula: Formula) -> Iterator[tuple[Quantity, Datum]]:
        """The atoms of one molecule, as amounts in one mole of it."""
        for symbol, count in formula.counts:
            yield Quantity("amount", symbol), Datum(read_written(str(count)), "mol")

    def quantity(self, entry: EntryDocument) -> Quantity:
        """The quantity that a line is about."""
        if entry.quantity not in KINDS:
            raise UnderivableError(f"no law leads to the quantity {entry.quantity!r}")
        formula = _formula(entry)
        asked = {e.formula for e in self.document.asked}
        is_whole = entry.quantity == "molar_mass" or formula is None or entry.formula in asked
        if entry.role == Role.SAMPLE:
            return Quantity("mass", "", Role.SAMPLE)
        if is_whole:
            return Quantity(entry.quantity, COMPOUND)
        assert formula is not None
        in_solution = entry.quantity == "volume" and any(
            e.formula == entry.formula and e.quantity == "concentration" for e in self.document.given
        )
        return Quantity(entry.quantity, formula.text, Role.SOLUTION if in_solution else Role.PLAIN)

    def target(self, entry: EntryDocument) -> Asked:
        """What an asked line asks for."""
        if entry.quantity in FORMULAS:
            return Asked(Quantity("molar_mass", COMPOUND, FORMULAS[entry.quantity]), "g/mol", "formula")
        quantity = self.quantity(entry)
        return Asked(quantity, unit_of(quantity.kind, entry.unit))
